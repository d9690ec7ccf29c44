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

    #[test]
    fn three_readings() {
        assert_eq!(mean_of(&[1.0, 2.0, 6.0]), Some(3.0));
        assert_eq!(standard_deviation(&[1.0, 2.0, 6.0]), Some(7_f64.sqrt()));
    }
}
