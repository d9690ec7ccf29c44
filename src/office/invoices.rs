//! `/jobs/{n}/invoices`: drawing one up, and each as it was issued: to look at, as its paper, for the books, and credited.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::Form;

use super::card_issues::document;
use super::money::rows;
use super::on_job::{doing, frame};
use crate::web::{FormState, Frame, PageError, Visit, forms};
use crate::work::{DrawUpView, InvoiceForm, InvoiceView, Shop};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/invoices", get(show).post(issue))
        .route("/jobs/{number}/invoices/{invoice}", get(show_one))
        .route("/jobs/{number}/invoices/{invoice}/paper.pdf", get(paper))
        .route("/jobs/{number}/invoices/{invoice}/rows.csv", get(for_the_books))
        .route("/jobs/{number}/invoices/{invoice}/credit", post(credit))
}

type Answer = Result<Response, PageError>;
type Pairs = Form<Vec<(String, String)>>;

#[derive(Template)]
#[template(path = "office/invoices.html")]
struct DrawUpPage<'a> {
    frame: Frame,
    view: DrawUpView,
    form: &'a FormState,
    /// Whether nothing was ticked by anybody yet: then all is.
    fresh: bool,
}

impl DrawUpPage<'_> {
    fn is_ticked(&self, of: &str, id: &i64) -> bool {
        self.fresh || !self.form.value(&format!("{of}-{id}")).is_empty()
    }
}

#[derive(Template)]
#[template(path = "office/invoice.html")]
struct InvoicePage<'a> {
    frame: Frame,
    view: InvoiceView,
    form: &'a FormState,
}

async fn show(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>) -> Answer {
    page(visit, &shop, job, &FormState::blank(), true).await
}

async fn page(visit: Visit, shop: &Shop, job: i64, form: &FormState, fresh: bool) -> Answer {
    let view = shop.draw_up(job, visit.at).await?;
    let frame = frame(visit, &view.head, "Invoices")
        .under("Charges", format!("/jobs/{job}/charges"))
        .refused(form.is_refused());
    forms::show(form, &DrawUpPage { frame, view, form, fresh })
}

async fn issue(visit: Visit, State(shop): State<Shop>, Path(job): Path<i64>, Form(pairs): Pairs) -> Answer {
    let ticked = |of: &str| -> Vec<i64> {
        let ids = pairs.iter().filter(|(_, value)| !value.is_empty());
        ids.filter_map(|(name, _)| name.strip_prefix(of)?.parse().ok()).collect()
    };
    let (lines, discounts) = (ticked("line-"), ticked("discount-"));
    let mut state = FormState::from_pairs(pairs);
    let form =
        InvoiceForm { day: state.value("day").to_owned(), lines, discounts, sure: !state.value("sure").is_empty() };
    match shop.issue_invoice(&doing(&visit, &state), job, &form).await {
        Ok(number) => Ok(Redirect::to(&format!("/jobs/{job}/invoices/{number}")).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, &shop, job, &state, false).await
        }
    }
}

async fn show_one(visit: Visit, State(shop): State<Shop>, Path((job, number)): Path<(i64, String)>) -> Answer {
    one(visit, &shop, job, &number, &FormState::blank()).await
}

async fn one(visit: Visit, shop: &Shop, job: i64, number: &str, form: &FormState) -> Answer {
    let view = shop.invoice(job, number, visit.at).await?;
    let title = if view.undoes.is_some() { "Credit" } else { "Invoice" };
    let frame = frame(visit, &view.head, &format!("{title} {number}"))
        .under("Charges", format!("/jobs/{job}/charges"))
        .under("Invoices", format!("/jobs/{job}/invoices"))
        .refused(form.is_refused());
    forms::show(form, &InvoicePage { frame, view, form })
}

async fn paper(State(shop): State<Shop>, Path((job, number)): Path<(i64, String)>) -> Answer {
    let bytes = shop.invoice_pdf(job, &number).await?;
    Ok(document(bytes, "inline", &format!("invoice-{number}")))
}

async fn for_the_books(State(shop): State<Shop>, Path((job, number)): Path<(i64, String)>) -> Answer {
    Ok(rows(shop.invoice_csv(job, &number).await?, &format!("invoice-{number}")))
}

async fn credit(
    visit: Visit,
    State(shop): State<Shop>,
    Path((job, number)): Path<(i64, String)>,
    Form(pairs): Pairs,
) -> Answer {
    let mut state = FormState::from_pairs(pairs);
    let reason = state.value("reason").to_owned();
    match shop.credit_invoice(&doing(&visit, &state), job, &number, &reason).await {
        Ok(credit) => Ok(Redirect::to(&format!("/jobs/{job}/invoices/{credit}")).into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            one(visit, &shop, job, &number, &state).await
        }
    }
}
