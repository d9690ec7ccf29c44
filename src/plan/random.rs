//! Chance that can be repeated: the same seed gives the same draws on every machine.
//!
//! Each task has a stream of its own, so that another task, or another order of the same, changes no draw. `SplitMix64`
//! (Steele, Lea and Flood, OOPSLA 2014; the constants are theirs) can be entered at any draw without those before.

/// 2⁶⁴ over the golden ratio, odd: the step from one draw to the next.
const STEP: u64 = 0x9e37_79b9_7f4a_7c15;
/// 2⁻⁵³: the 53 bits of a double, as a part of one.
const PART: f64 = 1.0 / 9_007_199_254_740_992.0;

/// The stream of a task under a seed.
pub(super) fn stream(seed: u64, task: u64) -> u64 {
    mixed(seed.wrapping_add(mixed(task.wrapping_add(STEP))))
}

/// Draw number `index` of a stream: even from 0 up to 1.
pub(super) fn draw(stream: u64, index: u64) -> f64 {
    (mixed(stream.wrapping_add(index.wrapping_add(1).wrapping_mul(STEP))) >> 11) as f64 * PART
}

fn mixed(mut z: u64) -> u64 {
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The first three numbers of `SplitMix64` from the state 1234567, as published with its reference code (from memory).
    #[test]
    fn the_numbers_are_those_published() {
        let number = |index: u64| mixed(1_234_567_u64.wrapping_add((index + 1).wrapping_mul(STEP)));
        assert_eq!([0, 1, 2].map(number), [6457827717110365317, 3203168211198807973, 9817491932198370423]);
    }

    #[test]
    fn draws_are_even_and_streams_are_apart() {
        let n = 100_000;
        for stream in [stream(1, 1), stream(1, 2), stream(2, 1)] {
            let mut tenths = [0_u32; 10];
            for index in 0..n {
                tenths[[0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9]
                    .partition_point(|edge| draw(stream, index) >= *edge)] += 1;
            }
            // Each tenth holds 10 000 ± 95.
            assert!(tenths.iter().all(|count| count.abs_diff(10_000) < 500), "{tenths:?}");
        }
        let product: f64 = (0..n).map(|i| (draw(stream(1, 1), i) - 0.5) * (draw(stream(1, 2), i) - 0.5)).sum();
        // Of independent draws the sum is 0 ± √n/12 = 26.
        assert!(product.abs() < 130.0, "{product}");
    }
}
