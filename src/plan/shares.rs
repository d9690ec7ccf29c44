//! Rising shares of times, and the first of them that reaches a draw, found at once: it is looked up some hundred
//! thousand times for one date.

/// Shares that rise from one value to the next.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Shares {
    up_to: Vec<f64>,
    /// Where to begin looking: of each even part of the range the first that reaches its beginning (index table of Chen
    /// and Asau, AIIE Transactions 6, 1974; from memory).
    guide: Vec<usize>,
}

impl Shares {
    pub(super) fn new(up_to: Vec<f64>) -> Self {
        let parts = up_to.len();
        let begins = |part: usize| part as f64 / parts as f64;
        let guide = (0..parts).map(|part| up_to.partition_point(|&share| share < begins(part))).collect();
        Self { up_to, guide }
    }

    pub(super) fn all(&self) -> &[f64] {
        &self.up_to
    }

    /// The first that is not below `share`; the last where none is.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place in the table, 0 where below")]
    pub(super) fn first(&self, share: f64) -> usize {
        let last = self.up_to.len() - 1;
        let mut at = self.guide[((share * self.guide.len() as f64) as usize).min(last)].min(last);
        while at > 0 && self.up_to[at - 1] >= share {
            at -= 1;
        }
        while at < last && self.up_to[at] < share {
            at += 1;
        }
        at
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_is_found_as_by_looking_at_each() {
        for up_to in [vec![1.0], vec![0.0, 0.0, 0.2, 0.2, 0.21, 0.9, 1.0, 1.0], vec![0.0, 1.0], vec![0.99, 1.0]] {
            let shares = Shares::new(up_to.clone());
            for step in -10..=1010 {
                let share = f64::from(step) / 1000.0;
                let expected = up_to.iter().position(|&one| one >= share).unwrap_or(up_to.len() - 1);
                assert_eq!(shares.first(share), expected, "{share} in {up_to:?}");
            }
        }
    }
}
