//! What somebody expects of a duration: at least, most likely, at most.

use thiserror::Error;

/// Figures beyond this are slips of the keyboard.
const TOO_LONG: f64 = 1e6;

/// Why three figures are no expectation.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum ThreePointFault {
    #[error("a duration is a figure of zero or more, up to a million")]
    Range,
    #[error("least, likely and most rise in this order")]
    Order,
    #[error("what takes no time at most is not a step")]
    Nothing,
}

/// Least (a), most likely (m) and most (b), in hours or in days.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThreePoint {
    least: f64,
    likely: f64,
    most: f64,
}

impl ThreePoint {
    pub fn new(least: f64, likely: f64, most: f64) -> Result<Self, ThreePointFault> {
        if [least, likely, most].iter().any(|figure| !(0.0..=TOO_LONG).contains(figure)) {
            return Err(ThreePointFault::Range);
        }
        if least > likely || likely > most {
            return Err(ThreePointFault::Order);
        }
        if most == 0.0 {
            return Err(ThreePointFault::Nothing);
        }
        Ok(Self { least, likely, most })
    }

    /// Around one figure, where no other is known: from 0.8 to 1.8 of it.
    ///
    /// Our own judgement, no source: work is seldom much quicker than thought, and often longer.
    pub fn around(likely: f64) -> Result<Self, ThreePointFault> {
        Self::new(0.8 * likely, likely, 1.8 * likely)
    }

    pub fn least(&self) -> f64 {
        self.least
    }

    pub fn likely(&self) -> f64 {
        self.likely
    }

    pub fn most(&self) -> f64 {
        self.most
    }

    /// PERT's mean: tₑ = (a + 4m + b)/6.
    pub fn mean(&self) -> f64 {
        (self.least + 4.0 * self.likely + self.most) / 6.0
    }

    /// PERT's variance: ((b − a)/6)².
    pub fn variance(&self) -> f64 {
        ((self.most - self.least) / 6.0).powi(2)
    }

    /// The variance of the beta distribution with PERT's mean μ that is drawn from: (μ − a)(b − μ)/7.
    pub fn beta_variance(&self) -> f64 {
        (self.mean() - self.least) * (self.most - self.mean()) / 7.0
    }

    /// The mean of a triangle over the same figures: (a + m + b)/3. It leans further to a far end than PERT's.
    pub fn triangular_mean(&self) -> f64 {
        (self.least + self.likely + self.most) / 3.0
    }

    /// The variance of that triangle: (a² + m² + b² − am − ab − mb)/18.
    pub fn triangular_variance(&self) -> f64 {
        let (am, mb, ab) = (self.likely - self.least, self.most - self.likely, self.most - self.least);
        (am * am + mb * mb + ab * ab) / 36.0
    }
}
