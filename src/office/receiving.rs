//! Receiving: everything on order or away over all jobs; ticked as it comes, the wrong part put aside.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use axum_extra::extract::Form;

use super::on_job::doing;
use crate::web::{Field, FormState, Frame, PageError, Visit, forms};
use crate::work::{AwayLine, CameForm, PartLine, ReceiveForm, ReceivingView, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/receiving", get(show).post(receive))
}

#[derive(Template)]
#[template(path = "office/receiving.html")]
struct ReceivingPage<'a> {
    frame: Frame,
    view: ReceivingView,
    form: &'a FormState,
}

impl ReceivingPage<'_> {
    fn of(&self, line: &PartLine, name: &str) -> Field {
        let mut field = self.form.field(&format!("{name}-{}", line.part));
        if name == "count" && !self.form.is_refused() {
            field.value = line.quantity.to_string();
        }
        field
    }

    fn back(&self, line: &AwayLine) -> Field {
        self.form.field(&format!("back-{}", line.sending))
    }

    /// Faults of lines that stand here no more: somebody else has taken them in.
    fn gone(&self) -> impl Iterator<Item = &Field> {
        let stands = |fault: &Field| {
            ["came", "day"].contains(&fault.name.as_str())
                || self.view.awaited.iter().any(|line| fault.name.ends_with(line.part.as_str()))
                || self.view.away.iter().any(|line| fault.name.ends_with(line.sending.as_str()))
        };
        self.form.faults().iter().filter(move |fault| !stands(fault))
    }

    fn day(&self) -> Field {
        let mut field = self.form.field("day");
        if !self.form.is_refused() {
            field.value.clone_from(&self.view.today);
        }
        field
    }

    /// Whether the fields of a wrong part are shown at once.
    fn is_wrong(&self, line: &PartLine) -> bool {
        ["wrong", "why"].into_iter().map(|name| self.of(line, name)).any(|f| !f.value.is_empty() || f.fault.is_some())
    }
}

async fn show(visit: Visit, State(shop): State<Shop>) -> Result<Response, PageError> {
    page(visit, &shop, &FormState::blank()).await
}

async fn receive(
    visit: Visit,
    State(shop): State<Shop>,
    Form(fields): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let ticked = |what: &str| {
        let of_kind = fields.iter().filter_map(|(name, _)| name.strip_prefix(what).map(str::to_owned));
        of_kind.collect::<Vec<_>>()
    };
    let (came, back) = (ticked("came-"), ticked("back-"));
    let mut state = FormState::from_pairs(fields);
    let typed = |name: &str, id: &str| state.value(&format!("{name}-{id}")).to_owned();
    let form = ReceiveForm {
        day: state.value("day").to_owned(),
        came: came
            .into_iter()
            .map(|part| CameForm {
                seen: typed("seen", &part).parse().unwrap_or(0),
                count: typed("count", &part),
                wrong: typed("wrong", &part),
                why: typed("why", &part),
                part,
            })
            .collect(),
        back: back.into_iter().map(|id| (id.clone(), typed("act", &id).parse().unwrap_or(0))).collect(),
    };
    match shop.take_in(&doing(&visit, &state), &form).await {
        Ok(()) => Ok(Redirect::to("/receiving").into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, &state).await
        }
    }
}

async fn page(visit: Visit, shop: &Shop, form: &FormState) -> Result<Response, PageError> {
    let view = shop.receiving(visit.at).await?;
    let frame = visit.office("Receiving").under("Shop floor", "/").refused(form.is_refused());
    forms::show(form, &ReceivingPage { frame, view, form })
}
