//! The six gets its main bearings: tried, changed at one main, fitted, one clearance out and accepted.

use super::super::diary::{Diary, Done, TABLET};
use super::super::metal::{Main, Told, reads_journal, reads_main};
use super::super::photos;
use super::super::premises::{INCH_BORE_GAUGE, JUN, MARTA, MICROMETER_2_3};
use super::MAINS;
use crate::work::{Condition, RoundForm, SheetKey};

/// The pair first tried in main 6 was thinner.
const FIRST_SHELL: f64 = 0.0975;
const LOOSE_MAIN: usize = 5;

/// Wash, main bearings, trial assembly.
pub(in super::super) async fn gets_its_bearings(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary.on(17, (16, 0), JUN, TABLET);
    diary.notes(job, Some("wash"), "Eleven gallery plugs out, eleven in.").await?;
    diary.signs(job, &["wash"]).await?;
    diary.on(16, (9, 30), JUN, TABLET);
    tries_shells(diary, job).await?;
    diary.on(15, (8, 10), JUN, TABLET);
    fits_shells(diary, job).await?;
    diary.on(14, (10, 0), MARTA, TABLET);
    diary
        .notes(job, Some("mock-up"), "Pistons 8 to 9 thou down the hole. Turns free with two fingers on the snout.")
        .await?;
    diary.signs(job, &["mock-up"]).await
}

fn pulled_down(shells: &str) -> Condition {
    Condition {
        fasteners: "new bolts".to_owned(),
        lubricant: "30W oil".to_owned(),
        torque: "80 lbf·ft in three steps".to_owned(),
        shells: shells.to_owned(),
        ..Condition::default()
    }
}

async fn tries_shells(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    let mains = SheetKey::MainBearings;
    let condition = pulled_down("10 under, first set");
    diary.begins(job, mains, RoundForm { kind: "trial".to_owned(), condition, ..RoundForm::default() }).await?;
    for (index, main) in MAINS.into_iter().enumerate() {
        let first = Main { upper: FIRST_SHELL, lower: FIRST_SHELL, ..main };
        let main = if index == LOOSE_MAIN { first } else { main };
        reads_main(diary, job, "main-clearance-vertical", index, main.vertical(), Told::Inch).await?;
    }
    let note = "Main 6 at 3 thou: its pair is a tenth thin each side. Took the thickest pair of the second set for it.";
    diary.notes(job, Some("bearings"), note).await
}

async fn fits_shells(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    let mains = SheetKey::MainBearings;
    let condition = pulled_down("10 under, main 6 from the second set");
    diary.begins(job, mains, RoundForm { kind: "final".to_owned(), condition, ..RoundForm::default() }).await?;
    let crank = SheetKey::Crankshaft;
    diary.begins(job, crank, RoundForm { kind: "final".to_owned(), ..RoundForm::default() }).await?;
    diary.takes_up(MICROMETER_2_3);
    for (index, main) in MAINS.into_iter().enumerate() {
        if index == 2 {
            // Two digits exchanged in typing, kept all the same when asked, and seen at the next journal.
            let wrong = diary.keeps_as_read(job, crank, "main-journal-front-0@main.2", "2.4987").await?;
            diary.corrects(job, wrong, "2.4897", "digits exchanged in typing: read again, 2.4897").await?;
            for (slot, size) in main.journal_sizes().into_iter().skip(1) {
                let text = Told::Inch.size(size, &mut diary.scatter);
                diary.reads(job, crank, &format!("{slot}@main.2"), &text).await?;
            }
        } else {
            reads_journal(diary, job, index, main).await?;
        }
    }
    diary.takes_up(INCH_BORE_GAUGE);
    for (index, main) in MAINS.into_iter().enumerate() {
        let vertical = reads_main(diary, job, "main-clearance-vertical", index, main.vertical(), Told::Inch).await?;
        reads_main(diary, job, "main-clearance-parting", index, main.parting(), Told::Inch).await?;
        if index == LOOSE_MAIN {
            let text = Told::Inch.clearance(main.vertical(), &mut diary.scatter);
            let slot = format!("main-clearance-vertical@main.{index}");
            diary.reads_again(job, mains, &slot, &text, Some(vertical)).await?;
        }
    }
    for index in [0, 3, LOOSE_MAIN] {
        let main = MAINS[index];
        let inside = main.vertical() + main.journal;
        reads_main(diary, job, "main-shell-bore-vertical", index, inside, Told::Inch).await?;
        reads_main(diary, job, "main-shell-bore-parting", index, main.parting() + main.journal, Told::Inch).await?;
    }
    for (index, main) in MAINS.into_iter().enumerate() {
        reads_main(diary, job, "main-housing-vertical", index, main.housing, Told::Inch).await?;
    }
    diary.takes_up("Ball micrometer, 0 to 1 in");
    for (index, main) in MAINS.into_iter().enumerate() {
        reads_main(diary, job, "main-shell-wall-upper", index, main.upper, Told::Inch).await?;
        reads_main(diary, job, "main-shell-wall-lower", index, main.lower, Told::Inch).await?;
    }
    diary.takes_up("Plastic strip, 1 to 3 thou");
    diary.reads(job, mains, "main-plastic-strip@main.5", "3 thou").await?;
    diary.hands_over(MARTA, TABLET);
    let pictures = vec![("main-6.jpg", photos::main_cap(6, [true, true], &mut diary.scatter))];
    diary.photographs(job, "bearings", pictures, "Main 6, down for good").await?;
    diary
        .accepts(
            job,
            "main-clearance-vertical@main.5",
            "four routes and two pairs of shells say the same, it is round and straight, and 1.1 thou an inch is still street",
            "Main bearing 6 runs 0.0028 in, a little over its maker's sheet: keep to the oil named here.",
        )
        .await?;
    diary.signs(job, &["bearings"]).await
}
