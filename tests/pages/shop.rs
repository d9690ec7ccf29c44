//! A shop behind the router: on a record in a folder of its own, at noon, with a hand at the tablet.

use std::sync::atomic::{AtomicU32, Ordering};

use axum::Router;
use axum::body::Body;
use axum::http::request::Builder;
use tempfile::TempDir;
use witnessmark::bench;
use witnessmark::office;
use witnessmark::web::visit::{Who, cookie_of};
use witnessmark::web::{Door, server};
use witnessmark::work::{
    Doing, FindingKey, GaugeForm, LimitForm, NewCall, NewEntry, NewJob, PersonForm, Photo, SheetKey, Shop, SlotKey,
};

use crate::asked::{Answer, HOST, ask, get, noon, post};

/// What a tablet's cookie says.
const DEVICE: &str = "0123456789abcdef0123456789abcdef";

/// The house with its shop inside.
pub struct House {
    pub router: Router,
    pub shop: Shop,
    pub folder: TempDir,
    /// Public id of the first hand; empty in an empty shop.
    pub hand: String,
    acts: AtomicU32,
}

/// The hand at the tablet.
pub const HAND: &str = "Renée Øst";

impl House {
    /// Nobody and nothing in it.
    pub async fn empty() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let shop = Shop::open(folder.path()).await.expect("an empty record");
        let pages = bench::routes().merge(office::routes()).with_state(shop.clone());
        let router = server::house(pages, Door::at_home(), noon);
        Self { router, shop, folder, hand: String::new(), acts: AtomicU32::new(0) }
    }

    /// One hand and no job.
    pub async fn staffed() -> Self {
        let mut house = Self::empty().await;
        let form = PersonForm { name: HAND.into(), phone: String::new() };
        house.hand = house.shop.add_hand(&house.doing(), &form).await.expect("a hand");
        house
    }

    /// One hand, and job 1: an inline four with five mains and a limit on its mains.
    pub async fn with_a_job() -> Self {
        let house = Self::staffed().await;
        house.open("Inline four, 1.6", "inline", 4, 5).await;
        house
    }

    /// The next act of the hand on another tablet.
    pub fn doing(&self) -> Doing {
        let count = self.acts.fetch_add(1, Ordering::Relaxed);
        let person = Some(self.hand.clone()).filter(|id| !id.is_empty());
        Doing { person, device: "other".into(), key: format!("act {count}"), at: noon() }
    }

    pub async fn open(&self, title: &str, layout: &str, cylinders: u8, mains: u8) -> i64 {
        let new = NewJob {
            name: "Quill & Sons <of Harrow Lane>".into(),
            phone: "555 0101".into(),
            title: title.into(),
            wants: "Quiet, strong, and “as it was”".into(),
            layout: layout.into(),
            cylinders: cylinders.to_string(),
            mains: mains.to_string(),
            ..NewJob::default()
        };
        let job = self.shop.open_job(&self.doing(), &new).await.expect("a job");
        let limit = LimitForm {
            feature: "main-clearance-vertical".into(),
            least: "2.0".into(),
            most: "2.6".into(),
            source: "bearing maker".into(),
            reason: "first set".into(),
            ..LimitForm::default()
        };
        self.shop.set_limit(&self.doing(), job, &limit).await.expect("a limit");
        job
    }

    /// Takes a reading of the mains.
    pub async fn take(&self, job: i64, slot: &str, text: &str) {
        let entry = NewEntry {
            sheet: SheetKey::MainBearings,
            slot: SlotKey::parse(slot),
            text: text.into(),
            checked: false,
            saw: None,
            as_read: true,
            gauge: None,
        };
        self.shop.take(&self.doing(), job, &entry).await.expect("a reading");
    }

    /// Asks for a page from the tablet with the hand at it.
    pub async fn see(&self, address: &str) -> Answer {
        ask(&self.router, self.at_tablet(get(address)), "").await
    }

    /// Posts a form from the tablet with the hand at it.
    pub async fn send(&self, address: &str, fields: &[(&str, &str)]) -> Answer {
        ask(&self.router, self.at_tablet(post(address)), encoded(fields)).await
    }

    /// Posts photos from the tablet.
    pub async fn send_photos(&self, address: &str, fields: &[(&str, &str)], photos: &[(&str, &[u8])]) -> Answer {
        self.send_files(address, fields, "photos", photos).await
    }

    /// Posts files in one field from the tablet.
    pub async fn send_files(
        &self,
        address: &str,
        fields: &[(&str, &str)],
        field: &str,
        files: &[(&str, &[u8])],
    ) -> Answer {
        const EDGE: &str = "edge-of-a-part";
        let mut body = Vec::new();
        for (name, value) in fields {
            let part = format!("--{EDGE}\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n");
            body.extend_from_slice(part.as_bytes());
        }
        for (name, bytes) in files {
            let head = format!(
                "--{EDGE}\r\nContent-Disposition: form-data; name=\"{field}\"; filename=\"{name}\"\r\n\
                 Content-Type: image/jpeg\r\n\r\n"
            );
            body.extend_from_slice(head.as_bytes());
            body.extend_from_slice(bytes);
            body.extend_from_slice(b"\r\n");
        }
        body.extend_from_slice(format!("--{EDGE}--\r\n").as_bytes());
        let request = self.at_tablet(axum::http::Request::post(address).header("host", HOST));
        let request = request
            .header("origin", format!("http://{HOST}"))
            .header("content-type", format!("multipart/form-data; boundary={EDGE}"));
        ask(&self.router, request, Body::from(body)).await
    }

    fn at_tablet(&self, request: Builder) -> Builder {
        let request = request.header("cookie", format!("witnessmark-device={DEVICE}"));
        if self.hand.is_empty() {
            return request;
        }
        let who = cookie_of(&Who { id: self.hand.clone(), name: HAND.into() });
        request.header("cookie", who.encoded().stripped().to_string())
    }
}

/// A form's body.
pub fn encoded(fields: &[(&str, &str)]) -> String {
    url::form_urlencoded::Serializer::new(String::new()).extend_pairs(fields).finish()
}

/// A small picture, as a camera would send it.
pub fn picture() -> Vec<u8> {
    let mut bytes = std::io::Cursor::new(Vec::new());
    let shades = image::RgbImage::from_fn(64, 48, |x, y| {
        image::Rgb([x * 4, y * 5, 120].map(|shade| u8::try_from(shade).unwrap_or(255)))
    });
    shades.write_to(&mut bytes, image::ImageFormat::Jpeg).expect("a picture");
    bytes.into_inner()
}

/// A shop as full as it gets: twelve cylinders, the longest names, every kind of open point.
pub async fn full() -> House {
    let house = House::staffed().await;
    let shop = &house.shop;
    for name in ["Bartholomew Featherstonehaugh-Cholmondeley", "Ida", "Tomás Ybarra"] {
        let form = PersonForm { name: name.into(), phone: String::new() };
        shop.add_hand(&house.doing(), &form).await.expect("a hand");
    }
    let gauge = GaugeForm {
        name: "Dial bore gauge, long stem".into(),
        kind: witnessmark::work::GaugeKind::BoreGauge.key().into(),
        serial: "B-17".into(),
        step: "tenth".into(),
        ..GaugeForm::default()
    };
    shop.keep_gauge(&house.doing(), None, &gauge).await.expect("a gauge");
    house.open("Inline four, 1.6, vintage car", "inline", 4, 5).await;
    let twelve =
        house.open("Vee twelve, 6.6 litres, aluminium, out of a lake racer laid up since the war", "vee", 12, 7).await;
    let flat = house.open("Flat six", "opposed", 6, 7).await;
    for (main, figure) in (1..).zip(["2.3", "3.4", "2.59", "2.2", "1.2", "2.4"]) {
        house.take(twelve, &format!("main-clearance-vertical@main.{main}"), figure).await;
    }
    house.take(flat, "main-clearance-vertical@main.2", "2.4").await;
    let call = NewCall {
        because: "The oil pump is one size larger, and main 2 feeds nothing else. Same as the engine before it.".into(),
        for_owner: "Main 2 runs wide by choice.".into(),
    };
    let key = FindingKey::parse("main-clearance-vertical@main.2");
    shop.accept(&house.doing(), twelve, &key, &call).await.expect("a call");
    shop.sign_step(&house.doing(), twelve, "check-in", None, "").await.expect("signed");
    shop.set_step_aside(&house.doing(), twelve, "cracks", None, Some("Harrow Lane Crack Testing"))
        .await
        .expect("aside");
    shop.sign_step(&house.doing(), twelve, "tear-down", None, "").await.expect("signed");
    shop.set_step_aside(&house.doing(), twelve, "deck", None, None).await.expect("aside");
    shop.sign_step(&house.doing(), twelve, "agree", None, "").await.expect("signed");
    shop.reopen_step(&house.doing(), twelve, "agree", None, "he wants the heads ported too").await.expect("open");
    shop.sign_step(&house.doing(), twelve, "agree", None, "").await.expect("signed");
    let mark = "main cap 3, second torque step; wrench set to 70 lbf·ft";
    shop.stop_here(&house.doing(), twelve, "bearings", mark).await.expect("stopped");
    let note = "Cap 3 sits 4 thou proud on the left.\nAsk <Harrow Lane> whether they moved the dowel.";
    shop.add_note(&house.doing(), twelve, Some("bearings"), note).await.expect("a note");
    shop.add_note(&house.doing(), twelve, None, "He calls on Tuesdays.").await.expect("a note");
    for (name, caption) in [("cap3.jpg", "Cap 3 from the left, with the feeler in"), ("block.jpg", "")] {
        let photo = Photo { name: name.into(), bytes: picture() };
        shop.add_photos(&house.doing(), twelve, Some("bearings"), vec![photo], caption).await.expect("a photo");
    }
    house
}
