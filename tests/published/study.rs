//! The repeatability study of a gauge: the 90-reading example of the AIAG manual, one-way sets certified by NIST, a crossed set
//! worked by hand, and the same table by least squares in a general library of matrices.

use nalgebra::{DMatrix, DVector};
use witnessmark::metrology::{
    Component, Interaction, OfScatter, POOLED_ABOVE, Spread, Study, VarianceTable, expected_range, range_factor,
    range_spread,
};

use crate::assert_close;

/// Ten parts by three people (A, B, C) in three trials each: the example of the Measurement Systems Analysis manual of the
/// AIAG (4th ed.), as two public test suites quote it. A row is a part: A1 A2 A3 B1 B2 B3 C1 C2 C3.
const NINETY: [[f64; 9]; 10] = [
    [0.29, 0.41, 0.64, 0.08, 0.25, 0.07, 0.04, -0.11, -0.15],
    [-0.56, -0.68, -0.58, -0.47, -1.22, -0.68, -1.38, -1.13, -0.96],
    [1.34, 1.17, 1.27, 1.19, 0.94, 1.34, 0.88, 1.09, 0.67],
    [0.47, 0.5, 0.64, 0.01, 1.03, 0.2, 0.14, 0.2, 0.11],
    [-0.8, -0.92, -0.84, -0.56, -1.2, -1.28, -1.46, -1.07, -1.45],
    [0.02, -0.11, -0.21, -0.2, 0.22, 0.06, -0.29, -0.67, -0.49],
    [0.59, 0.75, 0.66, 0.47, 0.55, 0.83, 0.02, 0.01, 0.21],
    [-0.31, -0.2, -0.17, -0.63, 0.08, -0.34, -0.46, -0.56, -0.49],
    [2.26, 1.99, 2.01, 1.8, 2.12, 2.19, 1.77, 1.45, 1.87],
    [-1.36, -1.25, -1.31, -1.68, -1.62, -1.5, -1.49, -1.77, -2.16],
];

fn ninety() -> Study {
    Study::new(NINETY.iter().map(|part| part.chunks(3).map(<[f64]>::to_vec).collect()).collect()).expect("a study")
}

fn squares(table: &VarianceTable, of: OfScatter) -> f64 {
    table.row(of).expect("a row").sum_of_squares
}

fn sd(component: Option<Component>) -> f64 {
    component.expect("a component").sd
}

/// Sums of squares, components and percentages as the manual prints them.
#[test]
fn the_ninety_by_variance() {
    let table = ninety().by_variance(POOLED_ABOVE);
    assert_close(squares(&table, OfScatter::Parts), 88.3619, 5e-5);
    assert_close(squares(&table, OfScatter::People), 3.1673, 5e-5);
    assert_close(squares(&table, OfScatter::Interaction), 0.3590, 5e-5);
    assert_close(squares(&table, OfScatter::Repeatability), 2.7589, 5e-5);
    assert_close(squares(&table, OfScatter::Total), 94.6471, 5e-5);
    // F and p computed from the same data with another library (scipy).
    let interaction = table.row(OfScatter::Interaction).expect("a row");
    assert_close(interaction.f.expect("F"), 0.43372103, 1e-8);
    assert_close(interaction.p.expect("p"), 0.9741064, 1e-7);
    assert_eq!(table.interaction, Interaction::Pooled);

    let spread = &table.spread;
    assert_close(spread.repeatability.sd, 0.199933, 5e-7);
    assert_close(sd(spread.people), 0.226838, 5e-7);
    // Printed 0.302373, 0.302372 computed: the manual adds rounded squares.
    assert_close(spread.gauge_sd(), 0.302373, 2e-6);
    assert_close(sd(spread.parts), 1.042327, 5e-7);
    assert_close(spread.total_sd().expect("a total"), 1.085, 5e-4);
    assert_close(spread.of_total(spread.gauge_sd()).expect("a share"), 27.9, 0.05);
    assert_close(spread.of_variance(spread.repeatability.sd).expect("a share"), 3.4, 0.05);
    assert_close(spread.of_variance(sd(spread.people)).expect("a share"), 4.4, 0.05);
    assert_close(spread.of_variance(spread.gauge_sd()).expect("a share"), 7.8, 0.05);
    assert_close(spread.of_variance(sd(spread.parts)).expect("a share"), 92.2, 0.05);
    assert_close(spread.categories().expect("categories"), 4.861, 5e-4);
    // 78 degrees of freedom: 60 of the trials and 18 of the interaction pooled with them.
    assert_eq!(table.repeatability(), (spread.repeatability.sd, 78.0));
}

/// The interaction kept: repeatability as one of the test suites quotes it, the others computed from the same data with another
/// library (numpy). The interaction's own variance comes out below zero.
#[test]
fn the_ninety_with_the_interaction_kept() {
    let table = ninety().by_variance(1.0);
    assert_eq!(table.interaction, Interaction::Kept);
    assert_close(table.spread.repeatability.sd, 0.214435, 5e-7);
    assert_close(sd(table.spread.people), 0.22830445, 1e-8);
    assert_eq!(table.spread.interaction, Some(Component { sd: 0.0, below_zero: true }));
    assert_close(table.spread.gauge_sd(), 0.31321741, 1e-8);
    assert_close(sd(table.spread.parts), 1.0433945, 1e-7);
    assert_close(table.spread.total_sd().expect("a total"), 1.0893931, 1e-7);
    assert_eq!(table.repeatability().1.to_string(), "60");
}

/// By average and range, as the manual prints it (from memory). It works in four digits, factors and means alike, so the fourth
/// may differ by one.
#[test]
fn the_ninety_by_average_and_range() {
    let found = ninety().by_ranges();
    assert_close(found.mean_range, 0.3417, 5e-5);
    assert_close(found.between_people.expect("people"), 0.4447, 5e-5);
    assert_close(found.between_parts.expect("parts"), 3.511, 5e-4);
    assert_close(found.spread.repeatability.sd, 0.20188, 1e-4);
    assert_close(sd(found.spread.people), 0.22963, 1e-4);
    assert_close(found.spread.gauge_sd(), 0.30575, 1e-4);
    assert_close(sd(found.spread.parts), 1.10456, 2e-4);
    assert_close(found.spread.total_sd().expect("a total"), 1.14610, 2e-4);
    assert_close(found.spread.of_total(found.spread.gauge_sd()).expect("a share"), 26.68, 0.01);
    assert_close(found.spread.categories().expect("categories"), 5.09, 0.01);
}

/// K₁, K₂ and K₃ as the manual prints them (from memory): reciprocals of d₂*. Many ranges for K₁, one for the others.
#[test]
#[expect(clippy::approx_constant, reason = "figures stand as their source prints them")]
fn factors_of_average_and_range() {
    for (trials, k1) in [(2, 0.8862), (3, 0.5908)] {
        assert_close(range_factor(trials, 30), k1, 5e-5);
    }
    let printed = [0.7071, 0.5231, 0.4467, 0.4030, 0.3742, 0.3534, 0.3375, 0.3249, 0.3146];
    for (parts, k3) in (2..=10).zip(printed) {
        assert_close(range_factor(parts, 1), k3, 6e-5);
    }
}

/// d₂* in closed form: of g ranges of two readings, the mean square of W̄ is d₂² + d₃²/g, with E\[W²\] = 2.
#[test]
fn few_ranges_in_closed_form() {
    assert_close(range_factor(2, 1), 1.0 / 2_f64.sqrt(), 1e-6);
    let (d2, d3) = (expected_range(2), range_spread(2));
    assert_close(range_factor(2, 4), 1.0 / (d2 * d2 + d3 * d3 / 4.0).sqrt(), 1e-12);
}

/// Five instruments, one resistance of about 196 Ω, five readings each: `SiRstv` of the NIST Statistical Reference Datasets
/// (public domain), certified one-way analysis of variance. One part: instruments stand where people do.
#[test]
fn one_part_as_certified() {
    let instruments = [
        [196.3052, 196.1240, 196.1890, 196.2569, 196.3403],
        [196.3042, 196.3825, 196.1669, 196.3257, 196.0422],
        [196.1303, 196.2005, 196.2889, 196.0343, 196.1811],
        [196.2795, 196.1748, 196.1494, 196.1485, 195.9885],
        [196.2119, 196.1051, 196.1850, 196.0052, 196.2090],
    ];
    let table =
        Study::new(vec![instruments.iter().map(|r| r.to_vec()).collect()]).expect("a study").by_variance(POOLED_ABOVE);
    assert_eq!(table.interaction, Interaction::None);
    let people = table.row(OfScatter::People).expect("a row");
    assert_close(people.sum_of_squares, 5.11462616e-2, 1e-13);
    assert_close(squares(&table, OfScatter::Repeatability), 2.1663656e-1, 1e-13);
    assert_close(people.f.expect("F"), 1.18046237440255, 1e-11);
    assert_close(table.repeatability().0, 1.04076068334656e-1, 1e-12);
    assert_eq!(table.repeatability().1.to_string(), "20");
    assert!(table.spread.parts.is_none() && table.spread.total_sd().is_none() && table.spread.categories().is_none());
}

/// Two spectrometers, the atomic weight of silver, 24 determinations each: `AtmWtAg`, certified likewise. Seven leading digits
/// are the same: a double holds about nine digits of the deviations.
#[test]
fn one_part_of_few_differing_digits_as_certified() {
    #[rustfmt::skip]
    let instruments = [
        [
            107.8681568, 107.8681465, 107.8681572, 107.8681785, 107.8681446, 107.8681903, 107.8681526, 107.8681494,
            107.8681616, 107.8681587, 107.8681519, 107.8681486, 107.8681419, 107.8681569, 107.8681508, 107.8681672,
            107.8681385, 107.8681518, 107.8681662, 107.8681424, 107.8681360, 107.8681333, 107.8681610, 107.8681477,
        ],
        [
            107.8681079, 107.8681344, 107.8681513, 107.8681197, 107.8681604, 107.8681385, 107.8681642, 107.8681365,
            107.8681151, 107.8681082, 107.8681517, 107.8681448, 107.8681198, 107.8681482, 107.8681334, 107.8681609,
            107.8681101, 107.8681512, 107.8681469, 107.8681360, 107.8681254, 107.8681261, 107.8681450, 107.8681368,
        ],
    ];
    let table =
        Study::new(vec![instruments.iter().map(|r| r.to_vec()).collect()]).expect("a study").by_variance(POOLED_ABOVE);
    let people = table.row(OfScatter::People).expect("a row");
    assert_close(people.sum_of_squares, 3.63834187500000E-09, 4e-17);
    assert_close(squares(&table, OfScatter::Repeatability), 1.04951729166667E-08, 1e-16);
    assert_close(people.f.expect("F"), 1.59467335677930E+01, 2e-7);
    assert_close(table.repeatability().0, 1.51048314446410E-05, 2e-13);
}

/// Three parts by two people in two trials, small enough for paper:
///
/// |        | A      | B      |
/// |--------|--------|--------|
/// | part 1 | 2, 4   | 6, 8   |
/// | part 2 | 10, 12 | 8, 10  |
/// | part 3 | 17, 19 | 23, 25 |
///
/// Cell means 3, 7; 11, 9; 18, 24. Part means 5, 10, 21; people 32/3, 40/3; all 12. Sums of squares: parts 4·(49 + 4 + 81)
/// = 536; people 6·2·(4/3)² = 64/3; within 6·2 = 12; cells 2·(81 + 25 + 1 + 9 + 36 + 144) = 592; so interaction 592 − 536 −
/// 64/3 = 104/3. Mean squares 268, 64/3, 52/3, 2: F of the interaction 26/3, with 2 and 6 degrees of freedom p = (1 +
/// 2F/6)⁻³ = (35/9)⁻³, so it is kept. Variances: repeatability 2, interaction (52/3 − 2)/2 = 23/3, people (64/3 − 52/3)/6
/// = 2/3, parts (268 − 52/3)/4 = 188/3.
#[test]
fn a_crossed_study_on_paper() {
    let cells = [[[2., 4.], [6., 8.]], [[10., 12.], [8., 10.]], [[17., 19.], [23., 25.]]];
    let study = Study::new(cells.iter().map(|part| part.iter().map(|cell| cell.to_vec()).collect()).collect()).unwrap();
    let table = study.by_variance(POOLED_ABOVE);
    assert_close(squares(&table, OfScatter::Parts), 536.0, 1e-9);
    assert_close(squares(&table, OfScatter::People), 64.0 / 3.0, 1e-9);
    assert_close(squares(&table, OfScatter::Interaction), 104.0 / 3.0, 1e-9);
    assert_close(squares(&table, OfScatter::Repeatability), 12.0, 1e-9);
    let interaction = table.row(OfScatter::Interaction).expect("a row");
    assert_close(interaction.f.expect("F"), 26.0 / 3.0, 1e-9);
    assert_close(interaction.p.expect("p"), (35.0_f64 / 9.0).powi(-3), 1e-12);
    assert_eq!(table.interaction, Interaction::Kept);
    let people = table.row(OfScatter::People).expect("a row");
    assert_close(people.f.expect("F"), 64.0 / 52.0, 1e-9);
    assert_close(table.spread.repeatability.sd.powi(2), 2.0, 1e-9);
    assert_close(sd(table.spread.interaction).powi(2), 23.0 / 3.0, 1e-9);
    assert_close(sd(table.spread.people).powi(2), 2.0 / 3.0, 1e-9);
    assert_close(sd(table.spread.parts).powi(2), 188.0 / 3.0, 1e-9);
    assert_close(table.spread.gauge_sd().powi(2), 31.0 / 3.0, 1e-9);
    let six_sigma = 6.0 * (31.0_f64 / 3.0).sqrt();
    assert_close(Spread::of_tolerance(table.spread.gauge_sd(), 40.0).expect("a share"), six_sigma / 0.4, 1e-9);
}

/// The ninety once more by least squares (nalgebra): what a model with people, with parts, with both, and with every cell by
/// itself leaves unexplained; the sums of squares are the differences.
#[test]
fn the_table_by_least_squares() {
    let readings: Vec<f64> = NINETY.iter().flatten().copied().collect();
    let (part, person) = (|row: usize| row / 9, |row: usize| row % 9 / 3);
    let left = |columns: usize, of: &dyn Fn(usize, usize) -> bool| {
        let design = DMatrix::from_fn(90, columns, |row, column| f64::from(u8::from(of(row, column))));
        let y = DVector::from_column_slice(&readings);
        let fitted = design.clone().svd(true, true).solve(&y, 1e-9).expect("a fit");
        (y - design * fitted).norm_squared()
    };
    let mean_only = left(1, &|_, _| true);
    let by_part = left(10, &|row, column| part(row) == column);
    let by_person = left(3, &|row, column| person(row) == column);
    let by_both = left(13, &|row, column| part(row) == column || person(row) + 10 == column);
    let by_cell = left(30, &|row, column| part(row) * 3 + person(row) == column);

    let table = ninety().by_variance(POOLED_ABOVE);
    assert_close(squares(&table, OfScatter::Total), mean_only, 1e-10);
    assert_close(squares(&table, OfScatter::Parts), mean_only - by_part, 1e-10);
    assert_close(squares(&table, OfScatter::People), mean_only - by_person, 1e-10);
    assert_close(squares(&table, OfScatter::Interaction), by_both - by_cell, 1e-10);
    assert_close(squares(&table, OfScatter::Repeatability), by_cell, 1e-10);
}
