//! The invented shop itself: its name and address, its hands, its gauges.

use super::diary::{Diary, Done, OFFICE, refused};
use super::money;
use crate::work::{GaugeForm, PersonForm, ShopSettings};

pub(super) const ZONE: &str = "America/Chicago";

/// The one who built the place, and signs for it.
pub(super) const MARTA: &str = "Marta Voss";
/// At the hone and the line bar.
pub(super) const IKE: &str = "Ike Tolland";
/// At the assembly bench.
pub(super) const JUN: &str = "Jun Abara";

pub(super) const INCH_BORE_GAUGE: &str = "Bore gauge, 2 to 6 in";
pub(super) const METRIC_BORE_GAUGE: &str = "Bore gauge, 35 to 100 mm";
pub(super) const MICROMETER_2_3: &str = "Micrometer, 2 to 3 in";
pub(super) const MICROMETER_3_4: &str = "Micrometer, 3 to 4 in";
pub(super) const MICROMETER_50_75: &str = "Micrometer, 50 to 75 mm";

/// A gauge as its papers say: what it measures, how finely, how wrong it may be; and in how many days it is due.
struct Papers {
    name: &'static str,
    kind: &'static str,
    serial: &'static str,
    /// What a bare +2 means on it.
    step: &'static str,
    range: (&'static str, &'static str),
    resolution: &'static str,
    permissible_error: &'static str,
    due_in: Option<i32>,
}

#[rustfmt::skip]
const GAUGES: [Papers; 8] = [
    papers(INCH_BORE_GAUGE, "bore_gauge", "BG-0417", "tenth", ("2 in", "6 in"), "0.0001 in", "0.0001 in", Some(150)),
    papers(METRIC_BORE_GAUGE, "bore_gauge", "BG-0911", "micrometre", ("35 mm", "100 mm"), "1 µm", "2 µm", Some(40)),
    papers(MICROMETER_2_3, "outside_micrometer", "OM-0203", "tenth", ("2 in", "3 in"), "0.0001 in", "0.0001 in", Some(150)),
    papers(MICROMETER_3_4, "outside_micrometer", "OM-0304", "tenth", ("3 in", "4 in"), "0.0001 in", "0.0001 in", Some(150)),
    papers(MICROMETER_50_75, "outside_micrometer", "OM-5075", "micrometre", ("50 mm", "75 mm"), "1 µm", "4 µm", Some(40)),
    papers("Ball micrometer, 0 to 1 in", "ball_micrometer", "BM-0001", "tenth", ("0 in", "1 in"), "0.0001 in", "0.0001 in", None),
    papers("Plastic strip, 1 to 3 thou", "plastic_strip", "lot 22", "thou", ("1 thou", "3 thou"), "0.25 thou", "", None),
    papers("Depth micrometer, 0 to 6 in", "depth_micrometer", "DM-0600", "thou", ("0 in", "6 in"), "0.001 in", "0.0002 in", Some(-12)),
];

#[expect(clippy::too_many_arguments, reason = "one line of the table")]
const fn papers(
    name: &'static str,
    kind: &'static str,
    serial: &'static str,
    step: &'static str,
    range: (&'static str, &'static str),
    resolution: &'static str,
    permissible_error: &'static str,
    due_in: Option<i32>,
) -> Papers {
    Papers { name, kind, serial, step, range, resolution, permissible_error, due_in }
}

pub(super) async fn move_in(diary: &mut Diary<'_>) -> Done<()> {
    diary.on(310, (8, 0), MARTA, OFFICE);
    for name in [MARTA, IKE, JUN] {
        let doing = diary.next();
        let form = PersonForm { name: name.to_owned(), phone: String::new() };
        let id = diary.shop.add_hand(&doing, &form).await.map_err(refused(name))?;
        diary.hands.insert(name, id);
    }
    let settings = ShopSettings {
        name: "Thimble & Ring Engine Works".to_owned(),
        address: "14 Millrace Yard, Nether Wend".to_owned(),
        phone: "555-0142".to_owned(),
        paper: "letter".to_owned(),
        zone: ZONE.to_owned(),
        warranty: "Twelve months on our work, with the run-in done and written down. Call before taking it apart."
            .to_owned(),
        temperature: String::new(),
        rule: "simple".to_owned(),
    };
    let doing = diary.next();
    diary.shop.change_settings(&doing, 0, &settings).await.map_err(refused("settings"))?;
    for gauge in GAUGES {
        let doing = diary.next();
        let form = GaugeForm {
            name: gauge.name.to_owned(),
            kind: gauge.kind.to_owned(),
            serial: gauge.serial.to_owned(),
            step: gauge.step.to_owned(),
            range_low: gauge.range.0.to_owned(),
            range_high: gauge.range.1.to_owned(),
            resolution: gauge.resolution.to_owned(),
            permissible_error: gauge.permissible_error.to_owned(),
            calibrated: gauge.due_in.map(|days| diary.day_from_now(days - 365)).unwrap_or_default(),
            due: gauge.due_in.map(|days| diary.day_from_now(days)).unwrap_or_default(),
        };
        diary.shop.keep_gauge(&doing, None, &form).await.map_err(refused(gauge.name))?;
    }
    let kept = diary.shop.gauges(doing.at).await.map_err(refused("gauges"))?;
    diary.gauges = kept.into_iter().map(|gauge| (gauge.name, gauge.id)).collect();
    money::says_how_it_charges(diary).await
}
