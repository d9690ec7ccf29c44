//! Hours of one step over several jobs in order of time: a dot for what was worked, a bar where it was quoted.

use super::{Drawing, HAIRLINE, HEAVY, LINE, Role, Shape, at};

const TYPE: f64 = 3.7;
const WIDTH: f64 = 120.0;
const LEFT: f64 = 12.0;
const RIGHT: f64 = 104.0;
const TOP: f64 = 4.0;
const FIELD: f64 = 28.0;
const HEIGHT: f64 = TOP + FIELD + 8.0;
const DOT: f64 = 1.3;
/// Half the width of a bar.
const BAR: f64 = 3.0;
/// So many jobs' numbers stand beside each other.
const MOST_NUMBERS: usize = 10;

/// A job with the hours of its step.
#[derive(Clone, Debug, PartialEq)]
pub struct JobHours {
    /// Its number.
    pub job: String,
    pub quoted: Option<f64>,
    pub worked: f64,
}

/// A step over its jobs.
#[derive(Clone, Debug, PartialEq)]
pub struct StepHours {
    pub label: String,
    /// In order of time.
    pub jobs: Vec<JobHours>,
    /// What half of them did not exceed.
    pub half: f64,
    /// All of it in words.
    pub said: String,
}

/// A picture of 120 × 40 mm; hours upwards from zero.
#[must_use]
pub fn step_hours(step: &StepHours) -> Drawing {
    let most = step.jobs.iter().flat_map(|one| [Some(one.worked), one.quoted]).flatten().fold(1.0, f64::max);
    let base = TOP + FIELD;
    let y = |hours: f64| base - hours / most * (FIELD - DOT);
    let pitch = (RIGHT - LEFT) / step.jobs.len().max(1) as f64;
    let mut shapes = vec![Shape::line(at(LEFT - 4.0, base), at(RIGHT + 4.0, base), Role::Faint, HAIRLINE)];
    shapes.push(Shape::line(at(LEFT - 4.0, y(step.half)), at(RIGHT + 4.0, y(step.half)), Role::Faint, HAIRLINE));
    shapes.push(Shape::centred_word(at(RIGHT + 10.0, y(step.half) + 1.2), "half".to_owned(), TYPE, WIDTH));
    let bar = BAR.min(pitch * 0.4);
    // Numbers that would run into each other are left out.
    let every = step.jobs.len().div_ceil(MOST_NUMBERS).max(1);
    for (index, one) in step.jobs.iter().enumerate() {
        let x = LEFT + (index as f64 + 0.5) * pitch;
        if let Some(quoted) = one.quoted {
            shapes.push(Shape::line(at(x - bar, y(quoted)), at(x + bar, y(quoted)), Role::Ink, HEAVY));
            shapes.push(Shape::line(at(x, y(quoted)), at(x, y(one.worked)), Role::Ink, LINE));
        }
        let role = if one.quoted.is_some_and(|quoted| one.worked > quoted) { Role::Ink } else { Role::Dye };
        shapes.push(Shape::dot(at(x, y(one.worked)), DOT, role));
        if index % every == 0 {
            shapes.push(Shape::centred_word(at(x, base + 5.5), one.job.clone(), TYPE, WIDTH));
        }
    }
    Drawing {
        width_mm: WIDTH,
        height_mm: HEIGHT,
        title: format!("Hours quoted and worked: {}", step.label),
        description: step.said.clone(),
        shapes,
        touches: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::soundness::assert_sound;
    use super::*;

    #[test]
    fn a_dot_for_each_job_within_the_sheet() {
        for count in [0, 1, 2, 7, 60] {
            let job = |n: usize| JobHours {
                job: n.to_string(),
                quoted: n.is_multiple_of(2).then_some(4.0),
                worked: n as f64,
            };
            let jobs: Vec<JobHours> = (1..=count).map(job).collect();
            let step = StepHours { label: "Hone".into(), jobs, half: 0.0, said: "said".into() };
            let drawing = step_hours(&step);
            assert_sound(&drawing);
            let dots: Vec<_> = drawing
                .shapes
                .iter()
                .filter_map(|shape| if let Shape::Circle { centre, .. } = shape { Some(*centre) } else { None })
                .collect();
            assert_eq!(dots.len(), count);
            assert!(dots.windows(2).all(|pair| pair[0].x < pair[1].x), "in order of time");
            assert!(
                dots.iter().all(|p| (0.0..=WIDTH).contains(&p.x) && (TOP..=TOP + FIELD).contains(&p.y)),
                "{dots:?}"
            );
        }
    }
}
