//! What was promised against what came: each delivery of a supplier, parts and work sent out alike, and how late they come.

use crate::record::deliveries::{Moved, SentAndBack};
use crate::record::part_moves::MoveKind;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// Something that was ordered and came.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Delivery {
    pub supplier: i64,
    pub ordered: Date,
    /// The day named first for it: a later one would hide that it is late.
    pub promised: Option<Date>,
    pub received: Date,
}

/// What was ordered and has not come, of one part.
struct Open {
    quantity: i64,
    ordered: Date,
    promised: Option<Date>,
}

/// Every delivery of every job. Of a part each arrival is one for each order it fills, the oldest order first; what came without
/// an order is none. Work sent out is ordered on the day it went.
pub(super) fn deliveries(moved: &[Moved], sent: &[SentAndBack]) -> Vec<Delivery> {
    let rank = |kind| [MoveKind::Ordered, MoveKind::Promised].iter().position(|known| *known == kind).unwrap_or(2);
    let mut in_turn: Vec<&Moved> = moved.iter().collect();
    in_turn.sort_by_key(|one| (one.day, rank(one.kind), one.id));
    let mut open: BTreeMap<i64, Vec<Open>> = BTreeMap::new();
    let mut found = Vec::new();
    for one in in_turn {
        let orders = open.entry(one.part).or_default();
        match one.kind {
            MoveKind::Ordered => {
                orders.push(Open { quantity: one.quantity, ordered: one.day, promised: one.due });
            }
            MoveKind::Promised => {
                for order in orders.iter_mut() {
                    order.promised = order.promised.or(one.due);
                }
            }
            MoveKind::Received => {
                let mut came = one.quantity;
                while let Some(order) = orders.first_mut().filter(|_| came > 0) {
                    let (ordered, promised) = (order.ordered, order.promised);
                    found.push(Delivery { supplier: one.supplier, ordered, promised, received: one.day });
                    let filled = came.min(order.quantity);
                    came -= filled;
                    order.quantity -= filled;
                    if order.quantity == 0 {
                        orders.remove(0);
                    }
                }
            }
            _ => {}
        }
    }
    let back = |one: &SentAndBack| Delivery {
        supplier: one.supplier,
        ordered: one.sent,
        promised: one.due,
        received: one.back,
    };
    found.extend(sent.iter().map(back));
    found
}

fn days_between(from: Date, to: Date) -> i64 {
    i64::from((to - from).get_days())
}

impl Delivery {
    /// Days after the day promised; below zero before it.
    pub fn late(&self) -> Option<i64> {
        self.promised.map(|promised| days_between(promised, self.received))
    }

    /// Days from order to arrival.
    pub fn took(&self) -> i64 {
        days_between(self.ordered, self.received)
    }
}

/// How many days some deliveries were late, or took.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Days(Vec<i64>);

impl Days {
    /// None where there is no delivery.
    pub fn of(days: impl Iterator<Item = i64>) -> Option<Self> {
        let mut days: Vec<i64> = days.collect();
        days.sort_unstable();
        (!days.is_empty()).then_some(Self(days))
    }

    pub fn all(&self) -> &[i64] {
        &self.0
    }

    /// The fewest days within which so many of ten came: the smallest of them that is not exceeded by more than the rest.
    pub fn within(&self, of_ten: usize) -> i64 {
        let nth = (self.0.len() * of_ten).div_ceil(10).max(1);
        self.0[nth - 1]
    }

    /// "Of 14 deliveries 9 came on the day promised or before; half within 3 days after it, 8 of 10 within 12 days."
    pub fn lateness_in_words(&self) -> String {
        let in_time = self.0.iter().filter(|late| **late <= 0).count();
        let (half, most) = (self.within(5), self.within(8));
        let first = match (self.0.len(), in_time) {
            (1, 1) => return "The one delivery came on the day promised or before.".to_owned(),
            (1, _) => return format!("The one delivery came {} after the day promised.", days(half)),
            (all, in_time) if all == in_time => {
                return format!("All {all} deliveries came on the day promised or before.");
            }
            (all, 0) => format!("Of {all} deliveries none came on the day promised or before"),
            (all, in_time) => format!("Of {all} deliveries {in_time} came on the day promised or before"),
        };
        match (half > 0, most > 0) {
            (true, _) => format!("{first}; half within {} after it, 8 of 10 within {}.", days(half), days(most)),
            (false, true) => format!("{first}; 8 of 10 within {} after it.", days(most)),
            (false, false) => format!("{first}."),
        }
    }

    /// "From order to arrival half took at most 21 days, 8 of 10 at most 35 days."
    pub fn taken_in_words(&self) -> String {
        let (half, most) = (days(self.within(5)), days(self.within(8)));
        match self.0.len() {
            1 => format!("From order to arrival it took {half}."),
            _ => format!("From order to arrival half took at most {half}, 8 of 10 at most {most}."),
        }
    }
}

/// "1 day", "12 days".
pub(super) fn days(count: i64) -> String {
    if count == 1 { "1 day".to_owned() } else { format!("{count} days") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn moved(id: i64, kind: MoveKind, quantity: i64, day: i8, due: Option<i8>) -> Moved {
        let on = |day| date(2026, 5, day);
        Moved { id, part: 1, supplier: 7, kind, quantity, day: on(day), due: due.map(on) }
    }

    fn pairs(moved: &[Moved]) -> Vec<(i64, Option<i64>)> {
        deliveries(moved, &[]).iter().map(|one| (one.took(), one.late())).collect()
    }

    #[test]
    fn an_arrival_fills_the_oldest_order_first() {
        use MoveKind as M;
        let two_orders = [
            moved(1, M::Ordered, 8, 1, Some(10)),
            moved(2, M::Ordered, 4, 3, None),
            moved(3, M::Received, 6, 9, None),
            moved(4, M::Received, 6, 14, None),
        ];
        // Six of eight a day early; the other two four days late; then four ordered on the 3rd, of which nothing was promised.
        assert_eq!(pairs(&two_orders), [(8, Some(-1)), (13, Some(4)), (11, None)]);
    }

    #[test]
    fn the_day_named_first_counts_and_what_came_unordered_does_not() {
        use MoveKind as M;
        let put_off = [
            moved(1, M::Ordered, 1, 1, None),
            moved(2, M::Promised, 1, 2, Some(10)),
            moved(3, M::Promised, 1, 9, Some(20)),
            moved(4, M::Received, 2, 20, None),
        ];
        assert_eq!(pairs(&put_off), [(19, Some(10))]);
        assert_eq!(pairs(&[moved(1, M::Received, 2, 20, None)]), []);
        // Written down afterwards, on the day it came.
        assert_eq!(pairs(&[moved(1, M::Received, 1, 5, None), moved(2, M::Ordered, 1, 5, Some(5))]), [(0, Some(0))]);
    }

    #[test]
    fn work_sent_out_counts_too() {
        let sent = SentAndBack { supplier: 7, sent: date(2026, 5, 1), due: None, back: date(2026, 6, 12) };
        assert_eq!(deliveries(&[], &[sent])[0].took(), 42);
    }

    #[test]
    fn half_and_eight_of_ten_by_hand() {
        let of = |days: &[i64]| Days::of(days.iter().copied()).unwrap();
        // Ten: the fifth and the eighth in order.
        let ten = of(&[12, 0, -2, 3, 5, 1, 0, -1, 30, 4]);
        assert_eq!((ten.within(5), ten.within(8)), (1, 5));
        // Fourteen: ⌈7⌉ = the seventh, ⌈11.2⌉ = the twelfth.
        let fourteen = of(&[-3, -2, -1, 0, 0, 0, 0, 0, 0, 3, 8, 12, 20, 40]);
        assert_eq!((fourteen.within(5), fourteen.within(8)), (0, 12));
        assert_eq!(
            fourteen.lateness_in_words(),
            "Of 14 deliveries 9 came on the day promised or before; 8 of 10 within 12 days after it."
        );
        assert_eq!(of(&[4]).lateness_in_words(), "The one delivery came 4 days after the day promised.");
        assert_eq!(
            of(&[1, 3, 12]).lateness_in_words(),
            "Of 3 deliveries none came on the day promised or before; half within 3 days after it, 8 of 10 within 12 days."
        );
        assert_eq!(of(&[0, -4]).lateness_in_words(), "All 2 deliveries came on the day promised or before.");
        assert_eq!(
            of(&[21, 35, 14]).taken_in_words(),
            "From order to arrival half took at most 21 days, 8 of 10 at most 35 days."
        );
        assert!(Days::of(std::iter::empty()).is_none());
    }
}
