//! The figures of the demonstration shop hold together as a real engine's would.

use crate::laid_out::{every_job, job, now, sheet, shop};
use witnessmark::work::{FindingView, PlaceView, SheetKey, Standing};

/// The number before the unit.
fn number(shown: &str) -> f64 {
    shown.split_whitespace().next().unwrap().replace('−', "-").parse().unwrap_or_else(|_| panic!("{shown}"))
}

fn finding<'a>(place: &'a PlaceView, feature: &str) -> &'a FindingView {
    place.findings.iter().find(|f| f.key.feature.text() == feature).unwrap()
}

fn value(finding: &FindingView) -> f64 {
    number(finding.value.as_deref().unwrap())
}

fn reading(place: &PlaceView, slot: &str) -> f64 {
    let slot = place.slots.iter().find(|s| s.key.to_string().starts_with(&format!("{slot}@"))).unwrap();
    let readings: Vec<f64> = slot.readings.iter().map(|reading| number(&reading.shown)).collect();
    readings.iter().sum::<f64>() / readings.len() as f64
}

/// By hand: smallest bore thrust way less the skirt, in thou.
#[tokio::test]
async fn piston_clearances_of_the_six_are_its_bores_less_its_skirts() {
    let shop = shop().await;
    let six = job(&shop, "Tamblyn 246 six, pickup").await;
    let skirts = sheet(&shop, six, SheetKey::Pistons).await;
    let bores = sheet(&shop, six, SheetKey::CylinderBores).await;
    let cylinders: Vec<&PlaceView> = bores.places.iter().filter(|place| place.key.starts_with("cylinder.")).collect();
    assert_eq!(cylinders.len(), 6);
    for place in cylinders {
        let skirt = reading(skirts.places.iter().find(|p| p.key == place.key).unwrap(), "skirt");
        let thrust = ["top", "middle", "bottom"].map(|height| reading(place, &format!("bore-{height}-thrust")));
        let by_hand = (thrust.into_iter().fold(f64::INFINITY, f64::min) - skirt) * 1000.0;
        let found = value(finding(place, "piston-clearance"));
        assert!((found - by_hand).abs() < 0.051, "{}: {found} thou, by hand {by_hand}", place.label);
        assert!((1.5..=2.5).contains(&found));
    }
}

/// By hand: housing less both shells less the largest journal diameter, beside what the gauge said directly.
#[tokio::test]
async fn routes_at_the_mains_of_the_six_agree() {
    let shop = shop().await;
    let six = job(&shop, "Tamblyn 246 six, pickup").await;
    let mains = sheet(&shop, six, SheetKey::MainBearings).await;
    let crank = sheet(&shop, six, SheetKey::Crankshaft).await;
    let each: Vec<&PlaceView> = mains.places.iter().filter(|place| place.key.starts_with("main.")).collect();
    assert_eq!(each.len(), 7);
    for place in each {
        let on_crank = crank.places.iter().find(|p| p.key == place.key).unwrap();
        let journal = ["front-0", "front-90", "rear-0", "rear-90"]
            .map(|at| reading(on_crank, &format!("main-journal-{at}")))
            .into_iter()
            .fold(0.0, f64::max);
        let shells = reading(place, "main-shell-wall-upper") + reading(place, "main-shell-wall-lower");
        let by_hand = (reading(place, "main-housing-vertical") - shells - journal) * 1000.0;
        let found = value(finding(place, "main-clearance-vertical"));
        assert!((found - by_hand).abs() < 0.4, "{}: {found} thou, by hand {by_hand}", place.label);
        assert_eq!(
            finding(place, "main-routes").standing,
            Standing::Good,
            "{:?}",
            finding(place, "main-routes").working
        );
        let ratio = value(finding(place, "main-clearance-per-diameter"));
        assert!((ratio - found / journal).abs() < 0.03, "{ratio} thou/in");
    }
}

/// What the owner is told of the main that was accepted is what was measured.
#[tokio::test]
async fn the_owners_note_tells_the_figure_of_the_loose_main() {
    let shop = shop().await;
    let six = job(&shop, "Tamblyn 246 six, pickup").await;
    let mains = sheet(&shop, six, SheetKey::MainBearings).await;
    let main_six = mains.places.iter().find(|place| place.key == "main.5").unwrap();
    let clearance = finding(main_six, "main-clearance-vertical");
    assert_eq!(clearance.value.as_deref(), Some("2.8\u{a0}thou"));
    assert!(clearance.call.as_ref().unwrap().for_owner.contains("0.0028 in"));
}

/// Nothing is out but what is meant to be, and no figure is one that an engine does not have.
#[tokio::test]
async fn no_finding_is_absurd() {
    let shop = shop().await;
    let (six, eight) = (job(&shop, "Tamblyn 246 six, pickup").await, job(&shop, "Callow").await);
    let mut out = Vec::new();
    for job in every_job() {
        for key in SheetKey::ALL {
            let view = sheet(&shop, job, key).await;
            assert!(view.unasked.is_empty());
            for finding in view.places.iter().flat_map(|place| &place.findings) {
                if finding.standing == Standing::Out {
                    out.push((job, finding.place.clone(), finding.key.feature.text().to_owned()));
                }
                assert!(finding.call.as_ref().is_none_or(|call| !call.changed_since));
                let Some(shown) = &finding.value else { continue };
                let metric = shown.ends_with("µm") || shown.ends_with("mm");
                let (small, step) = if metric { (number(shown), 25.4) } else { (number(shown), 1.0) };
                let most = match finding.key.feature.text() {
                    "bore-out-of-round" | "bore-taper" => 0.6,
                    "bore-spread" | "main-clearance-spread" => 1.2,
                    "main-journal-out-of-round" | "main-journal-taper" | "main-routes" => 0.4,
                    "piston-clearance" => 5.5,
                    "main-clearance-vertical" | "main-clearance-parting" => 4.1,
                    _ => continue,
                };
                let least = if finding.key.feature.text().contains("clearance-") { 0.0 } else { -most };
                assert!(
                    (least * step..=most * step).contains(&small),
                    "job {job}, {}: {} {shown}",
                    finding.place,
                    finding.title
                );
            }
        }
    }
    let vertical = "main-clearance-vertical".to_owned();
    assert_eq!(out, [(six, "main 6".to_owned(), vertical.clone()), (eight, "main 3".to_owned(), vertical)]);
}

/// By hand: π/4 × 3.83² × 3.62 × 6 = 250.2 in³; π/4 × 66.5² × 112 × 4 = 1556 cm³.
#[tokio::test]
async fn cards_tell_the_displacement() {
    let shop = shop().await;
    for (job, displacement) in [(job(&shop, "Tamblyn 246 six, pickup").await, "250.2"), (1, "1556")] {
        let card = shop.card(job, now()).await.unwrap();
        let line = card.lines.iter().find(|line| line.key == "displacement").unwrap();
        assert!(line.value.replace([',', '\u{a0}', '\u{202f}'], "").contains(displacement), "{}", line.value);
    }
}
