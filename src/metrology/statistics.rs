//! Mean and standard deviation of readings, in two passes: sums of squares of large figures that differ in the last digit
//! lose them all.

/// Arithmetic mean; None of no readings.
pub fn mean_of(readings: &[f64]) -> Option<f64> {
    if readings.is_empty() {
        return None;
    }
    let n = count(readings);
    let rough = readings.iter().sum::<f64>() / n;
    Some(rough + readings.iter().map(|x| x - rough).sum::<f64>() / n)
}

/// Standard deviation of one reading, √(Σ(x − x̄)² / (n − 1)) (JCGM 100:2008, 4.2.2); None of fewer than two.
pub fn standard_deviation(readings: &[f64]) -> Option<f64> {
    if readings.len() < 2 {
        return None;
    }
    let mean = mean_of(readings)?;
    let squares: f64 = readings.iter().map(|x| (x - mean).powi(2)).sum();
    Some((squares / (count(readings) - 1.0)).sqrt())
}

/// Standard deviation of one reading pooled over several `sets` of repeated readings of different things, √(Σ(nᵢ − 1)sᵢ² /
/// Σ(nᵢ − 1)), with its degrees of freedom Σ(nᵢ − 1) (JCGM 100:2008, 4.2.4 and its note); none where nothing was repeated.
pub fn pooled_deviation<'a>(sets: impl IntoIterator<Item = &'a [f64]>) -> Option<(f64, f64)> {
    let (mut squares, mut freedom) = (0.0, 0.0);
    for set in sets {
        if let Some(deviation) = standard_deviation(set) {
            squares += deviation * deviation * (count(set) - 1.0);
            freedom += count(set) - 1.0;
        }
    }
    (freedom > 0.0).then(|| ((squares / freedom).sqrt(), freedom))
}

fn count(readings: &[f64]) -> f64 {
    readings.len() as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn too_few() {
        assert_eq!(mean_of(&[]), None);
        assert_eq!(standard_deviation(&[1.0]), None);
    }

    /// (0, 2) has s² = 2 with one degree of freedom, (1, 2, 6) has 7 with two: 16/3 with three.
    #[test]
    fn sets_are_pooled_by_their_degrees_of_freedom() {
        let (deviation, freedom) = pooled_deviation([&[0.0, 2.0][..], &[9.0], &[1.0, 2.0, 6.0]]).unwrap();
        assert!((deviation - (16.0_f64 / 3.0).sqrt()).abs() < 1e-12);
        assert!((freedom - 3.0).abs() < 1e-12);
        assert_eq!(pooled_deviation([&[1.0][..], &[2.0]]), None);
    }

    #[test]
    fn three_readings() {
        assert_eq!(mean_of(&[1.0, 2.0, 6.0]), Some(3.0));
        assert_eq!(standard_deviation(&[1.0, 2.0, 6.0]), Some(7_f64.sqrt()));
    }
}
