//! A small vintage four in millimetres: built here once and gone, then back for a refresh that is read by ranges and by eye.

use super::diary::{Diary, Done, OFFICE, OTHER_TABLET, TABLET, limit, refused};
use super::metal::{Bore, Told, cylinder};
use super::money;
use super::photos;
use super::premises::{IKE, JUN, MARTA, METRIC_BORE_GAUGE, MICROMETER_50_75};
use crate::work::{Audience, Condition, FamilyForm, NewJob, RoundForm, SheetKey};

const BORES: [Bore; 4] = [
    Bore { top: 66.503, middle: 66.502, bottom: 66.501, oval: 0.002 },
    Bore { top: 66.502, middle: 66.500, bottom: 66.499, oval: 0.003 },
    Bore { top: 66.501, middle: 66.501, bottom: 66.500, oval: 0.002 },
    Bore { top: 66.504, middle: 66.502, bottom: 66.500, oval: 0.004 },
];
const SKIRTS: [f64; 4] = [66.430, 66.429, 66.431, 66.430];
/// Vertical, front to rear, mm.
const CLEARANCES: [f64; 3] = [0.045, 0.049, 0.051];

fn owner() -> (String, String) {
    ("Ines Quill".to_owned(), "555-0128".to_owned())
}

/// The first build, a good year ago; its family is kept.
pub(super) async fn is_built(diary: &mut Diary<'_>) -> Done<i64> {
    diary.on(305, (10, 0), MARTA, OFFICE);
    let (name, phone) = owner();
    let job = diary
        .opens(&NewJob {
            name,
            phone,
            title: "Wherry light four, tourer".to_owned(),
            wants: "Laid up since her grandfather: to run gently, all day, on the hills.".to_owned(),
            layout: "inline".to_owned(),
            cylinders: "4".to_owned(),
            mains: "3".to_owned(),
            unit: "millimetre".to_owned(),
            ..NewJob::default()
        })
        .await?;
    describes(diary, job).await?;
    money::first_is_quoted(diary, job).await?;
    diary.signs(job, &["check-in", "tear-down", "cracks", "agree"]).await?;
    diary.on(296, (9, 0), IKE, OTHER_TABLET);
    measures(diary, job).await?;
    diary.on(280, (11, 0), MARTA, OFFICE);
    diary.leaves_out(job, &["balance"]).await?;
    diary.signs(job, &["parts", "main-line", "crank", "bore", "deck", "wash", "bearings", "mock-up"]).await?;
    diary.signs(job, &["short-block", "top-end", "prime", "run-in"]).await?;
    let family = FamilyForm {
        name: "Wherry light four".to_owned(),
        note: "Oil at 0.7 bar and no more: do not look for the leak. The crank nut has a left-hand thread. Long soft \
               studs: never pull them down hot. Shells turned from thin-wall blanks, no maker's sheet for them."
            .to_owned(),
        ..FamilyForm::default()
    };
    let doing = diary.next();
    diary.shop.keep_as_family(&doing, job, &family).await.map_err(refused("family"))?;
    diary.issues(job, Audience::Owner).await?;
    diary.signs(job, &["hand-over"]).await?;
    money::first_is_settled(diary, job).await?;
    Ok(job)
}

async fn describes(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    let targets = [
        ("bore@cylinders", "66.500"),
        ("stroke@engine", "112.00"),
        ("rod-length@engine", "205.00"),
        ("skirt@cylinders", "66.430"),
        ("piston-clearance@cylinders", "70"),
        ("main-journal@mains", "42.000"),
        ("main-clearance@mains", "48"),
    ];
    let facts = [
        ("compression", "5.6 : 1, measured"),
        ("oil", "SAE 30, changed with the seasons"),
        ("oil-quantity", "4 L, no filter"),
        ("lash-inlet", "0.10 mm hot"),
        ("lash-exhaust", "0.15 mm hot"),
        ("rev-limit", "3,200 rpm"),
        ("oil-pressure-hot", "0.7 bar at 30 mph"),
        ("run-in-1", "Prime by hand through the cup before the first start of the year."),
        ("run-in-2", "500 miles under 2,000 rpm, then 500 under 2,500."),
    ];
    diary
        .fills_in(job, |form, view| {
            form.firing_order = "1-2-4-3".into();
            form.block_material = "grey_iron".into();
            form.head_material = "grey_iron".into();
            for (field, serial) in view.serials.iter().zip(["W-3307", "W-3307", "W-3295"]) {
                form.serials.insert(field.id.clone(), serial.to_owned());
            }
            form.targets = targets.iter().map(|&(key, typed)| (key.to_owned(), typed.to_owned())).collect();
            form.facts = facts.iter().map(|&(key, text)| (key.to_owned(), text.to_owned())).collect();
        })
        .await?;
    let practice = "shop practice, no maker's sheet";
    diary
        .limits(
            job,
            [
                limit("piston-clearance", ("60", "90"), "", practice, "long skirts, slow, low compression"),
                limit("bore-out-of-round", ("", "15"), "", practice, "wide rings"),
                limit(
                    "main-clearance-vertical",
                    ("40", "60"),
                    "",
                    practice,
                    "low pressure: a little tight rather than loose",
                ),
            ],
        )
        .await
}

async fn measures(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    let (bores, pistons, mains) = (SheetKey::CylinderBores, SheetKey::Pistons, SheetKey::MainBearings);
    let round = || RoundForm { kind: "final".to_owned(), ..RoundForm::default() };
    diary.begins(job, pistons, round()).await?;
    diary.takes_up(MICROMETER_50_75);
    for (index, skirt) in SKIRTS.into_iter().enumerate() {
        let text = Told::Millimetre.size(skirt, &mut diary.scatter);
        diary.reads(job, pistons, &format!("skirt@{}", cylinder(0, index)), &text).await?;
    }
    diary.begins(job, bores, round()).await?;
    diary.takes_up(METRIC_BORE_GAUGE);
    for (index, bore) in BORES.into_iter().enumerate() {
        for (slot, size) in bore.sizes() {
            let text = Told::Millimetre.size(size, &mut diary.scatter);
            diary.reads(job, bores, &format!("{slot}@{}", cylinder(0, index)), &text).await?;
        }
    }
    diary.begins(job, mains, round()).await?;
    for (index, clearance) in CLEARANCES.into_iter().enumerate() {
        let text = Told::Millimetre.clearance(clearance, &mut diary.scatter);
        diary.reads(job, mains, &format!("main-clearance-vertical@main.{index}"), &text).await?;
    }
    Ok(())
}

/// Back after its first season.
pub(super) async fn comes_back(diary: &mut Diary<'_>, first: i64) -> Done<i64> {
    diary.on(13, (9, 40), MARTA, OFFICE);
    let (name, phone) = owner();
    let job = diary
        .opens(&NewJob {
            name,
            phone,
            title: "Wherry light four, tourer: refresh".to_owned(),
            wants: "Uses oil downhill since the autumn. Look inside, rings and valves, nothing more than it needs."
                .to_owned(),
            engine_of: first.to_string(),
            kind: "refresh".to_owned(),
            ..NewJob::default()
        })
        .await?;
    diary.on(12, (8, 30), JUN, TABLET);
    let pictures = vec![("serial.jpg", photos::serial("W-3307", &mut diary.scatter))];
    diary.photographs(job, "check-in", pictures, "Our own seal still on the sump").await?;
    diary.signs(job, &["check-in"]).await?;
    diary.on(11, (10, 0), IKE, OTHER_TABLET);
    looks_inside(diary, job).await?;
    diary.on(10, (14, 10), MARTA, OFFICE);
    diary
        .notes(job, Some("agree"), "Agreed: rings, valves lapped, guides reamed and bushed. Bottom end stays as it is.")
        .await?;
    money::refresh_is_quoted(diary, job).await?;
    diary.leaves_out(job, &["cracks", "main-line", "crank", "deck", "bearings", "mock-up", "balance"]).await?;
    diary.signs(job, &["agree"]).await?;
    Ok(job)
}

async fn looks_inside(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    let (bores, pistons, mains) = (SheetKey::CylinderBores, SheetKey::Pistons, SheetKey::MainBearings);
    let round = || RoundForm {
        kind: "refresh".to_owned(),
        condition: Condition { shells: "as run".to_owned(), ..Condition::default() },
        ..RoundForm::default()
    };
    diary.begins(job, mains, round()).await?;
    diary.reads(job, mains, "main-clearance@mains", "48-56 all three").await?;
    diary
        .checks(job, mains, "main-clearance@main.1", "cap not disturbed: no play by hand, turns free, shims sealed")
        .await?;
    diary.begins(job, bores, round()).await?;
    diary.takes_up(METRIC_BORE_GAUGE);
    diary.reads(job, bores, "bore@cylinders", "66.505 - 66.515").await?;
    diary.begins(job, pistons, round()).await?;
    diary.takes_up(MICROMETER_50_75);
    diary.reads(job, pistons, "skirt-stated@cylinders", "66.425 - 66.430").await?;
    let pictures = vec![("deck.jpg", photos::deck(4, true, &mut diary.scatter))];
    diary.photographs(job, "tear-down", pictures, "Hone marks still there in all four").await?;
    diary
        .notes(job, Some("tear-down"), "Top rings fine, oil rings tired. Inlet guides 2 and 3 loose: that is the oil.")
        .await?;
    diary.signs(job, &["tear-down"]).await
}

/// Rings in, head on the bench.
pub(super) async fn goes_together(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary.on(3, (14, 0), IKE, OTHER_TABLET);
    diary.signs(job, &["parts", "bore", "wash"]).await?;
    diary.on(2, (9, 15), JUN, TABLET);
    diary.signs(job, &["short-block"]).await?;
    diary.notes(job, Some("top-end"), "Guides bushed. Valves 1 to 4 lapped, 5 to 8 to do.").await?;
    money::refresh_is_worked(diary, job).await
}
