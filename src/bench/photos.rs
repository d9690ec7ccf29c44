//! Photos and other files of a job, one of its steps or a round: on a page of their own, so that a camera that pushes the
//! page out loses nothing, and on the page for a phone, which takes notes too.

use askama::Template;
use axum::Router;
use axum::body::Bytes;
use axum::extract::{DefaultBodyLimit, Multipart, Path, State};
use axum::response::Response;
use axum::routing::{get, post};
use axum_extra::extract::{Form, Query};
use serde::{Deserialize, Serialize};

use super::attached::{Attached, kept, refused};
use super::on_job::doing;
use super::sheet::sheet_of;
use crate::web::forms::{self, Part};
use crate::web::server::PHOTOS;
use crate::web::{FormState, Frame, PageError, Visit};
use crate::work::{Arriving, Beside, Shop, Shown};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/photos", get(show).post(add).layer(DefaultBodyLimit::max(PHOTOS)))
        .route("/jobs/{number}/phone", get(show_phone))
        .route("/jobs/{number}/photos/{photo}/withdraw", post(withdraw))
}

/// What the photos belong to, and which of the two pages they are taken on.
#[derive(Clone, Default, Serialize, Deserialize)]
#[serde(default)]
struct Asked {
    step: String,
    sheet: String,
    round: String,
    /// Public id of a part, or of work sent out.
    thing: String,
    /// "phone" on the phone's page.
    on: String,
}

impl Asked {
    fn of(form: &FormState) -> Self {
        let value = |name| form.value(name).to_owned();
        Self {
            step: value("step"),
            sheet: value("sheet"),
            round: value("round"),
            thing: value("thing"),
            on: value("on"),
        }
    }

    fn step(&self) -> Option<&str> {
        Some(&*self.step).filter(|key| !key.is_empty())
    }

    fn beside(&self) -> Result<Beside<'_>, PageError> {
        let round = match &*self.sheet {
            "" => None,
            sheet => Some((sheet_of(sheet)?, self.round.parse().map_err(|_| PageError::NotFound)?)),
        };
        let thing = Some(&*self.thing).filter(|id| !id.is_empty());
        Ok(Beside { step: self.step(), round, thing })
    }

    /// The page of these photos: more may follow.
    fn address(&self, job: i64) -> String {
        let page = if self.on == "phone" { "phone" } else { "photos" };
        let asked = [("step", &self.step), ("sheet", &self.sheet), ("round", &self.round), ("thing", &self.thing)];
        let asked = asked.iter().filter(|(_, value)| !value.is_empty());
        let asked: Vec<String> = asked.map(|(name, value)| format!("{name}={value}")).collect();
        let asked = if asked.is_empty() { String::new() } else { format!("?{}", asked.join("&")) };
        format!("/jobs/{job}/{page}{asked}")
    }
}

#[derive(Template)]
#[template(path = "bench/photos.html")]
struct PhotosPage<'a> {
    frame: Frame,
    of: Attached,
    asked: Asked,
    /// The round whose record the photos are: "Main bearings, round 2".
    round: Option<String>,
    /// The part they show, or the work sent out whose ticket they are.
    thing: Option<String>,
    form: &'a FormState,
}

#[derive(Template)]
#[template(path = "bench/phone.html")]
struct PhonePage<'a> {
    frame: Frame,
    of: Attached,
    asked: Asked,
    round: Option<String>,
    thing: Option<String>,
    form: &'a FormState,
    note: FormState,
    /// Key and title of each step of the job, to say which one it belongs to.
    steps: Vec<(String, String)>,
}

type Answer = Result<Response, PageError>;

async fn show(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Query(asked): Query<Asked>) -> Answer {
    let asked = Asked { on: String::new(), ..asked };
    page(visit, &shop, job, &FormState::of(&asked)).await
}

async fn show_phone(
    visit: Visit,
    State(shop): State<Shop>,
    Path(job): Path<i64>,
    Query(asked): Query<Asked>,
) -> Answer {
    let asked = Asked { on: "phone".to_owned(), ..asked };
    page(visit, &shop, job, &FormState::of(&asked)).await
}

async fn add(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, parts: Multipart) -> Answer {
    let (mut state, files) = arrived(&shop, parts).await?;
    let asked = Asked::of(&state);
    match shop.attach(&doing(&visit, &state), job, asked.beside()?, files, state.value("caption")).await {
        Ok(()) => Ok(kept(&visit, &asked.address(job))),
        Err(why) => {
            state.refuse_each(why.faults()?);
            match refused(&visit, &state) {
                Some(answer) => Ok(answer),
                None => page(visit, &shop, job, &state).await,
            }
        }
    }
}

/// The form with its files, which go to disk as they come. A file field left empty by the browser has no name and no
/// bytes, and gives none.
async fn arrived(shop: &Shop, mut parts: Multipart) -> Result<(FormState, Vec<Arriving>), PageError> {
    let (mut texts, mut files) = (Vec::new(), Vec::new());
    while let Some(part) = forms::next_part(&mut parts, "photos").await? {
        let mut file = match part {
            Part::Text(name, text) => {
                texts.push((name, text));
                continue;
            }
            Part::File(file) => file,
        };
        let mut chunk = file.next().await?;
        if file.name.is_empty() && chunk.as_ref().is_none_or(Bytes::is_empty) {
            continue;
        }
        let mut arriving = shop.receive(&file.name).await?;
        while let Some(bytes) = chunk {
            arriving = arriving.write(bytes).await?;
            chunk = file.next().await?;
        }
        files.push(arriving);
    }
    Ok((FormState::from_pairs(texts), files))
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct WithdrawForm {
    key: String,
    step: String,
}

async fn withdraw(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, photo)): Path<(i64, i64)>,
    Form(form): Form<WithdrawForm>,
) -> Answer {
    let state = FormState::of(&form);
    shop.withdraw_photo(&doing(&visit, &state), job, photo).await?;
    Ok(kept(&visit, &Asked { step: form.step, ..Asked::default() }.address(job)))
}

async fn page(visit: Visit, shop: &Shop, job: i64, form: &FormState) -> Answer {
    let asked = Asked::of(form);
    let at = visit.at;
    let of = Attached::load(shop, job, asked.step(), at).await?;
    let round = match asked.beside()?.round {
        Some((sheet, round)) => Some(shop.round_called(job, sheet, round).await?),
        None => None,
    };
    let thing = match asked.beside()?.thing {
        Some(thing) => Some(shop.thing_called(job, thing).await?),
        None => None,
    };
    if asked.on == "phone" {
        let frame = of.frame(visit, "Photo and note").refused(form.is_refused());
        let steps = shop.job(job, at).await?.steps.into_iter().map(|row| (row.key, row.title)).collect();
        return forms::show(form, &PhonePage { frame, of, asked, round, thing, form, note: FormState::blank(), steps });
    }
    let frame = of.frame(visit, "Photos").refused(form.is_refused());
    forms::show(form, &PhotosPage { frame, of, asked, round, thing, form })
}
