//! The invented shop itself: its name and address, its hands, its gauges.

use super::diary::{Diary, Done, OFFICE, refused};
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

/// Name, kind, serial, what a bare +2 means on it.
const GAUGES: [(&str, &str, &str, &str); 8] = [
    (INCH_BORE_GAUGE, "bore_gauge", "BG-0417", "tenth"),
    (METRIC_BORE_GAUGE, "bore_gauge", "BG-0911", "micrometre"),
    (MICROMETER_2_3, "outside_micrometer", "OM-0203", "tenth"),
    (MICROMETER_3_4, "outside_micrometer", "OM-0304", "tenth"),
    (MICROMETER_50_75, "outside_micrometer", "OM-5075", "micrometre"),
    ("Ball micrometer, 0 to 1 in", "ball_micrometer", "BM-0001", "tenth"),
    ("Plastic strip, 1 to 3 thou", "plastic_strip", "lot 22", "thou"),
    ("Depth micrometer, 0 to 6 in", "depth_micrometer", "DM-0600", "thou"),
];

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
    };
    let doing = diary.next();
    diary.shop.change_settings(&doing, 0, &settings).await.map_err(refused("settings"))?;
    for (name, kind, serial, step) in GAUGES {
        let doing = diary.next();
        let form = GaugeForm {
            name: name.to_owned(),
            kind: kind.to_owned(),
            serial: serial.to_owned(),
            step: step.to_owned(),
        };
        diary.shop.keep_gauge(&doing, None, &form).await.map_err(refused(name))?;
    }
    let kept = diary.shop.gauges().await.map_err(refused("gauges"))?;
    diary.gauges = kept.into_iter().map(|gauge| (gauge.name, gauge.id)).collect();
    Ok(())
}
