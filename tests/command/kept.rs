//! A record on disk for the commands to read: one job with a bit of everything.

use jiff::{SignedDuration, Timestamp};
use tempfile::TempDir;
use witnessmark::work::{
    Audience, Doing, EndingForm, FindingKey, GaugeForm, LimitForm, NewCall, NewCorrection, NewEntry, NewJob,
    PersonForm, Photo, RoundForm, SettingForm, SheetKey, Shop, SlotKey, StudyEntry, StudyForm, TighteningForm,
};

pub const HAND: &str = "Ada Pell";
pub const PHONE: &str = "555 0101";
/// The digest of a tablet's session.
pub const SESSION: &str = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

/// A shop that was closed again.
pub struct Kept {
    folder: TempDir,
    /// Public id of the hand.
    pub hand: String,
}

impl Kept {
    /// The folder, as an argument.
    pub fn data(&self) -> &str {
        self.folder.path().to_str().expect("UTF-8")
    }

    pub fn with_a_job() -> Self {
        tokio::runtime::Runtime::new().expect("a runtime").block_on(Self::filled())
    }

    async fn filled() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let shop = Shop::open(folder.path()).await.expect("an empty record");
        let mut act = Acts { hand: None, count: 0 };
        let hand = PersonForm { name: HAND.into(), phone: "555 0199".into() };
        let hand = shop.add_hand(&act.next(), &hand).await.expect("a hand");
        act.hand = Some(hand.clone());
        let job = open(&shop, &mut act).await;
        measure(&shop, &mut act, job).await;
        let note = "Cap 3 sits proud on the left.";
        shop.add_note(&act.next(), job, Some("check-in"), note).await.expect("a note");
        shop.add_note(&act.next(), job, None, "Of another engine.").await.expect("a note");
        for (name, caption) in [("cap3.jpg", "Cap 3"), ("cap4.jpg", "Of another engine")] {
            let photo = Photo { name: name.into(), bytes: picture() };
            shop.add_photos(&act.next(), job, None, vec![photo], caption).await.expect("a photo");
        }
        let view = shop.job(job, act.next().at).await.expect("the job");
        shop.withdraw_note(&act.next(), job, view.notes[0].id).await.expect("withdrawn");
        shop.withdraw_photo(&act.next(), job, view.photos[0].id).await.expect("withdrawn");
        let call = NewCall { because: "the pump is larger".into(), for_owner: "Main 1 runs wide.".into() };
        let out = FindingKey::parse("main-clearance-vertical@main.0");
        shop.accept(&act.next(), job, &out, &call).await.expect("a call");
        shop.sign_step(&act.next(), job, "check-in", None, "").await.expect("signed");
        shop.stop_here(&act.next(), job, "tear-down", "main cap 3").await.expect("a mark");
        said_at_once(&shop, &mut act, job).await;
        let saw = shop.ending(job, act.next().at).await.expect("a page").saw;
        let day = "2026-03-02".to_owned();
        let ending = EndingForm { saw, kind: "cancelled".into(), day, ..EndingForm::default() };
        shop.end_job(&act.next(), job, &ending).await.expect("ended");
        shop.take_ending_back(&act.next(), job).await.expect("taken back");
        shop.issue_card(&act.next(), job, Audience::Owner).await.expect("a card");
        shop.set_pin(&act.next(), "2580").await.expect("a PIN");
        shop.let_tablet_in(&act.next(), "Bench by the window", SESSION).await.expect("a tablet");
        shop.close().await;
        Self { folder, hand }
    }
}

/// What is said of many things at once, what was taken back, and a study of the gauge.
async fn said_at_once(shop: &Shop, act: &mut Acts, job: i64) {
    shop.stop_here(&act.next(), job, "tear-down", "head gasket").await.expect("a mark");
    let step = shop.step(job, "tear-down", act.next().at).await.expect("the step");
    let mark = step.stopped.iter().find(|(_, words, _)| words == "head gasket").expect("it").0;
    shop.resume(&act.next(), job, mark).await.expect("resumed");
    let other = FindingKey::parse("main-clearance-vertical@main.1");
    let call = NewCall { because: "typed on the wrong main".into(), for_owner: String::new() };
    shop.accept(&act.next(), job, &other, &call).await.expect("a call");
    shop.take_call_back(&act.next(), job, &other).await.expect("taken back");
    let caps = TighteningForm {
        fasteners: "main caps".into(),
        to: "70 lbf·ft".into(),
        steps: "30, 50, 70".into(),
        in_order: true,
        exceptions: "bolt 4: 65, thread pulled".into(),
        ..TighteningForm::default()
    };
    shop.tighten(&act.next(), job, "tear-down", &caps).await.expect("tightened");
    shop.read_twice(&act.next(), job, &["skirt".to_owned()]).await.expect("asked for");
    let form = RoundForm { kind: "final".into(), ..RoundForm::default() };
    shop.begin_round(&act.next(), job, SheetKey::MainBearings, &form).await.expect("a round");
    shop.recheck(&act.next(), job, (SheetKey::MainBearings, 2, 1), None).await.expect("checked again");
    let gauge = shop.gauges(act.next().at).await.expect("gauges").first().expect("the one").id.clone();
    let study = StudyForm {
        measured: "ring, 4.377 in".into(),
        unit: "thou".into(),
        people: act.hand.clone().into_iter().collect(),
        parts: "2".into(),
        trials: "2".into(),
        ..StudyForm::default()
    };
    let study = shop.plan_study(&act.next(), &gauge, &study).await.expect("a study");
    let entry = StudyEntry { spot: "1.1.1".into(), text: "1.9".into(), ..StudyEntry::default() };
    shop.take_in_study(&act.next(), &study, &entry).await.expect("a reading");
}

async fn open(shop: &Shop, act: &mut Acts) -> i64 {
    let new = NewJob {
        name: "R. Quill".into(),
        phone: PHONE.into(),
        title: "Inline four".into(),
        wants: "Quiet and strong".into(),
        layout: "inline".into(),
        cylinders: "4".into(),
        mains: "5".into(),
        ..NewJob::default()
    };
    shop.open_job(&act.next(), &new).await.expect("a job")
}

/// A limit set twice, a gauge at a setting, a reading and its correction.
async fn measure(shop: &Shop, act: &mut Acts, job: i64) {
    for most in ["2.6", "2.8"] {
        let limit = LimitForm {
            feature: "main-clearance-vertical".into(),
            least: "2.0".into(),
            most: most.into(),
            reason: format!("up to {most}"),
            ..LimitForm::default()
        };
        shop.set_limit(&act.next(), job, &limit).await.expect("a limit");
    }
    let gauge = GaugeForm {
        name: "bore gauge 2".into(),
        kind: witnessmark::work::GaugeKind::BoreGauge.key().into(),
        serial: "B-17".into(),
        step: "tenth".into(),
        resolution: "0.0001 in".into(),
        due: "2027-01-31".into(),
        ..GaugeForm::default()
    };
    shop.keep_gauge(&act.next(), None, &gauge).await.expect("a gauge");
    let gauge = shop.gauges(jiff::Timestamp::UNIX_EPOCH).await.expect("gauges").first().expect("the one").id.clone();
    let setting =
        SettingForm { gauge, zeroed_on: "4.3770 in ring".into(), set_to: "4.3770".into(), ..SettingForm::default() };
    shop.set_gauge(&act.next(), job, &setting).await.expect("a setting");
    for (sheet, slot, text) in [
        (SheetKey::CylinderBores, "bore-top-thrust@cylinder.0.0", "+2"),
        (SheetKey::MainBearings, "main-clearance-vertical@main.0", "3.1"),
    ] {
        let (slot, text) = (SlotKey::parse(slot), text.to_owned());
        let entry = NewEntry { sheet, slot, text, checked: false, saw: None, as_read: true, gauge: None };
        shop.take(&act.next(), job, &entry).await.expect("a reading");
    }
    let correction = NewCorrection { text: "3.2".into(), why: "read upside down".into(), as_read: false };
    shop.correct(&act.next(), job, 2, &correction).await.expect("a correction");
}

/// Acts of the hand, a minute apart.
struct Acts {
    hand: Option<String>,
    count: i64,
}

impl Acts {
    fn next(&mut self) -> Doing {
        self.count += 1;
        let began: Timestamp = "2026-03-02T08:00:00Z".parse().expect("an instant");
        Doing {
            person: self.hand.clone(),
            device: "tablet".into(),
            key: format!("act {}", self.count),
            at: began + SignedDuration::from_mins(self.count),
        }
    }
}

fn picture() -> Vec<u8> {
    let mut bytes = std::io::Cursor::new(Vec::new());
    image::RgbImage::new(64, 48).write_to(&mut bytes, image::ImageFormat::Jpeg).expect("a picture");
    bytes.into_inner()
}
