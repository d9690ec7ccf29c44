//! Which slot the entry field is for, and the walk from it: what the page's script needs to go on by itself.

use serde::Serialize;

use crate::work::{PlaceView, SheetView, SlotKey, SlotView};

/// A slot with its place.
#[derive(Clone, Copy)]
pub(super) struct Armed<'a> {
    pub place: &'a PlaceView,
    pub slot: &'a SlotView,
}

/// Every slot of a sheet in bench order.
fn all(view: &SheetView) -> impl Iterator<Item = Armed<'_>> {
    view.places.iter().flat_map(|place| place.slots.iter().map(move |slot| Armed { place, slot }))
}

/// A slot of the sheet.
pub(super) fn find<'a>(view: &'a SheetView, key: &SlotKey) -> Option<Armed<'a>> {
    all(view).find(|armed| armed.slot.key == *key)
}

/// Where entry goes on at a place: where it was anyway, or else with what is not read there, of the same route if it can be.
pub(super) fn at<'a>(view: &'a SheetView, place: &'a PlaceView) -> Option<Armed<'a>> {
    let going_on = view.armed.as_ref().and_then(|key| find(view, key));
    let route = going_on.map(|armed| armed.slot.group);
    let mut open = place.slots.iter().filter(|slot| is_open(slot)).collect::<Vec<_>>();
    open.sort_by_key(|slot| Some(slot.group) != route);
    match going_on {
        Some(armed) if armed.place.key == place.key => Some(armed),
        // A place that speaks for all has only one slot, which can always be said anew.
        _ => {
            open.first().copied().or(place.slots.first().filter(|_| is_whole(place))).map(|slot| Armed { place, slot })
        }
    }
}

/// Whether a place speaks for all of its kind.
pub(super) fn is_whole(place: &PlaceView) -> bool {
    place.slots.iter().all(|slot| slot.stated)
}

fn is_open(slot: &SlotView) -> bool {
    !slot.stated && (slot.readings.is_empty() || slot.wanted.is_some()) && slot.rivals.is_empty()
}

/// One slot of the walk, as the script reads it. Lengths in m.
#[derive(Serialize)]
struct Stop<'a> {
    slot: String,
    at: &'a str,
    place: &'a str,
    label: &'a str,
    unit: &'a str,
    key_0: &'a str,
    key_1: &'a str,
    key_2: &'a str,
    key_3: &'a str,
    gauge: &'a str,
    gauge_id: &'a str,
    zeroed: &'a str,
    due: &'a str,
    target: &'a str,
    plus: &'a str,
    from: &'a str,
    saw: Option<i64>,
    open: bool,
    /// What is read in it will be covered until the second reading.
    unseen: bool,
    deviation: Option<(f64, f64)>,
    bare: f64,
    bare_from: Option<(f64, f64)>,
    accept: Option<(f64, f64)>,
    expect: Option<(f64, f64)>,
}

impl<'a> Stop<'a> {
    fn of(Armed { place, slot }: Armed<'a>) -> Self {
        let [key_0, key_1, key_2, key_3] = slot.keys;
        Self {
            slot: slot.key.to_string(),
            at: &place.key,
            place: &place.label,
            label: slot.label,
            unit: slot.unit,
            key_0,
            key_1,
            key_2,
            key_3,
            gauge: &slot.gauge,
            gauge_id: slot.gauge_id.as_deref().unwrap_or_default(),
            zeroed: slot.zeroed_on.as_deref().unwrap_or_default(),
            due: due(slot),
            target: slot.target.as_deref().unwrap_or_default(),
            plus: plus(slot),
            from: from(slot),
            saw: slot.saw,
            open: is_open(slot),
            unseen: slot.read_twice && slot.saw.is_none(),
            deviation: slot.deviation,
            bare: slot.bare,
            bare_from: slot.bare_from,
            accept: slot.accept,
            expect: slot.expect,
        }
    }
}

/// What is said of a gauge that is past its date.
pub(super) fn due(slot: &SlotView) -> &'static str {
    if slot.past_due { "past its date of calibration" } else { "" }
}

/// What a bare "+2" is here, to be shown large.
pub(super) fn plus(slot: &SlotView) -> &str {
    slot.plus_two.as_deref().unwrap_or("refused")
}

/// What a bare "+2" is added to.
pub(super) fn from(slot: &SlotView) -> &str {
    match (&slot.plus_two, &slot.plus_from) {
        (None, _) => "type the whole figure, or say what the gauge is set to",
        (Some(_), None) => "",
        (Some(_), Some(from)) => from,
    }
}

/// The slots of the armed one's route over all places, as JSON.
pub(super) fn walk(view: &SheetView, armed: Armed) -> Result<String, serde_json::Error> {
    let on_the_way = |other: &Armed| other.slot.group == armed.slot.group && other.slot.stated == armed.slot.stated;
    let stops: Vec<Stop> =
        if armed.slot.stated { vec![Stop::of(armed)] } else { all(view).filter(on_the_way).map(Stop::of).collect() };
    serde_json::to_string(&stops)
}
