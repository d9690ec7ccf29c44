//! An aluminium vee eight waiting for its pistons: bores half read, two readings at odds, one main out and not yet
//! called, work stopped at a cap.

use super::diary::{Diary, Done, OFFICE, OTHER_TABLET, TABLET, limit};
use super::metal::{Bore, Main, Told, cylinder, reads_journal, reads_main};
use super::photos;
use super::premises::{IKE, INCH_BORE_GAUGE, JUN, MARTA, MICROMETER_2_3};
use crate::work::{Condition, LimitForm, NewJob, RoundForm, SheetKey, TemperaturesForm};

const JOURNAL: f64 = 2.7498;
/// Vertical clearances front to rear, as the shells came, in.
const CLEARANCES: [f64; 5] = [0.0024, 0.0025, 0.0032, 0.0024, 0.0026];

/// Plated, hardly worn; cylinders 1 to 5 of bank 1 and the first of bank 2.
const BORES: [Bore; 5] = [
    Bore { top: 4.0803, middle: 4.0801, bottom: 4.0801, oval: 1.5e-4 },
    Bore { top: 4.0802, middle: 4.0801, bottom: 4.0800, oval: 1.0e-4 },
    Bore { top: 4.0804, middle: 4.0802, bottom: 4.0801, oval: 2.0e-4 },
    Bore { top: 4.0802, middle: 4.0800, bottom: 4.0801, oval: 0.5e-4 },
    Bore { top: 4.0803, middle: 4.0802, bottom: 4.0800, oval: 1.0e-4 },
];

pub(super) async fn arrives(diary: &mut Diary<'_>) -> Done<i64> {
    diary.on(30, (11, 40), MARTA, OFFICE);
    let job = diary
        .opens(&NewJob {
            name: "Hob Tarrant".to_owned(),
            phone: "555-0163".to_owned(),
            title: "Callow alloy eight, hill climb".to_owned(),
            wants: "More of the middle, 6,800 rpm, five events a year. Forged pistons; keep the plated bores if they are good."
                .to_owned(),
            layout: "vee".to_owned(),
            cylinders: "8".to_owned(),
            mains: "5".to_owned(),
            ..NewJob::default()
        })
        .await?;
    diary.on(29, (8, 30), JUN, TABLET);
    diary
        .fills_in(job, |form, view| {
            // Bank by bank, as cast on the inlet manifold.
            form.numbering = "1 2 3 4, 5 6 7 8".into();
            form.firing_order = "1-5-4-2-6-3-7-8".into();
            form.block_material = "cast_aluminium".into();
            form.head_material = "cast_aluminium".into();
            for (field, serial) in view.serials.iter().zip(["T8-20931", "C-0440", "R-711", "R-712"]) {
                form.serials.insert(field.id.clone(), serial.to_owned());
            }
        })
        .await?;
    let pictures = vec![("serial.jpg", photos::serial("T8-20931", &mut diary.scatter))];
    diary.photographs(job, "check-in", pictures, "Block stamp, valley").await?;
    diary.signs(job, &["check-in"]).await?;
    diary.on(28, (9, 0), IKE, OTHER_TABLET);
    diary
        .notes(
            job,
            Some("tear-down"),
            "Main studs all up from the block a turn: helical inserts in 3 and 4. Bores bright, no flaking seen.",
        )
        .await?;
    diary.signs(job, &["tear-down"]).await?;
    Ok(job)
}

/// Tested, agreed, parts on order; the bores half read.
pub(super) async fn is_agreed(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary.on(20, (10, 15), MARTA, OFFICE);
    diary.done_elsewhere(job, "cracks", "Bellwether Pressure Testing, certificate 1188").await?;
    diary.on(19, (13, 30), MARTA, OFFICE);
    agrees(diary, job).await?;
    diary.on(18, (9, 20), IKE, OTHER_TABLET);
    reads_half_the_bores(diary, job).await
}

async fn agrees(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    let targets = [
        ("bore@cylinders", "4.0800"),
        ("stroke@engine", "3.6600"),
        ("rod-length@engine", "6.1250"),
        ("skirt@cylinders", "4.0755"),
        ("piston-clearance@cylinders", "4.5"),
        ("main-journal@mains", "2.7498"),
        ("main-housing@mains", "2.9410"),
        ("main-shell-wall@mains", ".0944"),
        ("main-clearance@mains", "2.4"),
    ];
    diary
        .fills_in(job, |form, _| {
            form.targets = targets.iter().map(|&(key, typed)| (key.to_owned(), typed.to_owned())).collect();
        })
        .await?;
    let per_inch = LimitForm {
        per_diameter: true,
        ..limit(
            "main-clearance-vertical",
            ("0.75", "1.0"),
            "block at 70 °F",
            "shop practice",
            "alloy block: it opens warm",
        )
    };
    diary
        .limits(
            job,
            [
                per_inch,
                limit(
                    "piston-clearance",
                    ("4.0", "5.5"),
                    "",
                    "piston maker's sheet",
                    "forged, plated bore, sustained load",
                ),
                limit("bore-out-of-round", ("", "0.6"), "", "shop practice", "plated bores are measured, not honed"),
                limit("bore-taper", ("", "0.6"), "", "shop practice", "plated bores are measured, not honed"),
            ],
        )
        .await?;
    diary
        .notes(
            job,
            Some("agree"),
            "Forged pistons, studs in place of main bolts, crank checked and polished. He brings the sump.",
        )
        .await?;
    diary.signs(job, &["agree"]).await?;
    diary.notes(job, Some("parts"), "Pistons and rings ordered, six weeks. Shells and studs in.").await
}

async fn reads_half_the_bores(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    let bores = SheetKey::CylinderBores;
    let condition = Condition { plate: "none".to_owned(), ..Condition::default() };
    let round = RoundForm { kind: "received".to_owned(), condition, temperatures: at_70_fahrenheit() };
    diary.begins(job, bores, round).await?;
    diary.sets_gauge(job, INCH_BORE_GAUGE, "setting fixture", "4.0800").await?;
    for (number, bore) in BORES.into_iter().enumerate() {
        let place = cylinder(number / 4, number % 4);
        // The fifth was left when the telephone rang.
        let read = if number == 4 { 3 } else { 6 };
        for (slot, size) in bore.sizes().into_iter().take(read) {
            let text = Told::Inch.off(size, 4.08, &mut diary.scatter);
            diary.reads(job, bores, &format!("{slot}@{place}"), &text).await?;
        }
    }
    // The other tablet had the page open from before, and did not see that cylinder 3 was read.
    diary.hands_over(JUN, TABLET);
    diary.reads_as_rival(job, bores, "bore-top-thrust@cylinder.0.2", "4.0811").await?;
    diary
        .notes(
            job,
            None,
            "Jun had 4.0811 at the top of 3: a flake under the anvil, or a worn spot? Look again in better light.",
        )
        .await
}

/// The crank comes back; the mains are tried, and one is out.
pub(super) async fn tries_its_mains(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    let mains = SheetKey::MainBearings;
    diary.on(6, (9, 0), JUN, TABLET);
    let back = RoundForm { kind: "machined".to_owned(), temperatures: at_70_fahrenheit(), ..RoundForm::default() };
    diary.begins(job, SheetKey::Crankshaft, back).await?;
    diary.takes_up(MICROMETER_2_3);
    for index in 0..CLEARANCES.len() {
        let main = Main { housing: 2.9410, upper: 0.0944, lower: 0.0944, journal: JOURNAL };
        reads_journal(diary, job, index, main).await?;
    }
    let pictures = vec![("crank.jpg", photos::crank(&[1, -1, -1, 1], &mut diary.scatter))];
    diary.photographs(job, "crank", pictures, "Polished, plugs out").await?;
    diary.signs(job, &["crank"]).await?;

    diary.on(5, (13, 10), JUN, TABLET);
    let condition = Condition {
        fasteners: "new studs".to_owned(),
        lubricant: "moly paste".to_owned(),
        torque: "60, 85, 100 lbf·ft".to_owned(),
        shells: "standard, first set".to_owned(),
        ..Condition::default()
    };
    diary
        .begins(job, mains, RoundForm { kind: "trial".to_owned(), condition, temperatures: at_70_fahrenheit() })
        .await?;
    for (index, clearance) in CLEARANCES.into_iter().enumerate() {
        reads_main(diary, job, "main-clearance-vertical", index, clearance, Told::Inch).await?;
        reads_main(diary, job, "main-clearance-parting", index, clearance + 0.0008, Told::Inch).await?;
    }
    diary.notes(job, Some("main-line"), "Main 3 too loose. Journal is right, so it is housing or shells: swap the pair with main 1 and look where it goes.").await
}

pub(super) async fn is_left_half_done(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary.on(2, (16, 50), JUN, TABLET);
    let pictures = vec![("main-3.jpg", photos::main_cap(3, [true, false], &mut diary.scatter))];
    diary.photographs(job, "main-line", pictures, "Pulling down again, shells of 1 and 3 changed over").await?;
    diary.stops(job, "main-line", "main cap 3, second torque step").await
}

/// The shop as it is in that season, parts and gauges alike.
fn at_70_fahrenheit() -> TemperaturesForm {
    TemperaturesForm { parts: "70 °F".to_owned(), gauge: String::new() }
}
