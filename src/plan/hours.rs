//! How many hours a step may take: of each number of hours, the share of times that no more were needed.

use thiserror::Error;

use super::shares::Shares;
use super::three_point::ThreePoint;

/// Parts that the range of a beta curve is cut into: its shares are then right to within 10⁻⁴.
const CUTS: usize = 256;
/// Our own judgement, no source: work that has outlasted every expectation takes up to this part of what it took already.
const OUTLASTED: f64 = 0.25;

/// Why a curve of hours is none.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum HoursFault {
    #[error("hours are zero or more and rise along the curve")]
    Hours,
    #[error("shares of times begin at 0, rise and end at 1")]
    Shares,
}

/// A distribution of bench hours; between the points of its curve the share rises evenly.
#[derive(Clone, Debug, PartialEq)]
pub struct Hours {
    at: Vec<f64>,
    share: Shares,
    least: f64,
}

impl Hours {
    /// A step that takes just so long.
    pub fn fixed(hours: f64) -> Result<Self, HoursFault> {
        Self::of_curve(&[(hours, 0.0), (hours, 1.0)])
    }

    /// Of points (hours, share of times that no more were needed), first share 0 and last 1.
    pub fn of_curve(points: &[(f64, f64)]) -> Result<Self, HoursFault> {
        let (at, share): (Vec<f64>, Vec<f64>) = points.iter().copied().unzip();
        if !at.is_sorted() || at.iter().any(|hours| !hours.is_finite() || *hours < 0.0) {
            return Err(HoursFault::Hours);
        }
        let whole = share.len() > 1 && share.first() == Some(&0.0) && share.last() == Some(&1.0);
        if !whole || !share.is_sorted() {
            return Err(HoursFault::Shares);
        }
        Ok(Self { least: at[0], at, share: Shares::new(share) })
    }

    /// The beta distribution of PERT over least, likely and most: α = 1 + 4(m − a)/(b − a), β = 1 + 4(b − m)/(b − a).
    ///
    /// The density is summed by Simpson's rule over x = s²(3 − 2s), which is finest at both ends: there it may be steep.
    pub fn pert(expected: &ThreePoint) -> Self {
        let (a, m, b) = (expected.least(), expected.likely(), expected.most());
        let range = b - a;
        if range == 0.0 {
            return Self { at: vec![a, a], share: Shares::new(vec![0.0, 1.0]), least: a };
        }
        let (rise, fall) = (4.0 * (m - a) / range, 4.0 * (b - m) / range);
        let place = |s: f64| s * s * (3.0 - 2.0 * s);
        let density = |s: f64| place(s).powf(rise) * place(1.0 - s).powf(fall) * s * (1.0 - s);
        let cut = 1.0 / CUTS as f64;
        let mut sum = 0.0;
        let mut share = vec![0.0];
        let mut before = density(0.0);
        for index in 1..=CUTS {
            let end = index as f64 * cut;
            let here = density(end);
            sum += before + 4.0 * density(end - cut / 2.0) + here;
            share.push(sum);
            before = here;
        }
        let share = Shares::new(share.into_iter().map(|part| part / sum).collect());
        let at = (0..=CUTS).map(|index| a + range * place(index as f64 * cut)).collect();
        Self { at, share, least: a }
    }

    /// The same curve, of a step that may at best take so little.
    pub(super) fn at_best(self, least: f64) -> Self {
        Self { least, ..self }
    }

    /// What it takes if all goes well.
    pub fn least(&self) -> f64 {
        self.least
    }

    /// The hours that suffice in this share of times, from 0 to 1.
    pub fn quantile(&self, share: f64) -> f64 {
        let end = self.share.first(share).max(1);
        let (from, to) = (self.share.all()[end - 1], self.share.all()[end]);
        let part = if to > from { ((share - from) / (to - from)).clamp(0.0, 1.0) } else { 1.0 };
        self.at[end - 1] + part * (self.at[end] - self.at[end - 1])
    }

    /// The share of times in which so many hours suffice.
    pub fn share_within(&self, hours: f64) -> f64 {
        let end = self.at.partition_point(|&up_to| up_to <= hours);
        if end == 0 {
            return 0.0;
        }
        if end == self.at.len() {
            return 1.0;
        }
        let part = (hours - self.at[end - 1]) / (self.at[end] - self.at[end - 1]);
        let (from, to) = (self.share.all()[end - 1], self.share.all()[end]);
        from + part * (to - from)
    }

    pub fn mean(&self) -> f64 {
        let cells = self.at.windows(2).zip(self.share.all().windows(2));
        cells.map(|(at, share)| f64::midpoint(at[0], at[1]) * (share[1] - share[0])).sum()
    }

    /// What is left of a step under way that has taken so long already.
    ///
    /// The rest of the curve; where that is at its end the figures were wrong, and up to a quarter of what it took is
    /// added (our own judgement, no source).
    pub fn rest_after(&self, spent: f64) -> Result<Self, HoursFault> {
        if !spent.is_finite() || spent < 0.0 {
            return Err(HoursFault::Hours);
        }
        let gone = self.share_within(spent);
        if gone >= 1.0 {
            return Self::of_curve(&[(0.0, 0.0), (OUTLASTED * spent, 1.0)]);
        }
        let later = self.at.partition_point(|&hours| hours <= spent);
        let points = self.at.iter().zip(self.share.all()).skip(later);
        let rest = points.map(|(hours, share)| (hours - spent, (share - gone) / (1.0 - gone)));
        let curve = Self::of_curve(&std::iter::once((0.0, 0.0)).chain(rest).collect::<Vec<_>>())?;
        Ok(curve.at_best((self.least - spent).max(0.0)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_curve_is_followed_between_its_points() {
        let hours = Hours::of_curve(&[(2.0, 0.0), (4.0, 0.5), (10.0, 1.0)]).expect("a curve");
        let along =
            |figures: [f64; 5], read: fn(&Hours, f64) -> f64| figures.map(|figure| read(&hours, figure)).to_vec();
        assert_eq!(along([0.0, 0.25, 0.5, 0.75, 1.0], Hours::quantile), [2.0, 3.0, 4.0, 7.0, 10.0]);
        assert_eq!(along([1.0, 2.0, 3.0, 7.0, 11.0], Hours::share_within), [0.0, 0.0, 0.25, 0.75, 1.0]);
        assert_eq!((hours.mean(), hours.least()), (5.0, 2.0));
    }

    #[test]
    fn work_under_way_has_the_rest_of_its_curve_left() {
        let hours = Hours::of_curve(&[(2.0, 0.0), (4.0, 0.5), (10.0, 1.0)]).expect("a curve");
        let rest = hours.rest_after(4.0).expect("a rest");
        assert_eq!((rest.quantile(0.5), rest.quantile(1.0), rest.least()), (3.0, 6.0, 0.0));
        let rest = hours.rest_after(1.0).expect("a rest");
        assert_eq!((rest.quantile(0.5), rest.quantile(1.0), rest.least()), (3.0, 9.0, 1.0));
        let rest = hours.rest_after(12.0).expect("a rest");
        assert_eq!((rest.quantile(0.5), rest.quantile(1.0)), (1.5, 3.0), "the curve was wrong");
    }

    #[test]
    fn what_is_no_curve_is_refused() {
        for points in [&[(2.0, 0.0), (1.0, 1.0)][..], &[(-1.0, 0.0), (1.0, 1.0)], &[(0.0, 0.0), (f64::NAN, 1.0)]] {
            assert_eq!(Hours::of_curve(points), Err(HoursFault::Hours));
        }
        for points in [&[][..], &[(1.0, 1.0)], &[(1.0, 0.0), (2.0, 0.9)], &[(1.0, 0.0), (2.0, 1.5), (3.0, 1.0)]] {
            assert_eq!(Hours::of_curve(points), Err(HoursFault::Shares));
        }
        assert_eq!(Hours::fixed(f64::INFINITY), Err(HoursFault::Hours));
    }
}
