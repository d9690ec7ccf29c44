//! How amounts are typed and shown in the shop's currency.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::money::Money;
use super::read::{Form, ReadFault};

const NO_BREAK: char = '\u{a0}';
const MINUS: char = '\u{2212}';

/// A currency by its code, with the decimals its amounts have.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Currency(&'static Listed);

/// A currency as the list has it.
#[derive(Debug, PartialEq, Eq)]
struct Listed {
    code: &'static str,
    decimals: u8,
    symbol: Option<&'static str>,
}

/// A code that is not in the list.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("“{0}” is no currency known here: enter its three letters, such as EUR, USD or JPY")]
pub struct UnknownCurrency(pub String);

const fn listed(code: &'static str, decimals: u8, symbol: &'static str) -> Listed {
    Listed { code, decimals, symbol: if symbol.is_empty() { None } else { Some(symbol) } }
}

/// Codes and decimals ("minor units") as ISO 4217 lists them, the commoner ones; from memory. Symbols: common practice.
static CURRENCIES: [Listed; 36] = [
    listed("AED", 2, ""),
    listed("AUD", 2, "$"),
    listed("BHD", 3, ""),
    listed("BRL", 2, "R$"),
    listed("CAD", 2, "$"),
    listed("CHF", 2, ""),
    listed("CLP", 0, "$"),
    listed("CNY", 2, "¥"),
    listed("CZK", 2, "Kč"),
    listed("DKK", 2, "kr"),
    listed("EUR", 2, "€"),
    listed("GBP", 2, "£"),
    listed("HUF", 2, "Ft"),
    listed("ILS", 2, "₪"),
    listed("INR", 2, "₹"),
    listed("ISK", 0, "kr"),
    listed("JOD", 3, ""),
    listed("JPY", 0, "¥"),
    listed("KRW", 0, "₩"),
    listed("KWD", 3, ""),
    listed("MXN", 2, "$"),
    listed("MYR", 2, "RM"),
    listed("NOK", 2, "kr"),
    listed("NZD", 2, "$"),
    listed("OMR", 3, ""),
    listed("PHP", 2, "₱"),
    listed("PLN", 2, "zł"),
    listed("RON", 2, ""),
    listed("SEK", 2, "kr"),
    listed("SGD", 2, "$"),
    listed("THB", 2, "฿"),
    listed("TND", 3, ""),
    listed("TRY", 2, "₺"),
    listed("USD", 2, "$"),
    listed("VND", 0, "₫"),
    listed("ZAR", 2, "R"),
];

impl Currency {
    /// Every currency known here, by code.
    pub fn all() -> impl Iterator<Item = Self> {
        CURRENCIES.iter().map(Self)
    }

    pub fn from_code(code: &str) -> Result<Self, UnknownCurrency> {
        let known = Self::all().find(|known| known.code().eq_ignore_ascii_case(code.trim()));
        known.ok_or_else(|| UnknownCurrency(code.trim().to_owned()))
    }

    pub fn code(self) -> &'static str {
        self.0.code
    }

    pub fn decimals(self) -> u8 {
        self.0.decimals
    }

    pub fn symbol(self) -> Option<&'static str> {
        self.0.symbol
    }

    /// The amount that `text` says: "1 250.00", "1250,00", "€ 12.50", "12.50 EUR". Never below zero.
    ///
    /// "1,250" is refused: it could be thousands or a fraction, but in a currency of three decimals "1.250" is a
    /// fraction.
    pub fn read(self, text: &str) -> Result<Money, ReadFault> {
        let enter = match self.0.decimals {
            0 => "an amount such as 1250",
            2 => "an amount such as 1250.00",
            _ => "an amount such as 1250.000",
        };
        let form = Form { decimals: self.0.decimals, enter };
        let too_large = |_| ReadFault::TooLarge { text: text.trim().to_owned(), enter };
        form.read(self.without_name(text)).and_then(|minor| Money::from_minor(minor).map_err(too_large))
    }

    /// What stands beside this currency's code or symbol, before it or behind it.
    fn without_name(self, text: &str) -> &str {
        let text = text.trim();
        let is = |part: &str, name: &str| part.eq_ignore_ascii_case(name);
        let bare = |name: &str| {
            let before = text.split_at_checked(name.len()).filter(|(part, _)| is(part, name)).map(|(_, rest)| rest);
            let at = text.len().checked_sub(name.len())?;
            before.or(text.split_at_checked(at).filter(|(_, part)| is(part, name)).map(|(rest, _)| rest))
        };
        [Some(self.0.code), self.0.symbol].into_iter().flatten().find_map(bare).unwrap_or(text)
    }

    /// The number alone, thousands set apart by a no-break space: "1 250.00", "−12.50".
    pub fn show(self, money: Money) -> String {
        let (whole, fraction) = self.parts(money);
        let mut grouped = String::new();
        for (at, figure) in whole.chars().enumerate() {
            if at > 0 && (whole.len() - at).is_multiple_of(3) {
                grouped.push(NO_BREAK);
            }
            grouped.push(figure);
        }
        let sign = if money < Money::ZERO { String::from(MINUS) } else { String::new() };
        format!("{sign}{grouped}{fraction}")
    }

    /// The number with the code, which a no-break space holds to it: "1 250.00 EUR".
    pub fn show_named(self, money: Money) -> String {
        format!("{}{NO_BREAK}{}", self.show(money), self.0.code)
    }

    /// The number as other programs read it: "1250.00", "-12.50".
    pub fn plain(self, money: Money) -> String {
        let (whole, fraction) = self.parts(money);
        let sign = if money < Money::ZERO { "-" } else { "" };
        format!("{sign}{whole}{fraction}")
    }

    /// The smallest coin: "0.01 EUR", "1 JPY".
    pub fn smallest(self) -> String {
        let one = Money::from_minor(1).unwrap_or_default();
        self.show_named(one)
    }

    /// The figures before the decimal mark, and the mark with those behind it.
    fn parts(self, money: Money) -> (String, String) {
        let decimals = usize::from(self.0.decimals);
        let mut whole = format!("{:0>width$}", money.minor().unsigned_abs(), width = decimals + 1);
        let behind = whole.split_off(whole.len() - decimals);
        (whole, if behind.is_empty() { behind } else { format!(".{behind}") })
    }
}

impl TryFrom<String> for Currency {
    type Error = UnknownCurrency;

    fn try_from(code: String) -> Result<Self, UnknownCurrency> {
        Self::from_code(&code)
    }
}

impl From<Currency> for String {
    fn from(currency: Currency) -> Self {
        currency.code().to_owned()
    }
}
