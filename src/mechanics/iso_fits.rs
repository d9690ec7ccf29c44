//! Limits of holes and shafts by ISO 286: "60 H7/p6" as sizes, and what the pair gives.
//!
//! Tables up to 180 mm, as fits in engines need them: tolerances IT5 to IT8 and deviations of shafts f to s; holes H.
//! Source: ISO 286-1, Table 1, by two listings that agree; deviations m to s in Narayana, Kannaiah & Reddy, Machine
//! Drawing, Table 15.2; f and g by the formulas of its Table 15.4.

use thiserror::Error;

/// Upper ends of the steps of nominal size, in mm.
const STEPS_MM: [f64; 13] = [3.0, 6.0, 10.0, 18.0, 30.0, 50.0, 65.0, 80.0, 100.0, 120.0, 140.0, 160.0, 180.0];

/// Tolerances in µm by step, IT5 to IT8. Sub-steps above 50 mm share one.
const GRADES: [(u8, [u16; 13]); 4] = [
    (5, [4, 5, 6, 8, 9, 11, 13, 13, 15, 15, 18, 18, 18]),
    (6, [6, 8, 9, 11, 13, 16, 19, 19, 22, 22, 25, 25, 25]),
    (7, [10, 12, 15, 18, 21, 25, 30, 30, 35, 35, 40, 40, 40]),
    (8, [14, 18, 22, 27, 33, 39, 46, 46, 54, 54, 63, 63, 63]),
];

/// Deviation in µm of the end next to the nominal size: the lower of m to s, the upper of f to h.
const SHAFTS: [(char, [i16; 13]); 8] = [
    ('f', [-6, -10, -13, -16, -20, -25, -30, -30, -36, -36, -43, -43, -43]),
    ('g', [-2, -4, -5, -6, -7, -9, -10, -10, -12, -12, -14, -14, -14]),
    ('h', [0; 13]),
    ('m', [2, 4, 6, 7, 8, 9, 11, 11, 13, 13, 15, 15, 15]),
    ('n', [4, 8, 10, 12, 15, 17, 20, 20, 23, 23, 27, 27, 27]),
    ('p', [6, 12, 15, 18, 22, 26, 32, 32, 37, 37, 43, 43, 43]),
    ('r', [10, 15, 19, 23, 28, 34, 41, 43, 51, 54, 63, 65, 68]),
    ('s', [14, 19, 23, 28, 35, 43, 53, 59, 71, 79, 92, 100, 108]),
];

/// A fit of the hole-basis system.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    pub nominal_mm: f64,
    /// Least and largest of the hole and of the shaft, from the nominal size, in m.
    pub hole_m: (f64, f64),
    pub shaft_m: (f64, f64),
}

/// Why a fit is not known here.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum NoSuchFit {
    #[error("enter a fit as size, hole and shaft: 60 H7/p6")]
    NotAFit,
    #[error("the tables here go from above 0 to 180 mm")]
    Size,
    #[error("holes are known here from H5 to H8")]
    Hole,
    #[error("shafts are known here in f, g, h, m, n, p, r and s, grades 5 to 8")]
    Shaft,
}

impl Fit {
    /// Reads "60 H7/p6", the size in mm.
    ///
    /// # Errors
    /// [`NoSuchFit`] with what to enter.
    pub fn parse(text: &str) -> Result<Self, NoSuchFit> {
        let text = text.trim().trim_start_matches(['Ø', 'ø', '⌀']).trim_start();
        let at = text.find(|sign: char| sign.is_ascii_alphabetic()).ok_or(NoSuchFit::NotAFit)?;
        let (size, fit) = text.split_at(at);
        let size = size.trim().replace(',', ".");
        let nominal_mm = size.parse::<f64>().map_err(|_| NoSuchFit::NotAFit)?;
        let fit = fit.trim_start_matches("mm").trim();
        let (hole, shaft) = fit.split_once('/').ok_or(NoSuchFit::NotAFit)?;
        let (hole, hole_grade) = class(hole)?;
        let (shaft, shaft_grade) = class(shaft)?;
        let step = STEPS_MM.iter().position(|end| nominal_mm <= *end).filter(|_| nominal_mm > 0.0);
        let step = step.ok_or(NoSuchFit::Size)?;
        if hole != 'H' {
            return Err(NoSuchFit::Hole);
        }
        let hole_width = tolerance(hole_grade, step).ok_or(NoSuchFit::Hole)?;
        let width = tolerance(shaft_grade, step).ok_or(NoSuchFit::Shaft)?;
        let near = SHAFTS.iter().find(|(letter, _)| *letter == shaft).ok_or(NoSuchFit::Shaft)?.1[step];
        let near = f64::from(near) * 1e-6;
        let shaft_m = if ('f'..='h').contains(&shaft) { (near - width, near) } else { (near, near + width) };
        Ok(Self { nominal_mm, hole_m: (0.0, hole_width), shaft_m })
    }

    /// Least and largest interference in m; below zero is room.
    pub fn interference_m(&self) -> (f64, f64) {
        (self.shaft_m.0 - self.hole_m.1, self.shaft_m.1 - self.hole_m.0)
    }
}

/// Letter and grade of "p6".
fn class(text: &str) -> Result<(char, u8), NoSuchFit> {
    let mut signs = text.trim().chars();
    let letter = signs.next().filter(char::is_ascii_alphabetic).ok_or(NoSuchFit::NotAFit)?;
    let grade = signs.as_str().parse().map_err(|_| NoSuchFit::NotAFit)?;
    Ok((letter, grade))
}

/// The tolerance of a grade at a step, in m.
fn tolerance(grade: u8, step: usize) -> Option<f64> {
    let row = GRADES.iter().find(|(known, _)| *known == grade)?;
    Some(f64::from(row.1[step]) * 1e-6)
}
