//! How far a part is: what became of it, added up.

use crate::record::awaited::Came;
use crate::record::part_moves::{MoveKind, PartMove};
use crate::record::parts::{Origin, Part, Whose};
use jiff::civil::Date;

/// How far a part is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PartState {
    /// Nobody has ordered all that is needed.
    Wanted,
    /// Ordered, and not all here.
    Awaited,
    /// All that is needed is here.
    Here,
    /// All of it was looked at against its order.
    Inspected,
    Fitted,
    /// Another part has taken its place.
    Replaced,
}

impl PartState {
    pub fn word(self) -> &'static str {
        match self {
            Self::Wanted => "to order",
            Self::Awaited => "on order",
            Self::Here => "here",
            Self::Inspected => "here, inspected",
            Self::Fitted => "fitted",
            Self::Replaced => "replaced",
        }
    }
}

/// What is still to be done for a part that is not here: what a customer brings or the shop makes is not ordered.
pub(super) fn still_to(whose: Whose, origin: Origin) -> &'static str {
    match (whose, origin) {
        (Whose::Customer, _) => "to be brought",
        (Whose::Shop, Origin::Made) => "to be made",
        (Whose::Shop, Origin::Bought | Origin::Found) => PartState::Wanted.word(),
    }
}

/// What became of a part, added up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Supply {
    pub needed: i64,
    /// Whether another part has taken its place.
    pub replaced: bool,
    pub quoted: i64,
    pub ordered: i64,
    pub received: i64,
    /// How many are here and may be used.
    pub here: i64,
    /// How many lie apart: refused, and not yet sent back.
    pub apart: i64,
    pub inspected: i64,
    pub fitted: i64,
    pub first_ordered: Option<Date>,
    pub last_received: Option<Date>,
    /// The day named last, by the order or since.
    pub due: Option<Date>,
}

impl Supply {
    /// Adds up the moves of a part that stand, in order of writing; `replaced` where another part names it as its own
    /// predecessor.
    pub fn of<'a>(part: &Part, replaced: bool, moves: impl Iterator<Item = &'a PartMove>) -> Self {
        let standing = moves.filter(|one| !one.withdrawn && one.said.part == part.id).map(|one| {
            let said = &one.said;
            Came { kind: said.kind, quantity: said.quantity, day: said.day, due: said.due }
        });
        Self { replaced, ..Self::added_up(part.said.quantity, standing) }
    }

    /// Adds up what became of a part of which so many are needed, in order of writing.
    pub(super) fn added_up(needed: i64, moves: impl Iterator<Item = Came>) -> Self {
        let mut supply = Self {
            needed,
            replaced: false,
            quoted: 0,
            ordered: 0,
            received: 0,
            here: 0,
            apart: 0,
            inspected: 0,
            fitted: 0,
            first_ordered: None,
            last_received: None,
            due: None,
        };
        for one in moves {
            supply.add(one.kind, one.quantity, one.day);
            supply.due = one.due.or(supply.due);
        }
        supply
    }

    fn add(&mut self, kind: MoveKind, quantity: i64, day: Date) {
        match kind {
            MoveKind::Quoted => self.quoted += quantity,
            MoveKind::Promised => {}
            MoveKind::Ordered => {
                self.ordered += quantity;
                self.first_ordered = Some(self.first_ordered.map_or(day, |first| first.min(day)));
            }
            MoveKind::Received => {
                self.received += quantity;
                self.here += quantity;
                self.last_received = Some(self.last_received.map_or(day, |last| last.max(day)));
            }
            MoveKind::Inspected => self.inspected += quantity,
            MoveKind::Fitted => self.fitted += quantity,
            MoveKind::Refused => {
                self.here -= quantity;
                self.apart += quantity;
            }
            MoveKind::Returned => {
                let refused = quantity.min(self.apart);
                self.apart -= refused;
                self.here -= quantity - refused;
            }
        }
    }

    /// How many were ordered and have not come.
    pub fn awaited(&self) -> i64 {
        (self.ordered - self.received).max(0)
    }

    /// How many nobody has ordered.
    pub fn to_order(&self) -> i64 {
        if self.replaced { 0 } else { (self.needed - self.here - self.awaited()).max(0) }
    }

    /// Whether all that is needed is here.
    pub fn is_here(&self) -> bool {
        self.here >= self.needed
    }

    pub fn is_late(&self, today: Date) -> bool {
        !self.replaced && !self.is_here() && self.due.is_some_and(|due| due < today)
    }

    pub fn state(&self) -> PartState {
        match () {
            () if self.replaced => PartState::Replaced,
            () if !self.is_here() && self.to_order() > 0 => PartState::Wanted,
            () if !self.is_here() => PartState::Awaited,
            () if self.fitted >= self.needed => PartState::Fitted,
            () if self.inspected >= self.needed => PartState::Inspected,
            () => PartState::Here,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::Stamp;
    use crate::record::part_moves::NewMove;
    use crate::record::parts::{AsItCame, NewPart};
    use jiff::Timestamp;
    use jiff::civil::date;

    fn part(quantity: i64) -> Part {
        let said = NewPart {
            description: "rod bolts".to_owned(),
            maker: String::new(),
            part_number: String::new(),
            quantity,
            serial: String::new(),
            supplier: None,
            whose: Whose::Shop,
            origin: Origin::Bought,
            as_it_came: AsItCame::New,
            shelf: String::new(),
            step: None,
            cost: None,
            price: None,
            core: None,
            replaces: None,
            note: String::new(),
        };
        let stamp = Stamp { by: None, at: Timestamp::UNIX_EPOCH };
        Part { id: 1, public_id: "1".to_owned(), build: 1, item: None, said, stamp, withdrawn: false, act: 1 }
    }

    fn supply(of: &[(MoveKind, i64)]) -> Supply {
        let moves: Vec<PartMove> = (1..)
            .zip(of)
            .map(|(id, &(kind, quantity))| {
                let due = (kind == MoveKind::Ordered).then_some(date(2026, 6, 1));
                let day = date(2026, 5, i8::try_from(id).expect("a short list"));
                let said = NewMove { part: 1, kind, quantity, day, due, place: None, words: String::new() };
                let stamp = Stamp { by: None, at: Timestamp::UNIX_EPOCH };
                PartMove { id, said, stamp, withdrawn: false }
            })
            .collect();
        Supply::of(&part(8), false, moves.iter())
    }

    #[test]
    fn a_part_goes_from_wanted_to_fitted() {
        use MoveKind as M;
        for (moves, state, to_order) in [
            (&[][..], PartState::Wanted, 8),
            (&[(M::Ordered, 8)], PartState::Awaited, 0),
            (&[(M::Ordered, 8), (M::Received, 6)], PartState::Awaited, 0),
            (&[(M::Ordered, 8), (M::Received, 8)], PartState::Here, 0),
            (&[(M::Received, 8), (M::Inspected, 8)], PartState::Inspected, 0),
            (&[(M::Received, 8), (M::Fitted, 8)], PartState::Fitted, 0),
            // Two are wrong: two more are to be ordered, whether the wrong ones are still here or not.
            (&[(M::Ordered, 8), (M::Received, 8), (M::Refused, 2)], PartState::Wanted, 2),
            (&[(M::Ordered, 8), (M::Received, 8), (M::Refused, 2), (M::Returned, 2)], PartState::Wanted, 2),
            (
                &[(M::Ordered, 8), (M::Received, 8), (M::Refused, 2), (M::Returned, 2), (M::Ordered, 2)],
                PartState::Awaited,
                0,
            ),
        ] {
            let supply = supply(moves);
            assert_eq!((supply.state(), supply.to_order()), (state, to_order), "{moves:?}");
        }
    }

    #[test]
    fn what_is_refused_lies_apart_until_it_goes_back() {
        use MoveKind as M;
        let refused = supply(&[(M::Received, 8), (M::Refused, 3)]);
        assert_eq!((refused.here, refused.apart), (5, 3));
        let back = supply(&[(M::Received, 8), (M::Refused, 3), (M::Returned, 4)]);
        assert_eq!((back.here, back.apart), (4, 0), "three of those refused, and a good one");
    }

    #[test]
    fn a_part_is_late_once_its_day_has_passed_and_not_all_is_here() {
        let partly = supply(&[(MoveKind::Ordered, 8), (MoveKind::Received, 6)]);
        assert!(!partly.is_late(date(2026, 6, 1)) && partly.is_late(date(2026, 6, 2)));
        assert!(!supply(&[(MoveKind::Ordered, 8), (MoveKind::Received, 8)]).is_late(date(2026, 6, 2)));
    }
}
