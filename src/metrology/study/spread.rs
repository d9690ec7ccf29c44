//! Where the scatter of a study comes from, and whether the gauge will do.

/// Standard deviations that a process or a gauge is said to spread over: 99.73 % of a normal distribution.
const SPREAD: f64 = 6.0;
/// Categories per ratio of part to gauge variation, √2 as the manual prints it (AIAG, from memory).
const PER_CATEGORY: f64 = 1.41;

/// One source of scatter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Component {
    /// Standard deviation, in the unit of the readings.
    pub sd: f64,
    /// The estimate of the variance came out below zero, which no scatter can be: zero stands for it.
    pub below_zero: bool,
}

impl Component {
    pub(super) fn of_variance(variance: f64) -> Self {
        Self { sd: variance.max(0.0).sqrt(), below_zero: variance < 0.0 }
    }
}

/// Where the scatter of a study comes from. None of what it did not vary: with one person nothing is known of people, with
/// one part nothing of parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// The same person on the same part again (equipment variation, EV).
    pub repeatability: Component,
    /// One person against another (appraiser variation, AV).
    pub people: Option<Component>,
    /// People who differ more on some parts than on others; none where pooled into the repeatability.
    pub interaction: Option<Component>,
    /// One part against another (PV).
    pub parts: Option<Component>,
}

impl Spread {
    /// Standard deviation of gauge and people together (GRR).
    pub fn gauge_sd(&self) -> f64 {
        let others = [self.people, self.interaction].into_iter().flatten().map(|part| part.sd);
        others.fold(self.repeatability.sd, f64::hypot)
    }

    /// Standard deviation of everything, parts included (TV); none where only one part was read.
    pub fn total_sd(&self) -> Option<f64> {
        self.parts.map(|parts| parts.sd.hypot(self.gauge_sd()))
    }

    /// A standard deviation in per cent of the total; none where there is no total or it is zero. Such shares do not add up
    /// to 100: their squares do.
    pub fn of_total(&self, sd: f64) -> Option<f64> {
        let total = self.total_sd().filter(|total| *total > 0.0)?;
        Some(100.0 * sd / total)
    }

    /// The part of the total variance that a standard deviation makes, in per cent: these add up to 100.
    pub fn of_variance(&self, sd: f64) -> Option<f64> {
        self.of_total(sd).map(|share| share * share / 100.0)
    }

    /// How much of a tolerance a spread of six standard deviations takes, in per cent; `tolerance` is the whole width, in the unit
    /// of `sd`. None of a tolerance that is not above zero.
    pub fn of_tolerance(sd: f64, tolerance: f64) -> Option<f64> {
        (tolerance > 0.0).then(|| 100.0 * SPREAD * sd / tolerance)
    }

    /// How many classes of parts the gauge can tell apart, 1.41 · PV / GRR; its whole part counts. None where parts were
    /// not varied or the gauge shows no scatter.
    pub fn categories(&self) -> Option<f64> {
        let gauge = self.gauge_sd();
        self.parts.filter(|_| gauge > 0.0).map(|parts| PER_CATEGORY * parts.sd / gauge)
    }
}

/// What a share in per cent of the total or of the tolerance is taken for: the AIAG's guideline, from memory. No verdict.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Guide {
    /// Below 10 %.
    Good,
    /// 10 % to 30 %.
    Marginal,
    /// Above 30 %.
    Poor,
}

impl Guide {
    pub fn of(per_cent: f64) -> Self {
        match per_cent {
            p if p < 10.0 => Self::Good,
            p if p <= 30.0 => Self::Marginal,
            _ => Self::Poor,
        }
    }

    /// As it is said, with what it means.
    pub fn words(self) -> &'static str {
        match self {
            Self::Good => "good (below 10 %)",
            Self::Marginal => "may do, depending on the job (10 to 30 %)",
            Self::Poor => "not good enough (above 30 %)",
        }
    }
}
