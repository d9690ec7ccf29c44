//! What the shop made itself, and how it looked over what came in.

use super::diary::{Diary, Done, NotLaidOut, refused};
use super::premises::{INCH_BORE_GAUGE, MICROMETER_3_4};
use super::supply::Engines;
use crate::work::{InspectionForm, LookedForm, MadeReadingForm, MadeSizeForm, MoveForm, PartForm};

/// A dimension of the plate: its name, size, and by how much it may be over and under; what was read, and with what.
type Dimension = (&'static str, [&'static str; 3], &'static [(&'static str, &'static str)]);

const PLATE: &str = "Torque plate, 2 in";

const OF_THE_PLATE: [Dimension; 4] = [
    ("Bore, cylinder 1", ["4.100", "5 thou", "0"], &[("4.0988", INCH_BORE_GAUGE), ("4.1022", INCH_BORE_GAUGE)]),
    ("Bore, cylinder 3", ["4.100", "5 thou", "0"], &[("4.10495", INCH_BORE_GAUGE)]),
    ("Thickness at the studs", ["2.000", "2 thou", "2 thou"], &[("2.0004", "")]),
    ("Outside of the centring ring", ["3.750", "0", "1 thou"], &[("3.7512", MICROMETER_3_4)]),
];

pub(super) async fn is_written_up(diary: &mut Diary<'_>, engines: &Engines) -> Done<()> {
    let plate = PartForm {
        description: PLATE.to_owned(),
        quantity: "1".to_owned(),
        origin: "made".to_owned(),
        shelf: "under the hone".to_owned(),
        step: "bore".to_owned(),
        note: "Of the shop’s own drawing; hung on four dowels.".to_owned(),
        ..PartForm::default()
    };
    diary.wants(engines.eight, &plate).await?;
    let plate = diary.part(engines.eight, PLATE).await?;
    for (name, [size, over, under], readings) in OF_THE_PLATE {
        let [name, size, over, under] = [name, size, over, under].map(str::to_owned);
        let form = MadeSizeForm { name, size, over, under };
        diary.asks_of(engines.eight, &plate, &form).await?;
        for (read, gauge) in readings {
            diary.reads_of(engines.eight, &plate, &form.name, (read, gauge)).await?;
        }
    }
    let made = MoveForm {
        kind: "received".to_owned(),
        quantity: "1".to_owned(),
        day: diary.day_from_now(-3),
        ..MoveForm::default()
    };
    let doing = diary.next();
    diary.shop.move_part(&doing, engines.eight, &plate, &made).await.map_err(refused(PLATE))?;
    let doing = diary.next();
    let carried = (&*engines.refresh.to_string(), "borrowed for its bores, back since");
    diary.shop.carry(&doing, engines.eight, &plate, carried).await.map_err(refused(PLATE))?;
    diary.looks_over(engines.six, "Gasket set", None).await?;
    let wrong = ("Part number", "two are HB-CB8, of the later head, and a thread short", 2);
    diary.looks_over(engines.eight, "Head bolts", Some(wrong)).await
}

impl Diary<'_> {
    /// A part's public id.
    async fn part(&mut self, job: i64, description: &str) -> Done<String> {
        let at = self.next().at;
        let view = self.shop.parts(job, at).await.map_err(refused(description))?;
        let mut rows = view.groups.into_iter().flat_map(|(_, rows)| rows);
        let row = rows.find(|row| row.description == description);
        row.map(|row| row.public_id).ok_or_else(|| NotLaidOut::Missing { what: description.to_owned() })
    }

    async fn asks_of(&mut self, job: i64, part: &str, form: &MadeSizeForm) -> Done<()> {
        let doing = self.next();
        self.shop.ask_made_size(&doing, job, part, form).await.map_err(refused(&form.name))
    }

    async fn reads_of(&mut self, job: i64, part: &str, name: &str, (read, gauge): (&str, &str)) -> Done<()> {
        let doing = self.next();
        let made = self.shop.made(job, part, doing.at).await.map_err(refused(name))?;
        let size = made.sizes.iter().find(|size| size.name == name);
        let size = size.ok_or_else(|| NotLaidOut::Missing { what: name.to_owned() })?.id;
        let gauge = self.gauges.get(gauge).cloned().unwrap_or_default();
        let form = MadeReadingForm { read: read.to_owned(), gauge, sure: false };
        self.shop.read_made_size(&doing, job, part, size, &form).await.map_err(refused(name))
    }

    /// Looks over a part that came; all is good, but for what is named.
    async fn looks_over(&mut self, job: i64, part: &str, wrong: Option<(&str, &str, u32)>) -> Done<()> {
        let public_id = self.part(job, part).await?;
        let doing = self.next();
        let view = self.shop.inspection(job, &public_id, doing.at).await.map_err(refused(part))?;
        let looked = |what: String| {
            let wrong = wrong.filter(|(point, ..)| *point == what);
            LookedForm { what, good: Some(wrong.is_none()), words: wrong.map_or("", |(_, words, _)| words).to_owned() }
        };
        let form = InspectionForm {
            looked: view.points.into_iter().map(|point| looked(point.words)).collect(),
            wrong: wrong.map(|(.., count)| count.to_string()).unwrap_or_default(),
        };
        self.shop.inspect(&doing, job, &public_id, &form).await.map_err(refused(part))
    }
}
