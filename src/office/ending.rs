//! How a job ends or where it rests, and what goes back to whom; an ending can be taken back.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::Form;

use super::on_job::{doing, frame};
use crate::web::{Field, FormState, Frame, PageError, Visit, forms};
use crate::work::{EndingForm, EndingKind, EndingView, Shop, ThingField, Whither};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/ending", get(show).post(end))
        .route("/jobs/{number}/ending/withdraw", post(withdraw))
}

type Fields = Form<Vec<(String, String)>>;
type Answer = Result<Response, PageError>;

#[derive(Template)]
#[template(path = "office/ending.html")]
struct EndingPage<'a> {
    frame: Frame,
    view: EndingView,
    form: &'a FormState,
}

impl EndingPage<'_> {
    fn kinds() -> impl Iterator<Item = (&'static str, &'static str)> {
        EndingKind::ALL.iter().map(|kind| (kind.key(), kind.word()))
    }

    /// The day is today unless somebody types another.
    fn day(&self) -> Field {
        let mut field = self.form.field("day");
        if !self.form.is_refused() {
            field.value.clone_from(&self.view.today);
        }
        field
    }

    fn whither(&self, thing: &ThingField) -> Field {
        self.form.field(&format!("whither-{}", thing.key))
    }

    /// Where a thing can go; first what is usual for it.
    fn ways(&self, thing: &ThingField) -> impl Iterator<Item = (&'static str, &'static str)> + use<> {
        let usual = thing.usual;
        let first = std::iter::once(("", usual.map_or("with the engine", Whither::word)));
        let others = Whither::ALL.iter().filter(move |way| Some(**way) != usual);
        first.chain(others.map(|way| (way.key(), way.word())))
    }
}

async fn show(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>) -> Answer {
    page(visit, &shop, job, &FormState::blank()).await
}

async fn end(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(fields): Fields) -> Answer {
    let to = |(name, value): &(String, String)| Some((name.strip_prefix("whither-")?.to_owned(), value.clone()));
    let whither = fields.iter().filter_map(to).collect();
    let mut state = FormState::from_pairs(fields);
    let typed = |name: &str| state.value(name).to_owned();
    let form = EndingForm {
        saw: typed("saw"),
        kind: typed("kind"),
        day: typed("day"),
        words: typed("words"),
        storage_from: typed("storage_from"),
        whither,
        to_job: typed("to_job"),
    };
    match shop.end_job(&doing(&visit, &state), job, &form).await {
        Ok(()) => Ok(Redirect::to(&format!("/jobs/{job}/ending")).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, job, &state).await
        }
    }
}

async fn withdraw(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(fields): Fields) -> Answer {
    let mut state = FormState::from_pairs(fields);
    match shop.take_ending_back(&doing(&visit, &state), job).await {
        Ok(()) => Ok(Redirect::to(&format!("/jobs/{job}")).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, job, &state).await
        }
    }
}

async fn page(visit: Visit, shop: &Shop, job: i64, form: &FormState) -> Answer {
    let view = shop.ending(job, visit.at).await?;
    let frame = frame(visit, &view.head, "Ending").refused(form.is_refused());
    forms::show(form, &EndingPage { frame, view, form })
}
