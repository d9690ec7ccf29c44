//! Hours that a step took on earlier jobs, quoted and worked, and what the next quote may reckon with.

use super::hours::Quarters;

/// As many jobs tell how hours scatter; of fewer only the middle is said.
pub const ENOUGH: usize = 5;

/// A step of a job that is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Past {
    /// None where it stood on no quote with hours.
    pub quoted: Option<Quarters>,
    /// Charged or not.
    pub worked: Quarters,
}

/// What earlier jobs say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reckoning {
    pub jobs: usize,
    /// The fewest hours that half of the jobs did not exceed.
    pub half: Quarters,
    /// The fewest that 8 of 10 did not exceed; none while they are few.
    pub most: Option<Quarters>,
    pub longest: Quarters,
    /// How many of those quoted took more hours than were quoted, and how many were quoted.
    pub beyond: (usize, usize),
}

/// What the jobs say, in any order; none without one.
///
/// No curve is fitted: each figure is that of one of the jobs.
pub fn reckon(past: &[Past]) -> Option<Reckoning> {
    let mut worked: Vec<Quarters> = past.iter().map(|one| one.worked).collect();
    worked.sort_unstable();
    let jobs = worked.len();
    let longest = worked.last().copied()?;
    let quoted = past.iter().filter_map(|one| Some((one.quoted?, one.worked)));
    Some(Reckoning {
        jobs,
        half: worked[jobs.div_ceil(2) - 1],
        most: (jobs >= ENOUGH).then(|| worked[(jobs * 4).div_ceil(5) - 1]),
        longest,
        beyond: (quoted.clone().filter(|(quoted, worked)| worked > quoted).count(), quoted.count()),
    })
}

impl Reckoning {
    /// In words, as honest as they are few.
    pub fn words(&self) -> String {
        let Self { jobs, half, most, longest, beyond: (beyond, quoted) } = *self;
        let over = match quoted {
            0 => String::new(),
            _ => format!(" {beyond} of {quoted} took more than was quoted."),
        };
        match (jobs, most) {
            (1, _) => format!("One job took {}: too few to reckon with.{over}", longest.show()),
            (_, None) => format!(
                "Half of {jobs} jobs took {} or less, the longest {}: few to reckon with.{over}",
                half.show(),
                longest.show()
            ),
            (_, Some(most)) => format!(
                "Half of {jobs} jobs took {} or less, 8 of 10 took {} or less.{over} The next quote may reckon with {}.",
                half.show(),
                most.show(),
                most.show()
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn past(worked: &[u32]) -> Vec<Past> {
        worked.iter().map(|&worked| Past { quoted: Some(Quarters(10)), worked: Quarters(worked) }).collect()
    }

    #[test]
    fn each_figure_is_that_of_a_job() {
        assert_eq!(reckon(&[]), None);
        let one = reckon(&past(&[12])).unwrap();
        assert_eq!((one.half, one.most, one.beyond), (Quarters(12), None, (1, 1)));
        let four = reckon(&past(&[20, 8, 12, 10])).unwrap();
        assert_eq!((four.half, four.most, four.longest, four.beyond), (Quarters(10), None, Quarters(20), (2, 4)));
        let five = reckon(&past(&[20, 8, 12, 10, 9])).unwrap();
        assert_eq!((five.half, five.most), (Quarters(10), Some(Quarters(12))));
        let ten = reckon(&past(&[1, 2, 3, 4, 5, 6, 7, 8, 9, 10])).unwrap();
        assert_eq!((ten.half, ten.most), (Quarters(5), Some(Quarters(8))));
    }

    #[test]
    fn few_are_called_few() {
        assert!(reckon(&past(&[12])).unwrap().words().contains("One job took 3\u{a0}h: too few"));
        assert!(reckon(&past(&[12, 14])).unwrap().words().contains("few to reckon with. 2 of 2 took more"));
        let words = reckon(&past(&[8, 9, 9, 10, 11])).unwrap().words();
        assert!(
            words.ends_with("1 of 5 took more than was quoted. The next quote may reckon with 2.5\u{a0}h."),
            "{words}"
        );
    }
}
