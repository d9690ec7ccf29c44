//! Orders to place, over all jobs by supplier: on the screen, on paper, as a table for a spreadsheet; marked as ordered.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::http::header;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use axum_extra::extract::Form;

use super::on_job::doing;
use crate::web::{Field, FormState, Frame, PageError, Visit, forms};
use crate::work::{OrderForm, OrderGroup, OrdersView, PartLine, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/orders", get(show).post(mark)).route("/orders.csv", get(table))
}

/// In the names of fields: what nobody is chosen for.
const NOBODY: &str = "nobody";

#[derive(Template)]
#[template(path = "office/orders.html")]
struct OrdersPage<'a> {
    frame: Frame,
    view: OrdersView,
    /// Whose form was sent.
    sent: String,
    form: &'a FormState,
}

impl OrdersPage<'_> {
    fn of<'g>(&self, group: &'g OrderGroup) -> &'g str {
        group.supplier.as_ref().map_or(NOBODY, |(id, ..)| id)
    }

    /// A field of a group's form: as typed, or what to start from.
    fn field(&self, group: &OrderGroup, name: &str) -> Field {
        let mut field = self.form.field(&format!("{name}-{}", self.of(group)));
        if name == "day" && self.sent != self.of(group) {
            field.value.clone_from(&self.view.today);
        }
        field
    }

    fn tick(&self, part: &str) -> Field {
        self.form.field(&format!("part-{part}"))
    }

    /// Faults of lines that stand here no more: somebody else has ordered them.
    fn gone(&self) -> impl Iterator<Item = &Field> {
        let stands = |fault: &Field| {
            let line = |line: &PartLine| fault.name.ends_with(line.part.as_str());
            let group = |group: &OrderGroup| fault.name.ends_with(self.of(group)) || group.lines.iter().any(line);
            self.view.groups.iter().any(group)
        };
        self.form.faults().iter().filter(move |fault| !stands(fault))
    }

    fn whom(&self) -> Vec<(String, String)> {
        std::iter::once((String::new(), "choose".to_owned())).chain(self.view.suppliers.iter().cloned()).collect()
    }
}

async fn show(visit: Visit, State(shop): State<Shop>) -> Result<Response, PageError> {
    page(visit, &shop, String::new(), &FormState::blank()).await
}

async fn mark(
    visit: Visit,
    State(shop): State<Shop>,
    Form(fields): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let ticked: Vec<String> =
        fields.iter().filter_map(|(name, _)| name.strip_prefix("part-").map(str::to_owned)).collect();
    let mut state = FormState::from_pairs(fields);
    let of = state.value("of").to_owned();
    let typed = |name: &str| state.value(&format!("{name}-{of}")).to_owned();
    let seen = |part: &str| state.value(&format!("seen-{part}")).parse().unwrap_or(0);
    let form = OrderForm {
        parts: ticked.into_iter().map(|part| (part.clone(), seen(&part))).collect(),
        from: typed("from"),
        day: typed("day"),
        due: typed("due"),
        words: typed("words"),
    };
    match shop.mark_ordered(&doing(&visit, &state), &form).await {
        Ok(()) => Ok(Redirect::to("/orders").into_response()),
        Err(refused) => {
            let on_page = |(field, what): (String, String)| match field.starts_with("part-") {
                true => (field, what),
                false => (format!("{field}-{of}"), what),
            };
            let faults: Vec<_> = refused.faults()?.map(on_page).collect();
            state.refuse_each(faults);
            page(visit, &shop, of, &state).await
        }
    }
}

async fn table(visit: Visit, State(shop): State<Shop>) -> Result<Response, PageError> {
    let table = shop.orders_table(visit.at).await?;
    let headers = [
        (header::CONTENT_TYPE, "text/csv; charset=utf-8; header=present"),
        (header::CONTENT_DISPOSITION, "attachment; filename=\"orders.csv\""),
    ];
    Ok((headers, table).into_response())
}

async fn page(visit: Visit, shop: &Shop, sent: String, form: &FormState) -> Result<Response, PageError> {
    let view = shop.orders(visit.at).await?;
    let frame = visit.office("Orders to place").under("Shop floor", "/").refused(form.is_refused());
    forms::show(form, &OrdersPage { frame, view, sent, form })
}
