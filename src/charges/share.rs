//! Shares that make up a sum exactly, by largest remainder.

use std::cmp::Reverse;

/// Whole shares of `total` as close to `numerators` / `denominator` as can be: each gets its share rounded down, and
/// what is left of the total goes one by one to the largest remainders, of equal ones to the first.
///
/// Preconditions: the denominator is above zero, and the total is the sum of the exact shares, rounded up or down.
pub(super) fn shares(total: i128, numerators: &[i128], denominator: i128) -> Vec<i128> {
    let mut shares: Vec<i128> = numerators.iter().map(|numerator| numerator.div_euclid(denominator)).collect();
    let left = total - shares.iter().sum::<i128>();
    let mut by_remainder: Vec<usize> = (0..shares.len()).collect();
    by_remainder.sort_by_key(|&at| Reverse(numerators[at].rem_euclid(denominator)));
    for at in by_remainder.into_iter().take(usize::try_from(left).unwrap_or_default()) {
        shares[at] += 1;
    }
    shares
}

/// `total` spread in proportion to `weights`, none of them below zero; nothing where they are all zero.
pub(super) fn spread(total: i128, weights: &[i128]) -> Vec<i128> {
    let sum: i128 = weights.iter().sum();
    if sum == 0 {
        return vec![0; weights.len()];
    }
    let numerators: Vec<i128> = weights.iter().map(|weight| total * weight).collect();
    shares(total, &numerators, sum)
}
