//! Expected range of n readings and its spread: the factors d₂ and d₃ of control chart tables, to three decimals, as
//! tabulated in two statistics libraries: pyspc 0.4 to n = 10, pyshewhart 1.1.0 to 25 (which takes them from Montgomery,
//! Statistical Quality Control, 5th ed.). The tables agree with each other.

use witnessmark::metrology::{expected_range, range_spread};

use crate::assert_close;

/// The tables' last digit: d₃(19) is printed 0.734 where this integration, and another with a five times finer step, give
/// 0.73348; all others agree when rounded.
const LAST_DIGIT: f64 = 0.001;

#[test]
fn d2_and_d3() {
    for (n, d2, d3) in [
        (2, 1.128, 0.853),
        (3, 1.693, 0.888),
        (4, 2.059, 0.880),
        (5, 2.326, 0.864),
        (6, 2.534, 0.848),
        (7, 2.704, 0.833),
        (8, 2.847, 0.820),
        (9, 2.970, 0.808),
        (10, 3.078, 0.797),
        (11, 3.173, 0.787),
        (12, 3.258, 0.778),
        (13, 3.336, 0.770),
        (14, 3.407, 0.763),
        (15, 3.472, 0.756),
        (16, 3.532, 0.750),
        (17, 3.588, 0.744),
        (18, 3.640, 0.739),
        (19, 3.689, 0.734),
        (20, 3.735, 0.729),
        (21, 3.778, 0.724),
        (22, 3.819, 0.720),
        (23, 3.858, 0.716),
        (24, 3.895, 0.712),
        (25, 3.931, 0.708),
    ] {
        assert_close(expected_range(n), d2, LAST_DIGIT);
        assert_close(range_spread(n), d3, LAST_DIGIT);
    }
}
