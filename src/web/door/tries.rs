//! Guesses at the PIN: counted before they are looked at, and let through ever more slowly once some were wrong.
//!
//! Counted per address that they come from and over all of them, so that neither one guesser nor many get far: once slowed
//! down, both together see some hundred of the ten thousand PINs of four digits a day. They are kept in memory: nobody
//! who guesses can start the server anew.

use std::collections::HashMap;
use std::net::{IpAddr, Ipv6Addr};

use jiff::{SignedDuration, Timestamp};

/// Wrong tries of one address that cost nothing.
const FREE: u32 = 5;
/// Wrong tries of all addresses together that cost nothing.
const FREE_OVER_ALL: u32 = 20;
/// The wait after those; it doubles with every further one.
const FIRST_WAIT: SignedDuration = SignedDuration::from_secs(30);
const LONGEST_WAIT: SignedDuration = SignedDuration::from_mins(15);
/// Without a wrong try for so long, what was counted is forgotten.
const FORGOTTEN_AFTER: SignedDuration = SignedDuration::from_hours(24);

/// What was tried so far.
#[derive(Debug, Default)]
pub(super) struct Tries {
    all: Count,
    by_address: HashMap<IpAddr, Count>,
}

#[derive(Clone, Copy, Debug, Default)]
struct Count {
    wrong: u32,
    last: Option<Timestamp>,
}

impl Count {
    /// As it stands at an instant. A clock that was set back makes nobody wait longer than the longest wait.
    fn at(self, now: Timestamp) -> Self {
        match self.last.map(|last| now.duration_since(last)) {
            Some(since) if since >= FORGOTTEN_AFTER => Self::default(),
            Some(since) if since.is_negative() => Self { last: Some(now), ..self },
            _ => self,
        }
    }

    /// How long the next try has to wait.
    fn wait(self, free: u32, now: Timestamp) -> SignedDuration {
        let Some((last, over)) = self.last.zip(self.wrong.checked_sub(free)) else { return SignedDuration::ZERO };
        let wait = FIRST_WAIT * 2_i32.pow(over.min(10));
        (wait.min(LONGEST_WAIT) - now.duration_since(last)).max(SignedDuration::ZERO)
    }

    const fn counted(self, now: Timestamp) -> Self {
        Self { wrong: self.wrong.saturating_add(1), last: Some(now) }
    }
}

impl Tries {
    /// Begins a try, counted as a wrong one until [`Tries::was_right`]: of many at once only as many pass as were free.
    ///
    /// # Errors
    /// How long to wait, where it is too early.
    pub fn begin(&mut self, from: IpAddr, now: Timestamp) -> Result<(), SignedDuration> {
        let (all, one) = (self.all.at(now), self.of(from, now));
        let wait = all.wait(FREE_OVER_ALL, now).max(one.wait(FREE, now));
        if wait.is_positive() {
            return Err(wait);
        }
        self.by_address.retain(|_, count| count.at(now).wrong > 0);
        self.by_address.insert(source(from), one.counted(now));
        self.all = all.counted(now);
        Ok(())
    }

    /// The try just begun from an address was right: its address starts afresh, the others do not.
    pub fn was_right(&mut self, from: IpAddr) {
        self.by_address.remove(&source(from));
        self.all.wrong = self.all.wrong.saturating_sub(1);
    }

    /// Wrong tries that are not forgotten yet, from all addresses.
    pub fn wrong(&self, now: Timestamp) -> u32 {
        self.all.at(now).wrong
    }

    fn of(&self, from: IpAddr, now: Timestamp) -> Count {
        self.by_address.get(&source(from)).copied().unwrap_or_default().at(now)
    }
}

/// Whose address it is: a machine has a whole network of 64 bits of the longer kind to itself.
fn source(from: IpAddr) -> IpAddr {
    match from.to_canonical() {
        IpAddr::V6(address) => Ipv6Addr::from_bits(address.to_bits() & !u128::from(u64::MAX)).into(),
        four @ IpAddr::V4(_) => four,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn from(last: u8) -> IpAddr {
        IpAddr::from([192, 168, 1, last])
    }

    fn second(seconds: i64) -> Timestamp {
        Timestamp::from_second(1_772_000_000 + seconds).expect("an instant")
    }

    /// What the wait is, in seconds; 0 for a try that may be looked at.
    fn wait(tries: &mut Tries, last: u8, at: i64) -> i64 {
        tries.begin(from(last), second(at)).map_or_else(|wait| wait.as_secs(), |()| 0)
    }

    #[test]
    fn after_five_wrong_ones_each_waits_twice_as_long_up_to_a_quarter_of_an_hour() {
        let mut tries = Tries::default();
        for _ in 0..5 {
            assert_eq!(wait(&mut tries, 4, 0), 0);
        }
        let mut now = 0;
        for expected in [30, 60, 120, 240, 480, 900, 900, 900] {
            assert_eq!(wait(&mut tries, 4, now), expected);
            assert_eq!(wait(&mut tries, 4, now + expected - 1), 1, "asking early changes nothing");
            now += expected;
            assert_eq!(wait(&mut tries, 4, now), 0);
        }
        assert_eq!(tries.wrong(second(now)), 13);
    }

    #[test]
    fn of_a_hundred_at_once_five_are_looked_at() {
        let mut tries = Tries::default();
        let looked_at = (0..100).filter(|_| wait(&mut tries, 4, 0) == 0).count();
        assert_eq!(looked_at, 5);
    }

    #[test]
    fn many_addresses_get_no_further_than_twenty() {
        let mut tries = Tries::default();
        let looked_at = (0..=255).filter(|last| wait(&mut tries, *last, 0) == 0).count();
        assert_eq!(looked_at, 20);
        let of_a_day = (0..86_400).filter(|at| wait(&mut tries, u8::try_from(at % 251).expect("below 251"), *at) == 0);
        let of_a_day = of_a_day.count();
        assert!((90..=105).contains(&of_a_day), "{of_a_day}");
    }

    #[test]
    fn who_is_right_starts_afresh_and_nobody_else() {
        let mut tries = Tries::default();
        for last in [4, 4, 4, 5, 5, 5, 5, 5] {
            assert_eq!(wait(&mut tries, last, 0), 0);
        }
        assert_eq!(wait(&mut tries, 4, 1), 0);
        tries.was_right(from(4));
        assert_eq!(tries.wrong(second(1)), 8);
        assert_eq!(wait(&mut tries, 5, 2), 28, "still slowed");
        let afresh = (0..9).filter(|_| wait(&mut tries, 4, 3) == 0).count();
        assert_eq!(afresh, 5);
    }

    #[test]
    fn a_quiet_day_is_forgiven_and_a_clock_set_back_is_no_trap() {
        let mut tries = Tries::default();
        (0..5).for_each(|_| assert_eq!(wait(&mut tries, 4, 0), 0));
        assert_eq!(wait(&mut tries, 4, -999_999), 30);
        assert_eq!((wait(&mut tries, 4, 86_399), tries.wrong(second(86_399))), (0, 6));
        assert_eq!((wait(&mut tries, 4, 2 * 86_400), tries.wrong(second(2 * 86_400))), (0, 1));
    }

    #[test]
    fn one_machine_has_many_of_the_longer_addresses() {
        let mut tries = Tries::default();
        let looked_at = (0..100_u16).filter(|last| {
            let from = Ipv6Addr::new(0xfd00, 1, 2, 3, 9, 9, 9, *last).into();
            tries.begin(from, second(0)).is_ok()
        });
        assert_eq!(looked_at.count(), 5);
        let mapped: IpAddr = "::ffff:192.168.1.4".parse().expect("an address");
        assert_eq!(source(mapped), from(4));
    }
}
