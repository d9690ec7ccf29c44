//! What was done or bought and is not on the list of charges yet, so that nothing is forgotten.

use super::account::{Account, too_large};
use super::doing::Done;
use super::supply::Supply;
use crate::charges::hours::Quarters;
use crate::charges::line::{HowMany, Kind, Price, Priced};
use crate::charges::money::Money;
use crate::charges::percent::Percent;
use crate::charges::quote::{QuoteLineId, Under};
use crate::record::charge_lines::{ChargeLine, LineOf, NewLine};
use crate::record::parts::{Origin, Part, Whose};
use crate::record::sendings::Sending;
use crate::record::worked::{Charged, Worked};
use std::collections::BTreeMap;

/// Something that waits to come on the list.
#[derive(Clone, Debug)]
pub(super) struct Waiting {
    pub of: LineOf,
    pub said: NewLine,
    /// Nobody has said what it costs or is charged at.
    pub unpriced: bool,
}

/// Time worked by step, rate and whether it is charged.
type Together<'a> = BTreeMap<(Option<i64>, Option<Money>, Charged), Vec<&'a Worked>>;

impl Account {
    /// All that waits: labour first, then parts, then work sent out. Nothing while the shop has no rate of tax.
    pub fn waiting(&self) -> Done<Vec<Waiting>> {
        if self.rates.iter().all(|rate| rate.withdrawn) {
            return Ok(Vec::new());
        }
        let mut waiting = self.labour_waiting()?;
        for part in &self.parts {
            waiting.extend(self.part_waiting(part)?);
            waiting.extend(self.core_waiting(part)?);
        }
        for sending in &self.sendings {
            waiting.extend(self.sending_waiting(sending)?);
        }
        Ok(waiting)
    }

    /// Time worked by step, rate and whether it is charged.
    fn labour_waiting(&self) -> Done<Vec<Waiting>> {
        let listed = |worked: &Worked| self.lines.iter().any(|line| line.of.worked.contains(&worked.id));
        let mut together = Together::new();
        for worked in self.worked.iter().filter(|worked| !listed(worked)) {
            let rate = worked.said.rate.or(self.purse.labour_rate);
            together.entry((worked.said.step, rate, worked.said.charged)).or_default().push(worked);
        }
        together
            .into_iter()
            .map(|((step, rate, charged), worked)| {
                let quarters = worked.iter().map(|one| one.said.hours.0).sum();
                let price = Price { each: rate.unwrap_or_default(), mark_up: Percent::ZERO };
                let of = LineOf { worked: worked.iter().map(|one| one.id).collect(), ..LineOf::default() };
                let said = NewLine {
                    kind: Kind::Labour,
                    text: self.step_title(step).unwrap_or_else(|| "Labour".to_owned()),
                    step,
                    how_many: HowMany::try_from(Quarters(quarters)).map_err(too_large)?,
                    unit: "h".to_owned(),
                    priced: match charged {
                        Charged::Charged => Priced::Charged(price),
                        Charged::Warranty => Priced::Warranty(price),
                        Charged::OwnError => Priced::OwnError(price),
                    },
                    tax: self.usual_tax(Kind::Labour)?,
                    under: self.likely_under(step, true),
                };
                Ok(Waiting { of, said, unpriced: rate.is_none() })
            })
            .collect()
    }

    /// As many of a part as are here and not listed.
    fn part_waiting(&self, part: &Part) -> Done<Option<Waiting>> {
        let (counted, _) = self.part_counted(part);
        let listed = self.part_listed(part, Kind::Part);
        let left = counted * 1000 - listed;
        if part.said.origin == Origin::Found || left <= 0 { Ok(None) } else { self.part_line(part, left).map(Some) }
    }

    /// As many of a part as are on order still and not listed: charged only where they cannot go back.
    pub fn part_on_order(&self, part: &Part) -> Done<Option<Waiting>> {
        let (counted, awaited) = self.part_counted(part);
        let listed = self.part_listed(part, Kind::Part);
        let left = awaited * 1000 - (listed - counted * 1000).max(0);
        if part.said.whose == Whose::Customer || left <= 0 { Ok(None) } else { self.part_line(part, left).map(Some) }
    }

    /// The deposits for the old parts in exchange of those that are here, where they are not listed.
    fn core_waiting(&self, part: &Part) -> Done<Option<Waiting>> {
        let left = self.part_counted(part).0 * 1000 - self.part_listed(part, Kind::CoreDeposit);
        let Some(core) = part.said.core.filter(|_| left > 0) else { return Ok(None) };
        let one = self.part_line(part, left)?;
        let each = Money::from_minor(core).map_err(too_large)?;
        let said = NewLine {
            kind: Kind::CoreDeposit,
            priced: Priced::Charged(Price { each, mark_up: Percent::ZERO }),
            tax: self.usual_tax(Kind::CoreDeposit)?,
            under: Under::Nothing,
            ..one.said
        };
        Ok(Some(Waiting { said, unpriced: false, ..one }))
    }

    /// How many of a part are done with, and how many are on order.
    fn part_counted(&self, part: &Part) -> (i64, i64) {
        let replaced = self.parts.iter().any(|other| other.said.replaces == Some(part.id));
        let supply = Supply::of(part, replaced, self.moves.iter());
        let counted = if replaced { supply.fitted } else { supply.here.min(supply.needed) };
        (counted, supply.awaited())
    }

    /// How many thousandths of a part are on the list by lines of a kind.
    fn part_listed(&self, part: &Part, kind: Kind) -> i64 {
        let is_of = |line: &&ChargeLine| line.of.part == Some(part.id) && line.said.kind == kind;
        self.lines.iter().filter(is_of).map(|line| line.said.how_many.thousandths()).sum()
    }

    /// So many thousandths of a part as a line.
    fn part_line(&self, part: &Part, thousandths: i64) -> Done<Waiting> {
        let said = &part.said;
        let (priced, unpriced) = match said.whose {
            Whose::Customer => (Priced::CustomersOwn, false),
            Whose::Shop => self.bought(said.price, said.cost, self.purse.mark_up_parts)?,
        };
        let text = [&*said.maker, &*said.description, &*said.part_number].into_iter().filter(|text| !text.is_empty());
        Ok(Waiting {
            of: LineOf { part: Some(part.id), ..LineOf::default() },
            said: NewLine {
                kind: Kind::Part,
                text: text.collect::<Vec<_>>().join(" "),
                step: said.step,
                how_many: HowMany::from_thousandths(thousandths).map_err(too_large)?,
                unit: "pc".to_owned(),
                priced,
                tax: self.usual_tax(Kind::Part)?,
                under: self.likely_under(said.step, false),
            },
            unpriced,
        })
    }

    /// Work that came back.
    fn sending_waiting(&self, sending: &Sending) -> Done<Option<Waiting>> {
        let said = &sending.said;
        if said.back.is_none() || self.lines.iter().any(|line| line.of.sending == Some(sending.id)) {
            return Ok(None);
        }
        let (priced, unpriced) = self.bought(said.price, said.cost, self.purse.mark_up_sent_out)?;
        Ok(Some(Waiting {
            of: LineOf { sending: Some(sending.id), ..LineOf::default() },
            said: NewLine {
                kind: Kind::SentOut,
                text: said.what.clone(),
                step: said.step,
                how_many: HowMany::ONE,
                unit: "pc".to_owned(),
                priced,
                tax: self.usual_tax(Kind::SentOut)?,
                under: self.likely_under(said.step, false),
            },
            unpriced,
        }))
    }

    /// At the price that was said, or at what it costs with the usual mark-up; whether neither is known.
    fn bought(&self, price: Option<i64>, cost: Option<i64>, mark_up: Percent) -> Done<(Priced, bool)> {
        let (minor, mark_up) = match (price, cost) {
            (Some(price), _) => (price, Percent::ZERO),
            (None, Some(cost)) => (cost, mark_up),
            (None, None) => (0, Percent::ZERO),
        };
        let each = Money::from_minor(minor).map_err(too_large)?;
        Ok((Priced::Charged(Price { each, mark_up }), price.or(cost).is_none()))
    }

    /// The line of the quote that work at a step most likely belongs to: one of the same step, of labour for labour.
    fn likely_under(&self, step: Option<i64>, labour: bool) -> Under {
        let at_step = || self.quote_lines.iter().filter(|line| step.is_some() && line.said.step == step);
        let same = at_step().find(|line| line.said.hours.is_some() == labour).or_else(|| at_step().next());
        same.map_or(Under::Nothing, |line| Under::Quote(QuoteLineId(line.id)))
    }
}
