//! The rods, rings and the crank of the six go in: journals, clearances, gaps, end play, and what turns it.

use super::super::diary::{Diary, Done, TABLET};
use super::super::metal::{Told, cylinder};
use super::super::premises::{INCH_BORE_GAUGE, JUN, MICROMETER_2_3};
use crate::work::{Condition, RoundForm, SheetKey, TighteningForm};

/// Rod journals as ground, ten thou under, and what each bearing leaves, in inches.
const RODS: [(f64, f64); 6] =
    [(2.0888, 0.0020), (2.0889, 0.0019), (2.0888, 0.0021), (2.0887, 0.0022), (2.0888, 0.0020), (2.0889, 0.0019)];
/// End gaps of top and second ring, filed, in thou.
const GAPS: [(&str, &str); 6] =
    [("16.0", "17.5"), ("16.5", "17.5"), ("16.0", "18.0"), ("16.0", "17.5"), ("16.5", "18.0"), ("16.0", "17.5")];
/// Torque with one piston after the other in, in lbf·in.
const TURNING: [u32; 6] = [9, 11, 14, 16, 19, 22];

pub(super) async fn measures(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary.on(9, (8, 10), JUN, TABLET);
    reads_crank(diary, job).await?;
    reads_rods(diary, job).await?;
    reads_rings(diary, job).await
}

async fn reads_crank(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    let crank = SheetKey::Crankshaft;
    // In the round that the main journals were read in.
    diary.takes_up(MICROMETER_2_3);
    for (index, (journal, _)) in RODS.into_iter().enumerate() {
        for (at, off) in [("front-0", 0.0), ("front-90", 0.5e-4), ("rear-0", 0.3e-4), ("rear-90", 0.8e-4)] {
            let text = Told::Inch.size(journal - off, &mut diary.scatter);
            diary.reads(job, crank, &format!("rod-journal-{at}@throw.{index}"), &text).await?;
        }
    }
    for (cap, play) in ["5.5", "5.5", "5.4", "5.0", "5.0", "5.0", "5.0"].into_iter().enumerate() {
        diary.reads(job, crank, &format!("end-play-at-cap@main.{cap}"), play).await?;
    }
    diary.reads(job, crank, "end-play@engine", "5.0").await?;
    diary.reads(job, crank, "turning-crank@engine", "7").await.map(|_| ())
}

async fn reads_rods(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    let rods = SheetKey::RodBearings;
    let condition = Condition {
        fasteners: "new bolts".to_owned(),
        lubricant: "30W oil".to_owned(),
        torque: "stretch 5.5 to 6 thou".to_owned(),
        shells: "10 under".to_owned(),
        ..Condition::default()
    };
    diary.begins(job, rods, RoundForm { kind: "final".to_owned(), condition, ..RoundForm::default() }).await?;
    diary.takes_up(INCH_BORE_GAUGE);
    for (index, (_, clearance)) in RODS.into_iter().enumerate() {
        let text = Told::Inch.clearance(clearance, &mut diary.scatter);
        diary.reads(job, rods, &format!("rod-clearance-vertical@{}", cylinder(0, index)), &text).await?;
    }
    Ok(())
}

async fn reads_rings(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    let rings = SheetKey::Rings;
    diary.begins(job, rings, RoundForm { kind: "final".to_owned(), ..RoundForm::default() }).await?;
    for (index, (top, second)) in GAPS.into_iter().enumerate() {
        diary.reads(job, rings, &format!("ring-gap-top@{}", cylinder(0, index)), top).await?;
        diary.reads(job, rings, &format!("ring-gap-second@{}", cylinder(0, index)), second).await?;
    }
    Ok(())
}

/// Pistons in one by one, and every fastener as it was pulled down.
pub(super) async fn closes(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    for (index, torque) in TURNING.into_iter().enumerate() {
        let slot = format!("turning-with-piston@{}", cylinder(0, index));
        diary.reads(job, SheetKey::Crankshaft, &slot, &torque.to_string()).await?;
    }
    let tightened = |fasteners: &str, to: &str, steps: &str, exceptions: &str| TighteningForm {
        fasteners: fasteners.to_owned(),
        to: to.to_owned(),
        steps: steps.to_owned(),
        in_order: true,
        exceptions: exceptions.to_owned(),
        lubricant: "30W oil".to_owned(),
        ..TighteningForm::default()
    };
    let mains = tightened("main caps, 14 bolts", "80 lbf·ft", "30, 60, 80", "");
    diary.tightens(job, "short-block", mains).await?;
    let rods = tightened(
        "rod bolts, 12",
        "5.8 thou",
        "",
        "rod 4, rear bolt: 5.5 thou, least of all, within its maker’s 5.5 to 6",
    );
    diary.tightens(job, "short-block", rods).await
}
