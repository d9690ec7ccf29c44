//! What the forms of charges offer to choose from.

use super::account::Account;
use crate::charges::discount::On;
use crate::charges::line::Kind;
use crate::record::name_of;

/// What the forms of charges offer: key and word.
#[derive(Clone, Debug)]
pub struct LineChoices {
    pub kinds: Vec<(&'static str, &'static str)>,
    pub steps: Vec<(String, String)>,
    pub taxes: Vec<(String, String)>,
    pub unders: Vec<(String, String)>,
    pub currency: &'static str,
}

impl Account {
    pub(super) fn line_choices(&self) -> LineChoices {
        let none = |word: &str| std::iter::once((String::new(), word.to_owned()));
        let quoted =
            self.quote_lines.iter().map(|line| (format!("quote-{}", line.id), format!("quote: {}", line.said.text)));
        let changes =
            self.changes.iter().map(|one| (format!("change-{}", one.id), format!("change: {}", one.said.text)));
        let rates = self
            .rates
            .iter()
            .filter(|rate| !rate.withdrawn)
            .map(|rate| (rate.tax.key.0.clone(), format!("{} {}", rate.tax.title, rate.tax.rate.percent().show())));
        LineChoices {
            kinds: BY_HAND.map(|kind| (kind.key(), kind.title())).to_vec(),
            steps: none("the job as a whole")
                .chain(self.steps.iter().map(|step| (step.key.clone(), step.title.clone())))
                .collect(),
            taxes: none("as usual for its kind").chain(rates).collect(),
            unders: none("nothing that was asked").chain(quoted).chain(changes).collect(),
            currency: self.purse.currency.code(),
        }
    }
}

/// Kinds of line that can be written by hand: a returned core gives its own deposit back.
const BY_HAND: [Kind; 8] = [
    Kind::Labour,
    Kind::Part,
    Kind::SentOut,
    Kind::CoreDeposit,
    Kind::Supplies,
    Kind::Disposal,
    Kind::Storage,
    Kind::Other,
];

/// The keys that a form of discounts offers.
pub fn given_on() -> Vec<(String, &'static str)> {
    [(On::Everything, "everything"), (On::Labour, "labour"), (On::Parts, "parts")]
        .map(|(on, word)| (name_of(on), word))
        .to_vec()
}
