//! A repeatability study of the 2 to 3 in micrometer: two people, five rod journals of old crankshafts, two trials.

use super::diary::{Diary, Done, TABLET, refused};
use super::premises::{IKE, JUN, MICROMETER_2_3};
use super::scatter::Scatter;
use crate::work::{StudyEntry, StudyForm};

/// The journals, in thou above 2 in.
const JOURNALS: [f64; 5] = [99.2, 99.8, 98.7, 99.5, 98.9];
/// By how much Jun turns the thimble tighter, in thou.
const TIGHTER: f64 = 0.05;
/// As good a seed as any: the micrometer's serial number.
const SEED: u64 = 203;
/// What a hand can just feel, in thou.
const FEEL: f64 = 0.1;

pub(super) async fn is_made(diary: &mut Diary<'_>) -> Done<()> {
    // A scatter of its own: what engines read later does not change with it.
    let scatter = std::mem::replace(&mut diary.scatter, Scatter::new(SEED));
    diary.on(308, (14, 0), IKE, TABLET);
    let gauge = diary.gauges.get(MICROMETER_2_3).cloned().unwrap_or_default();
    let form = StudyForm {
        measured: "Rod journals of old crankshafts".to_owned(),
        unit: "in".to_owned(),
        tolerance: "0.001".to_owned(),
        people: [IKE, JUN].iter().filter_map(|name| diary.hands.get(name)).cloned().collect(),
        parts: JOURNALS.len().to_string(),
        trials: "2".to_owned(),
    };
    let doing = diary.next();
    let study = diary.shop.plan_study(&doing, &gauge, &form).await.map_err(refused("study"))?;
    let view = diary.shop.study(&study, doing.at).await.map_err(refused("study"))?;
    for spot in view.spots {
        diary.hands_over(if spot.person == JUN { JUN } else { IKE }, TABLET);
        let journal = (1..).zip(JOURNALS).find(|(part, _)| *part == spot.part).map_or(0.0, |(_, journal)| journal);
        let hand = if spot.person == JUN { -TIGHTER } else { 0.0 };
        let text = format!("2.{:04.0}", (journal + hand + FEEL * diary.scatter.wobble()) * 10.0);
        let entry = StudyEntry { spot: spot.key, text, ..StudyEntry::default() };
        let doing = diary.next();
        diary.shop.take_in_study(&doing, &study, &entry).await.map_err(refused("reading of a study"))?;
    }
    diary.scatter = scatter;
    Ok(())
}
