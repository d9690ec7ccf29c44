//! A shop to test in: an empty record, one person, a clock that the test turns.

use jiff::{SignedDuration, Timestamp};
use std::cell::Cell;
use tempfile::TempDir;
use witnessmark::work::{Doing, GaugeForm, NewEntry, NewJob, PersonForm, SheetKey, Shop, SlotKey, Took};

/// An open shop with its folder and clock.
pub struct Bench {
    pub shop: Shop,
    pub folder: TempDir,
    pub person: String,
    at: Cell<Timestamp>,
    count: Cell<u32>,
}

impl Bench {
    pub async fn open() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let shop = Shop::open(folder.path()).await.expect("an empty record");
        let at: Timestamp = "2026-03-02T08:00:00Z".parse().expect("an instant");
        let doing = Doing { person: None, device: "pc".into(), key: "first".into(), at };
        let form = PersonForm { name: "Ada Pell".into(), phone: String::new() };
        let person = shop.add_hand(&doing, &form).await.expect("a hand");
        Self { shop, folder, person, at: Cell::new(at), count: Cell::new(0) }
    }

    /// The next act, a minute later, on a tablet.
    pub fn doing(&self) -> Doing {
        self.count.set(self.count.get() + 1);
        self.at.set(self.at.get() + SignedDuration::from_mins(1));
        Doing {
            person: Some(self.person.clone()),
            device: "tablet".into(),
            key: format!("key {}", self.count.get()),
            at: self.at.get(),
        }
    }

    /// Lets so many hours pass.
    pub fn wait(&self, hours: i64) {
        self.at.set(self.at.get() + SignedDuration::from_hours(hours));
    }

    pub fn now(&self) -> Timestamp {
        self.at.get()
    }

    /// An inline four with five mains, worked in inches.
    pub async fn inline_four(&self) -> i64 {
        self.shop.open_job(&self.doing(), &a_four()).await.expect("a job")
    }

    /// A bore gauge of the shop, by its id; `step` is what a bare deviation on it means.
    pub async fn bore_gauge(&self, name: &str, step: &str) -> String {
        let form =
            GaugeForm { name: name.into(), kind: "bore_gauge".into(), step: step.into(), ..GaugeForm::default() };
        self.shop.keep_gauge(&self.doing(), None, &form).await.expect("a gauge");
        self.shop.gauges(self.now()).await.expect("gauges").into_iter().find(|gauge| gauge.name == name).expect("it").id
    }

    /// Takes a reading having seen what `saw` says.
    pub async fn take(&self, job: i64, slot: &str, text: &str, saw: Option<i64>) -> Took {
        let slot = SlotKey::parse(slot);
        let sheet = if slot.to_string().starts_with("main") {
            SheetKey::MainBearings
        } else if slot.to_string().starts_with("skirt") {
            SheetKey::Pistons
        } else {
            SheetKey::CylinderBores
        };
        let entry = NewEntry { sheet, slot, text: text.into(), checked: false, saw, as_read: true, gauge: None };
        self.shop.take(&self.doing(), job, &entry).await.expect("a reading")
    }
}

/// An inline four with five mains, worked in inches, as it is taken in.
pub fn a_four() -> NewJob {
    NewJob {
        name: "R. Quill".into(),
        phone: "555 0101".into(),
        title: "Inline four".into(),
        wants: "Quiet and strong".into(),
        layout: "inline".into(),
        cylinders: "4".into(),
        mains: "5".into(),
        ..NewJob::default()
    }
}
