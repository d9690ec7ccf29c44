//! An iron inline six, nearly done: every reading at every sheet, four routes at the mains, one clearance out and accepted.

use super::diary::{Diary, Done, OFFICE, OTHER_TABLET, TABLET, limit, refused};
use super::metal::{Bore, Main, Told, cylinder, reads_journal, reads_main};
use super::photos;
use super::premises::{IKE, INCH_BORE_GAUGE, JUN, MARTA, MICROMETER_2_3, MICROMETER_3_4};
use crate::work::{Audience, Condition, FamilyForm, NewJob, RoundForm, SheetKey};
use std::collections::BTreeMap;

/// As it came: by how much each standard bore of 3.8000 is worn at the top thrust way, in; the rest follows from it.
const WEAR: [f64; 6] = [0.0058, 0.0052, 0.0061, 0.0067, 0.0049, 0.0055];
const STANDARD_BORE: f64 = 3.8000;

/// Honed with the plate on, to 30 over.
const HONED: f64 = 3.8300;
const HONED_BORES: [Bore; 6] = [
    Bore { top: HONED + 1.0e-4, middle: HONED, bottom: HONED, oval: 1.0e-4 },
    Bore { top: HONED, middle: HONED + 0.5e-4, bottom: HONED - 1.0e-4, oval: 0.5e-4 },
    Bore { top: HONED + 0.5e-4, middle: HONED + 0.5e-4, bottom: HONED + 1.0e-4, oval: -1.0e-4 },
    Bore { top: HONED + 2.0e-4, middle: HONED + 1.0e-4, bottom: HONED, oval: 1.5e-4 },
    Bore { top: HONED, middle: HONED, bottom: HONED, oval: 0.5e-4 },
    Bore { top: HONED + 0.5e-4, middle: HONED - 0.5e-4, bottom: HONED, oval: 1.0e-4 },
];
/// By how much the bores grow thrust way at the top where the plate is taken off, in; half of it they lose pin way.
const WITHOUT_PLATE: f64 = 6e-4;

const SKIRTS: [f64; 6] = [3.8280, 3.8279, 3.8281, 3.8280, 3.8280, 3.8279];

/// The mains as they run, front to rear.
const MAINS: [Main; 7] = [
    Main { housing: 2.6871, upper: 0.0976, lower: 0.0976, journal: 2.4898 },
    Main { housing: 2.6872, upper: 0.0976, lower: 0.0976, journal: 2.4898 },
    Main { housing: 2.6870, upper: 0.0976, lower: 0.0976, journal: 2.4897 },
    Main { housing: 2.6872, upper: 0.0976, lower: 0.0977, journal: 2.4899 },
    Main { housing: 2.6871, upper: 0.0976, lower: 0.0976, journal: 2.4897 },
    Main { housing: 2.6876, upper: 0.0976, lower: 0.0976, journal: 2.4896 },
    Main { housing: 2.6871, upper: 0.0976, lower: 0.0976, journal: 2.4898 },
];
/// The pair first tried in main 6 was thinner.
const FIRST_SHELL: f64 = 0.0975;
const LOOSE_MAIN: usize = 5;

/// The phone call, check-in, tear-down, and what is to be done.
pub(super) async fn arrives(diary: &mut Diary<'_>) -> Done<i64> {
    diary.on(38, (9, 10), MARTA, OFFICE);
    let job = diary
        .opens(&NewJob {
            name: "Celeste Worrall".to_owned(),
            phone: "555-0117".to_owned(),
            title: "Tamblyn 246 six, pickup".to_owned(),
            wants: "Burns oil and rattles cold. Daily pickup, tows a small boat: quiet, cool, pulls low down."
                .to_owned(),
            layout: "inline".to_owned(),
            cylinders: "6".to_owned(),
            mains: "7".to_owned(),
            ..NewJob::default()
        })
        .await?;

    diary.on(36, (8, 20), JUN, TABLET);
    let pictures = vec![("serial.jpg", photos::serial("T246-60417", &mut diary.scatter))];
    diary.photographs(job, "check-in", pictures, "Block stamp, right side behind the distributor").await?;
    diary
        .fills_in(job, |form, view| {
            form.firing_order = "1-5-3-6-2-4".to_owned();
            form.block_material = "grey_iron".to_owned();
            form.head_material = "grey_iron".to_owned();
            for field in &view.serials {
                let serial = match field.label.as_str() {
                    "block" => "T246-60417",
                    "crank" => "C-1183",
                    _ => "H-2260",
                };
                form.serials.insert(field.id.clone(), serial.to_owned());
            }
        })
        .await?;
    diary
        .notes(job, Some("check-in"), "Came complete with flywheel, no carburettor. Two studs broken at the exhaust.")
        .await?;
    diary.signs(job, &["check-in"]).await?;

    diary.on(35, (8, 5), IKE, OTHER_TABLET);
    tears_down(diary, job).await?;

    diary.on(34, (10, 30), IKE, OTHER_TABLET);
    diary
        .notes(
            job,
            Some("cracks"),
            "Block and head by magnetic particle: nothing. Head tight at 40 psi for twenty minutes.",
        )
        .await?;
    diary.signs(job, &["cracks"]).await?;

    diary.on(33, (13, 15), MARTA, OFFICE);
    agrees(diary, job).await?;
    Ok(job)
}

async fn tears_down(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    let bores = SheetKey::CylinderBores;
    let condition = Condition { plate: "none".to_owned(), ..Condition::default() };
    diary.begins(job, bores, RoundForm { kind: "received".to_owned(), condition, temperature: String::new() }).await?;
    diary.sets_gauge(job, INCH_BORE_GAUGE, "setting fixture", "3.8000").await?;
    for (index, wear) in WEAR.into_iter().enumerate() {
        let worn = |part: f64| STANDARD_BORE + wear * part;
        let bore = Bore { top: worn(0.88), middle: worn(0.45), bottom: worn(0.18), oval: wear * 0.24 };
        for (slot, size) in bore.sizes() {
            let text = Told::Inch.off(size, STANDARD_BORE, &mut diary.scatter);
            diary.reads(job, bores, &format!("{slot}@{}", cylinder(0, index)), &text).await?;
        }
    }
    let condition = Condition {
        shells: "as they came".to_owned(),
        torque: "80 lbf·ft, old bolts".to_owned(),
        ..Condition::default()
    };
    let round = RoundForm { kind: "received".to_owned(), condition, temperature: String::new() };
    diary.begins(job, SheetKey::MainBearings, round).await?;
    diary.reads(job, SheetKey::MainBearings, "main-clearance@mains", "3.5 - 5 thou").await?;
    let pictures = vec![
        ("crank.jpg", photos::crank(&[1, -1, -1, -1, -1, 1], &mut diary.scatter)),
        ("deck-as-found.jpg", photos::deck(6, false, &mut diary.scatter)),
    ];
    diary.photographs(job, "tear-down", pictures, "As found").await?;
    diary
        .notes(job, Some("tear-down"), "Ridge in all six, worst in 4. Lower shell of main 4 is through to the copper. Caps are stamped 1 to 7, arrow to the front: keep them so.")
        .await?;
    diary.signs(job, &["tear-down"]).await
}

async fn agrees(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary
        .notes(job, Some("agree"), "Agreed by phone: bore 30 over, grind mains 10 under, new pistons and shells, hardened exhaust seats. Call again above the estimate.")
        .await?;
    let targets = [
        ("bore@cylinders", "3.8300"),
        ("stroke@engine", "3.6200"),
        ("rod-length@engine", "6.0600"),
        ("skirt@cylinders", "3.8280"),
        ("piston-clearance@cylinders", "2.0"),
        ("main-journal@mains", "2.4900"),
        ("main-housing@mains", "2.6870"),
        ("main-shell-wall@mains", ".0976"),
        ("main-clearance@mains", "2.0"),
    ];
    diary
        .fills_in(job, |form, _| {
            form.targets = targets.iter().map(|&(key, typed)| (key.to_owned(), typed.to_owned())).collect();
        })
        .await?;
    let (pistons, shells, shop) = ("piston maker's sheet", "shell maker's sheet", "shop practice");
    diary
        .limits(
            job,
            [
                limit("piston-clearance", ("1.5", "2.5"), "room temperature", pistons, "cast pistons, iron block"),
                limit("bore-size", ("3.8295", "3.8305"), "plate on", pistons, "30 over, for the pistons ordered"),
                limit("bore-out-of-round", ("", "0.5"), "plate on", shop, "low-tension rings"),
                limit("bore-taper", ("", "0.5"), "plate on", shop, "low-tension rings"),
                limit("main-clearance-vertical", ("1.5", "2.5"), "caps at 80 lbf·ft", shells, "street, 10W-30"),
                limit("main-clearance-spread", ("", "1.0"), "", shop, "even oil to all seven"),
                limit("main-journal-out-of-round", ("", "0.3"), "", "crank grinder's own", "ground and polished"),
                limit("main-journal-taper", ("", "0.3"), "", "crank grinder's own", "ground and polished"),
            ],
        )
        .await?;
    diary.signs(job, &["agree"]).await
}

/// Main line, parts, crank, bores and deck.
pub(super) async fn is_machined(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    let mains = SheetKey::MainBearings;
    diary.on(27, (9, 0), IKE, OTHER_TABLET);
    let condition = Condition {
        fasteners: "new bolts, washed and oiled".to_owned(),
        lubricant: "30W oil, threads and under the head".to_owned(),
        torque: "80 lbf·ft in three steps".to_owned(),
        shells: "none".to_owned(),
        ..Condition::default()
    };
    diary.begins(job, mains, RoundForm { kind: "machined".to_owned(), condition, temperature: String::new() }).await?;
    diary.sets_gauge(job, INCH_BORE_GAUGE, "micrometer over blocks", "2.6870").await?;
    for (index, main) in MAINS.into_iter().enumerate() {
        // Near the parting line the housing is a shade tighter, as honed.
        for (slot, size) in [("vertical", main.housing), ("parting", main.housing - 0.5e-4)] {
            let text = Told::Inch.off(size, 2.6870, &mut diary.scatter);
            diary.reads(job, mains, &format!("main-housing-{slot}@main.{index}"), &text).await?;
        }
    }
    diary.signs(job, &["main-line"]).await?;

    diary.on(25, (14, 0), JUN, TABLET);
    diary.takes_up(MICROMETER_2_3);
    for (index, main) in MAINS.into_iter().enumerate() {
        reads_journal(diary, job, index, main).await?;
    }
    diary.notes(job, Some("crank"), "Back from the grinder, mains 10 under, radii as they were. Main 6 is two tenths smaller than its neighbours.").await?;
    diary.signs(job, &["crank"]).await?;

    diary.on(24, (11, 0), JUN, TABLET);
    diary.takes_up(MICROMETER_3_4);
    for (index, skirt) in SKIRTS.into_iter().enumerate() {
        let text = Told::Inch.size(skirt, &mut diary.scatter);
        diary.reads(job, SheetKey::Pistons, &format!("skirt@{}", cylinder(0, index)), &text).await?;
    }
    let pictures = vec![("piston.jpg", photos::piston(&mut diary.scatter))];
    diary.photographs(job, "parts", pictures, "Gauge point, 1.100 in below the pin, by the maker's sheet").await?;
    diary.signs(job, &["parts"]).await?;

    diary.on(22, (8, 15), IKE, OTHER_TABLET);
    hones(diary, job).await?;
    diary.on(21, (15, 30), IKE, OTHER_TABLET);
    let pictures = vec![("deck-honed.jpg", photos::deck(6, true, &mut diary.scatter))];
    diary.photographs(job, "deck", pictures, "Deck cut 4 thou, bores honed").await?;
    diary.signs(job, &["deck"]).await
}

async fn hones(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    let bores = SheetKey::CylinderBores;
    let plate = Condition {
        plate: "on, with the gasket that will run".to_owned(),
        torque: "75 lbf·ft".to_owned(),
        fasteners: "head bolts, oiled".to_owned(),
        ..Condition::default()
    };
    let round = RoundForm { kind: "machined".to_owned(), condition: plate, temperature: String::new() };
    diary.begins(job, bores, round).await?;
    diary.sets_gauge(job, INCH_BORE_GAUGE, "micrometer over blocks", "3.8300").await?;
    for (index, bore) in HONED_BORES.into_iter().enumerate() {
        for (slot, size) in bore.sizes() {
            let text = Told::Inch.off(size, HONED, &mut diary.scatter);
            diary.reads(job, bores, &format!("{slot}@{}", cylinder(0, index)), &text).await?;
        }
    }
    // Once without the plate, to see what it does; what counts stays with the plate on.
    let condition = Condition { plate: "off".to_owned(), ..Condition::default() };
    diary.begins(job, bores, RoundForm { kind: "trial".to_owned(), condition, temperature: String::new() }).await?;
    for (index, bore) in HONED_BORES.into_iter().enumerate() {
        for (slot, size) in bore.sizes().into_iter().take(2) {
            let pulled = if slot.ends_with("thrust") { WITHOUT_PLATE } else { -WITHOUT_PLATE / 2.0 };
            let text = Told::Inch.off(size + pulled, HONED, &mut diary.scatter);
            diary.reads(job, bores, &format!("{slot}@{}", cylinder(0, index)), &text).await?;
        }
    }
    diary.lets_count(job, bores, 2).await?;
    diary
        .notes(
            job,
            Some("bore"),
            "Plate off for a look: about a thou oval at the top. The round with the plate on counts.",
        )
        .await?;
    diary.signs(job, &["bore"]).await
}

/// Wash, main bearings, trial assembly.
pub(super) async fn gets_its_bearings(diary: &mut Diary<'_>, job: i64) -> Done<()> {
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
    diary.begins(job, mains, RoundForm { kind: "trial".to_owned(), condition, temperature: String::new() }).await?;
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
    diary.begins(job, mains, RoundForm { kind: "final".to_owned(), condition, temperature: String::new() }).await?;
    diary.takes_up(MICROMETER_2_3);
    for (index, main) in MAINS.into_iter().enumerate() {
        if index == 2 {
            // Two digits exchanged in typing, seen at the next journal.
            let wrong = diary.reads(job, mains, "main-journal-front-0@main.2", "2.4987").await?;
            diary.corrects(job, wrong, "2.4897", "digits exchanged in typing: read again, 2.4897").await?;
            for (slot, size) in main.journal_sizes().into_iter().skip(1) {
                let text = Told::Inch.size(size, &mut diary.scatter);
                diary.reads(job, mains, &format!("{slot}@main.2"), &text).await?;
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
    let pictures = vec![("main-6.jpg", photos::main_cap(6, &[true, true], &mut diary.scatter))];
    diary.photographs(job, "bearings", pictures, "Main 6, down for good").await?;
    diary
        .accepts(
            job,
            "main-clearance-vertical@main.5",
            "three routes and two pairs of shells say the same, it is round and straight, and 1.1 thou an inch is still street",
            "Main bearing 6 runs 0.0028 in, a little over its maker's sheet. Keep to the oil named here; hot at idle the \
             gauge may stand a pound or two lower than its neighbours would give.",
        )
        .await?;
    diary.signs(job, &["bearings"]).await
}

/// Balance, short block, heads, first start.
pub(super) async fn is_put_together(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary.on(10, (16, 45), MARTA, OFFICE);
    diary.done_elsewhere(job, "balance", "Penhallow Balancing, report 5521").await?;
    diary.on(8, (8, 0), JUN, TABLET);
    let pictures = vec![("main-3.jpg", photos::main_cap(3, &[true, true], &mut diary.scatter))];
    diary.photographs(job, "short-block", pictures, "Paint over both bolts after the last step, all seven").await?;
    let note =
        "Mains 80 lbf·ft, rods by stretch 5.5 to 6 thou, all written on the sheet in the box. Turns at 22 lbf·in.";
    diary.notes(job, Some("short-block"), note).await?;
    diary.signs(job, &["short-block"]).await?;
    diary.on(7, (13, 0), MARTA, TABLET);
    diary
        .notes(
            job,
            Some("top-end"),
            "Head bolts 75 lbf·ft. Cam in at 108°, one degree ahead of its card. Lash set cold, to be set again hot.",
        )
        .await?;
    diary.signs(job, &["top-end"]).await
}

pub(super) async fn runs(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary.on(4, (15, 20), JUN, TABLET);
    diary.notes(job, Some("prime"), "Oil at all twelve rockers after forty seconds on the drill, 55 psi.").await?;
    diary.signs(job, &["prime"]).await?;
    diary.on(3, (10, 0), MARTA, TABLET);
    let note = "Twenty-five minutes at 1,800 to 2,400. Hot: 24 psi at idle, 52 at 2,500. Filter cut: lint, nothing that shines. Lash set hot.";
    diary.notes(job, Some("run-in"), note).await?;
    diary.signs(job, &["run-in"]).await
}

/// What the card says of it in words.
const FACTS: [(&str, &str); 21] = [
    ("compression", "8.9 : 1, measured"),
    ("heads", "own casting, 64 cm³, hardened exhaust seats"),
    ("camshaft", "mild grind, 0.412 in lift, in at 108°"),
    ("head-gasket", "composition, 0.039 in crushed"),
    ("oil", "10W-30 with zinc; no thinner"),
    ("oil-quantity", "5 US quarts with filter"),
    ("lash-inlet", "0.012 in hot"),
    ("lash-exhaust", "0.016 in hot"),
    ("timing", "8° at idle, 32° total by 2,800 rpm"),
    ("plugs", "cold end of the maker's range, 0.035 in"),
    ("fuel", "87 octane or better"),
    ("rev-limit", "4,800 rpm"),
    ("oil-pressure-idle", "20 psi or more"),
    ("oil-pressure-hot", "50 psi at 2,500 rpm"),
    ("re-torque", "head at 500 miles, cold, in the order cast on it"),
    ("run-in-1", "Turn it on the starter without plugs until the gauge moves, every time it has stood for weeks."),
    ("run-in-2", "First 50 miles: change speed all the time, never over 2,800 rpm, never idle longer than a minute."),
    ("run-in-3", "Change oil and filter at 100 miles. Cut the filter open, or bring it here."),
    ("run-in-4", "Until 500 miles no trailer and no full load over 3,500 rpm."),
    ("run-in-5", "Come back at 500 miles: head bolts, lash, timing. No charge."),
    ("owner-note", "Keep the old pistons' box: your spare distributor drive is in it."),
];

/// The card, in the owner's edition and the shop's own; and the family kept for the next one.
pub(super) async fn gets_its_card(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary.on(1, (14, 30), MARTA, OFFICE);
    diary
        .fills_in(job, |form, _| {
            form.facts = FACTS.iter().map(|&(key, text)| (key.to_owned(), text.to_owned())).collect();
        })
        .await?;
    let family = FamilyForm {
        name: "Tamblyn 246".to_owned(),
        note:
            "Main 6 comes off the grinder small: measure it first. The oil feed to the rockers is a drilled head bolt, \
               second from the rear: never swap it. Sizes kept here are 30 over and 10 under."
                .to_owned(),
    };
    let doing = diary.next();
    diary.shop.keep_as_family(&doing, job, &family).await.map_err(refused("family"))?;
    let doing = diary.next();
    let chosen =
        BTreeMap::from([("camshaft".to_owned(), Audience::Tuner), ("measured-pistons".to_owned(), Audience::Tuner)]);
    diary.shop.choose_card_lines(&doing, job, &chosen).await.map_err(refused("card lines"))?;
    diary
        .notes(job, Some("hand-over"), "Drained, bunged and on its pallet. She fetches it on Saturday morning.")
        .await?;
    diary.issues(job, Audience::Owner).await?;
    diary.issues(job, Audience::Shop).await.map(|_| ())
}
