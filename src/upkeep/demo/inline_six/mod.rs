//! An iron inline six, nearly done: every reading at every sheet, four routes at the mains, one clearance out and accepted.

mod bearings;
mod finish;
mod short_block;

pub(super) use bearings::gets_its_bearings;
pub(super) use finish::{gets_its_card, is_put_together, runs};

use super::diary::{Diary, Done, OFFICE, OTHER_TABLET, TABLET, limit};
use super::metal::{Bore, Main, Told, cylinder, reads_journal};
use super::photos;
use super::premises::{IKE, INCH_BORE_GAUGE, JUN, MARTA, MICROMETER_2_3, MICROMETER_3_4};
use crate::work::{Condition, NewJob, RoundForm, SheetKey};

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
            form.firing_order = "1-5-3-6-2-4".into();
            form.block_material = "grey_iron".into();
            form.head_material = "grey_iron".into();
            form.crank_material = "ductile_iron".into();
            form.rod_material = "carbon_steel".into();
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
    diary.begins(job, bores, RoundForm { kind: "received".to_owned(), condition, ..RoundForm::default() }).await?;
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
    let round = RoundForm { kind: "received".to_owned(), condition, ..RoundForm::default() };
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
        ("rod-journal@throws", "2.0890"),
        ("rod-housing@cylinders", "2.2150"),
        ("rod-shell-wall@cylinders", ".0620"),
        ("rod-clearance@cylinders", "2.0"),
        ("end-play@engine", "6 thou"),
        ("top-ring-gap@cylinders", "15.5 thou"),
        ("second-ring-gap@cylinders", "17 thou"),
        ("housing-warmer@engine", "70"),
        ("journal-warmer@engine", "75"),
        ("lowest-start@engine", "0 °F"),
        ("main-length@mains", ".900"),
        ("main-load@mains", "2500"),
        ("load-speed@engine", "4200"),
        ("oil-at-40@engine", "66"),
        ("oil-at-100@engine", "10.2"),
        ("oil-density@engine", "875"),
        ("oil-temperature@engine", "210 °F"),
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
                limit("rod-clearance-vertical", ("1.5", "2.5"), "bolts by stretch", shells, "street, 10W-30"),
                limit("rod-journal-out-of-round", ("", "0.3"), "", "crank grinder's own", "ground and polished"),
                limit("end-play", ("4", "8"), "", shells, "thrust shell on main 3"),
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
    diary.begins(job, mains, RoundForm { kind: "machined".to_owned(), condition, ..RoundForm::default() }).await?;
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
    let back = RoundForm { kind: "machined".to_owned(), ..RoundForm::default() };
    diary.begins(job, SheetKey::Crankshaft, back).await?;
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
    let round = RoundForm { kind: "machined".to_owned(), condition: plate, ..RoundForm::default() };
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
    diary.begins(job, bores, RoundForm { kind: "trial".to_owned(), condition, ..RoundForm::default() }).await?;
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
