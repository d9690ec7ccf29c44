//! What two routes to the same clearances say where they disagree.
//!
//! Route A: housing less shells less journal. Route B: bore with shells fitted, less journal. Common practice, no source.

/// Route A less route B at one bearing, in m, and its expanded uncertainty: `k·√(u_A² + u_B²)`, above zero.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Disagreement {
    pub difference_m: f64,
    pub expanded_m: f64,
}

/// What the differences look like, and so what to look at first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cause {
    /// All bearings are off alike: the zero of a gauge or the torque of the caps. In a soft housing also crush, which opens
    /// the fitted bore: A below B by some thousandths of a millimetre.
    ZeroOrTorque { mean_m: f64 },
    /// One bearing is off and the others agree: dirt under a shell, a cap from elsewhere or turned, a lip at the joint.
    OneBearing { bearing: usize },
    /// A bearing is off by twice a known difference of walls: shells of another family, or a coating not counted (or counted
    /// where there is none). Above zero, the shells fitted are thicker than those counted.
    OtherShell { bearing: usize, wall_difference_m: f64 },
    /// Some bearings are off and nothing above fits: measure them again.
    Unclear,
}

/// All causes that fit the differences of the bearings, in order; none where every bearing agrees.
///
/// A bearing agrees where |difference| is within its expanded uncertainty U. The rules:
/// - other shell: off, and |difference| within U of twice one of the known wall differences (the nearest of them);
/// - one bearing: of two or more, just one is off;
/// - zero or torque: of two or more, at least one is off, all differ the same way, each lies within its U of the mean of
///   all, and that mean is above the mean of the U;
/// - unclear: off, and none of these.
///
/// `wall_differences_m` are those between families and coatings the shop knows, without sign.
pub fn causes(bearings: &[Disagreement], wall_differences_m: &[f64]) -> Vec<Cause> {
    let off: Vec<usize> = (0..bearings.len()).filter(|place| !agrees(bearings[*place], 0.0)).collect();
    let mut causes: Vec<Cause> =
        off.iter().filter_map(|place| other_shell(*place, bearings[*place], wall_differences_m)).collect();
    if let [bearing] = off[..]
        && bearings.len() > 1
    {
        causes.push(Cause::OneBearing { bearing });
    }
    if !off.is_empty() {
        causes.extend(alike(bearings).map(|mean_m| Cause::ZeroOrTorque { mean_m }));
        if causes.is_empty() {
            causes.push(Cause::Unclear);
        }
    }
    causes
}

fn agrees(bearing: Disagreement, with_m: f64) -> bool {
    (bearing.difference_m - with_m).abs() <= bearing.expanded_m
}

fn other_shell(place: usize, off: Disagreement, wall_differences_m: &[f64]) -> Option<Cause> {
    let miss = |wall_m: &f64| (off.difference_m.abs() - 2.0 * wall_m.abs()).abs();
    let wall_m = wall_differences_m.iter().copied().min_by(|one, other| miss(one).total_cmp(&miss(other)))?.abs();
    let wall_difference_m = wall_m.copysign(off.difference_m);
    agrees(off, 2.0 * wall_difference_m).then_some(Cause::OtherShell { bearing: place, wall_difference_m })
}

/// The mean difference where all bearings share it.
fn alike(bearings: &[Disagreement]) -> Option<f64> {
    let mean = |of: fn(&Disagreement) -> f64| bearings.iter().map(of).sum::<f64>() / bearings.len() as f64;
    let mean_m = mean(|bearing| bearing.difference_m);
    let one_way = bearings.iter().all(|bearing| bearing.difference_m * mean_m > 0.0);
    let together = bearings.iter().all(|bearing| agrees(*bearing, mean_m));
    let clear = mean_m.abs() > mean(|bearing| bearing.expanded_m);
    (bearings.len() > 1 && one_way && together && clear).then_some(mean_m)
}
