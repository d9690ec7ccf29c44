//! A shop that has measured: a vee twelve with every kind of reading on its three sheets, and an engine with none.

use crate::asked::noon;
use witnessmark::work::{
    Condition, GaugeKind, LimitForm, NewCall, NewCorrection, NewEntry, RoundForm, SettingForm, SheetKey, Shop, SlotKey,
    TemperaturesForm, Took,
};

use crate::shop::House;

/// The vee twelve.
const TWELVE: i64 = 1;

/// Two dial bore gauges, a micrometer for the skirts, one for shells.
async fn gauges(house: &House) {
    use witnessmark::work::GaugeForm;
    for (name, kind, step) in [
        ("Dial bore gauge, two-inch", GaugeKind::BoreGauge, "tenth"),
        ("Old dial", GaugeKind::BoreGauge, "thou"),
        ("Micrometer 3–4", GaugeKind::OutsideMicrometer, "tenth"),
        ("Ball micrometer", GaugeKind::BallMicrometer, "tenth"),
    ] {
        let (name, kind, step) = (name.into(), kind.key().into(), step.into());
        let form = GaugeForm { name, kind, step, ..GaugeForm::default() };
        house.shop.keep_gauge(&house.doing(), None, &form).await.expect("a gauge");
    }
}

async fn aim(house: &House, job: i64, targets: &[(&str, &str)]) {
    let mut form = house.shop.job_form(job, crate::asked::noon()).await.expect("a job").form;
    form.firing_order = "1-12-5-8-3-10-6-7-2-11-4-9".into();
    form.targets = targets.iter().map(|(key, typed)| ((*key).to_owned(), (*typed).to_owned())).collect();
    house.shop.change_job(&house.doing(), job, &form).await.expect("targets");
}

async fn limit(house: &House, job: i64, feature: &str, least: &str, most: &str) {
    let form = LimitForm {
        feature: feature.into(),
        least: least.into(),
        most: most.into(),
        source: "piston maker’s sheet 12".into(),
        reason: "first set".into(),
        ..LimitForm::default()
    };
    house.shop.set_limit(&house.doing(), job, &form).await.unwrap_or_else(|why| panic!("{feature}: {why:?}"));
}

/// Takes one reading of a sheet; its number.
async fn read(house: &House, job: i64, sheet: SheetKey, slot: &str, text: &str, saw: Option<i64>) -> i64 {
    let slot = SlotKey::parse(slot);
    let entry = NewEntry { sheet, slot, text: text.into(), checked: false, saw, as_read: true, gauge: None };
    match house.shop.take(&house.doing(), job, &entry).await.unwrap_or_else(|why| panic!("{text}: {why:?}")) {
        Took::Kept { number, .. } | Took::Rival { number } => number,
        Took::Odd { question } => panic!("{question}"),
    }
}

async fn round(house: &House, sheet: SheetKey, kind: &str, condition: Condition) {
    let form = RoundForm {
        kind: kind.into(),
        condition,
        temperatures: TemperaturesForm { parts: "70 F".into(), gauge: String::new() },
    };
    house.shop.begin_round(&house.doing(), TWELVE, sheet, &form).await.expect("a round");
}

/// Job 1 is the vee twelve, job 2 an inline four without readings.
pub async fn measured() -> House {
    let house = House::staffed().await;
    gauges(&house).await;
    house.open("Vee twelve, 6.6 litres, aluminium, out of a lake racer", "vee", 12, 7).await;
    house.open("Inline four, 1.6", "inline", 4, 5).await;
    let targets = [("bore@cylinders", "3.5000"), ("skirt@cylinders", "3.4965"), ("main-journal@mains", "2.7500")];
    aim(&house, TWELVE, &targets).await;
    for (feature, least, most) in [
        ("bore-size", "3.4998", "3.5006"),
        ("bore-out-of-round", "", "0.0005"),
        ("bore-taper", "", "0.0005"),
        ("piston-clearance", "3.2", "4.0"),
    ] {
        limit(&house, TWELVE, feature, least, most).await;
    }
    skirts(&house).await;
    bores(&house, &house.shop).await;
    mains(&house).await;
    house
}

async fn skirts(house: &House) {
    for (bank, index, figure) in (0..2)
        .flat_map(|bank| (0..6).map(move |index| (bank, index)))
        .zip(0..)
        .map(|((bank, index), nth)| (bank, index, ["3.4965", "3.4966", "3.4964", "3.49655", "3.4968"][nth % 5]))
    {
        read(house, TWELVE, SheetKey::Pistons, &format!("skirt@cylinder.{bank}.{index}"), figure, None).await;
    }
}

async fn bores(house: &House, shop: &Shop) {
    use SheetKey::CylinderBores as BORES;
    let gauge = shop.gauges(noon()).await.expect("gauges").into_iter().find(|gauge| gauge.name.contains("two-inch"));
    let setting = SettingForm {
        gauge: gauge.expect("a gauge").id,
        zeroed_on: "ring 3.5000".into(),
        set_to: "3.5000".into(),
        ..SettingForm::default()
    };
    shop.set_gauge(&house.doing(), TWELVE, &setting).await.expect("a setting");
    // As received: worn, top and bottom only, on one bank.
    for index in 0..6 {
        for (height, figure) in [("top", "3.4952"), ("bottom", "3.4940")] {
            read(house, TWELVE, BORES, &format!("bore-{height}-thrust@cylinder.0.{index}"), figure, None).await;
        }
    }
    let condition =
        Condition {
            plate: "on, with the gasket that runs".into(), torque: "72 lbf·ft".into(), ..Condition::default()
        };
    round(house, BORES, "machined", condition).await;
    let steps = ["+2", "+3", "+1", "+2.5", "+2", "+4", "0", "+1", "+3", "+2", "-1", "+9"];
    let mut nth = 0;
    for bank in 0..2 {
        for index in 0..6 {
            for height in ["top", "middle", "bottom"] {
                for way in ["thrust", "pin"] {
                    if (bank, index, height) == (1, 5, "bottom") {
                        continue;
                    }
                    nth += 5;
                    let slot = format!("bore-{height}-{way}@cylinder.{bank}.{index}");
                    read(house, TWELVE, BORES, &slot, steps[nth % steps.len()], None).await;
                }
            }
        }
    }
}

async fn mains(house: &House) {
    use SheetKey::MainBearings as MAINS;
    read(house, TWELVE, MAINS, "main-clearance@mains", "2.0 to 2.6 thou, all seven", None).await;
    round(house, MAINS, "trial", Condition { shells: "standard, lot 4471".into(), ..Condition::default() }).await;
    for (main, figure) in ["2.4", "2.1", "2.59", "3.4", "+22", "2.35"].into_iter().enumerate() {
        read(house, TWELVE, MAINS, &format!("main-clearance-vertical@main.{main}"), figure, None).await;
    }
    for (main, figure) in ["2.7", "2.5"].into_iter().enumerate() {
        read(house, TWELVE, MAINS, &format!("main-clearance-parting@main.{main}"), figure, None).await;
    }
    // Main 2: corrected, then read once more.
    let first = read(house, TWELVE, MAINS, "main-plastic-strip@main.1", "3 thou", None).await;
    let new =
        NewCorrection { text: "2.5".into(), why: "read on the wrong edge of the paper scale".into(), as_read: false };
    house.shop.correct(&house.doing(), TWELVE, first, &new).await.expect("a correction");
    for (slot, figure) in [("front-0", "2.7498"), ("front-90", "2.7496"), ("rear-0", "2.7499"), ("rear-90", "2.7497")] {
        read(house, TWELVE, MAINS, &format!("main-journal-{slot}@main.1"), figure, None).await;
    }
    let first = read(house, TWELVE, MAINS, "main-shell-bore-vertical@main.1", "2.7520", None).await;
    read(house, TWELVE, MAINS, "main-shell-bore-vertical@main.1", "2.75215", Some(first)).await;
    // Main 3: two tablets at once.
    read(house, TWELVE, MAINS, "main-clearance-vertical@main.2", "2.3", None).await;
    // Main 4 is out, and accepted.
    let key = witnessmark::work::FindingKey::parse("main-clearance-vertical@main.3");
    let call = NewCall { because: "Feeds nothing else; same as last time.".into(), for_owner: String::new() };
    house.shop.accept(&house.doing(), TWELVE, &key, &call).await.expect("a call");
}
