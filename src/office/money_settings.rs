//! `/shop/money`: how the shop charges, and its rates of tax.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::Form;

use super::on_job::doing;
use super::quicker::{self, Quicker};
use crate::web::{FormState, Frame, PageError, Visit};
use crate::work::{MoneyForm, MoneyView, Refused, Shop, TaxForm, TaxView};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/shop/money", get(show).post(save))
        .route("/shop/money/taxes", post(add_tax))
        .route("/shop/money/taxes/{tax}", get(show_tax).post(change_tax))
        .route("/shop/money/taxes/{tax}/withdraw", post(withdraw_tax))
}

type Answer = Result<Response, PageError>;
type Pairs = Form<Vec<(String, String)>>;

#[derive(Template)]
#[template(path = "office/money_settings.html")]
struct MoneyPage<'a> {
    frame: Frame,
    view: MoneyView,
    /// The form that came back refused, or as it stands.
    form: &'a FormState,
    quicker: Option<Quicker>,
}

#[derive(Template)]
#[template(path = "office/tax.html")]
struct TaxPage<'a> {
    frame: Frame,
    id: i64,
    saw: i64,
    kinds: Vec<(&'static str, &'static str)>,
    form: &'a FormState,
    quicker: Option<Quicker>,
}

impl MoneyPage<'_> {
    const PRICES: [(&'static str, &'static str); 2] = [("before-tax", "Before tax"), ("tax-included", "Tax included")];
    const ROUNDINGS: [(&'static str, &'static str, &'static str); 2] = [
        ("half-away-from-zero", "Halves away from zero", "half of the smallest coin is rounded up: the commercial way"),
        ("half-to-even", "Halves to the even figure", "0.5 becomes 0, 1.5 and 2.5 become 2"),
    ];
    const TAX_ROUNDINGS: [(&'static str, &'static str, &'static str); 2] = [
        ("total-per-rate", "On the total of each rate", "rounded once for each rate"),
        ("each-line", "On each line", "each line by itself, so that part invoices add up to the whole"),
    ];
    const NUMBERINGS: [(&'static str, &'static str); 2] =
        [("by-year", "2027-0001, anew each year"), ("plain", "1, 2, 3 and on")];
}

async fn show(visit: Visit, State(shop): State<Shop>) -> Answer {
    let view = shop.money_settings().await?;
    let form = FormState::from_pairs(named(&view).into_iter().map(|(name, _, text)| (name, text)));
    page(visit, view, &form, None)
}

/// Every field by name, with its label and what stands in it.
fn named(view: &MoneyView) -> Vec<(String, String, String)> {
    let form = &view.form;
    [
        ("currency", "Currency", &form.currency),
        ("labour_rate", "Labour, an hour", &form.labour_rate),
        ("mark_up_parts", "Mark-up on parts", &form.mark_up_parts),
        ("mark_up_sent_out", "Mark-up on work sent out", &form.mark_up_sent_out),
        ("prices", "Prices", &form.prices),
        ("rounding", "Rounding", &form.rounding),
        ("tax_rounding", "Tax is worked out", &form.tax_rounding),
        ("numbering", "Invoices are numbered", &form.numbering),
        ("pay_within", "To be paid within days", &form.pay_within),
        ("storage_week", "Storage, a week", &form.storage_week),
        ("storage_free_days", "Days without charge", &form.storage_free_days),
        ("disposal", "Disposal of an engine", &form.disposal),
    ]
    .map(|(name, label, text)| (name.to_owned(), label.to_owned(), text.clone()))
    .to_vec()
}

fn page(visit: Visit, view: MoneyView, form: &FormState, quicker: Option<Quicker>) -> Answer {
    let frame = visit.office("Money").under("Shop floor", "/").under("The shop", "/shop").refused(form.is_refused());
    let page = MoneyPage { frame, view, form, quicker };
    quicker::show(form, page.quicker.as_ref(), &page)
}

async fn save(visit: Visit, State(shop): State<Shop>, Form(pairs): Pairs) -> Answer {
    let mut state = FormState::from_pairs(pairs);
    let text = |name: &str| state.value(name).to_owned();
    let form = MoneyForm {
        currency: text("currency"),
        labour_rate: text("labour_rate"),
        mark_up_parts: text("mark_up_parts"),
        mark_up_sent_out: text("mark_up_sent_out"),
        prices: text("prices"),
        rounding: text("rounding"),
        tax_rounding: text("tax_rounding"),
        numbering: text("numbering"),
        pay_within: text("pay_within"),
        storage_week: text("storage_week"),
        storage_free_days: text("storage_free_days"),
        disposal: text("disposal"),
        sure: !text("sure").is_empty(),
    };
    let saw = text("saw").parse().unwrap_or_default();
    match shop.change_money_settings(&doing(&visit, &state), saw, &form).await {
        Ok(()) => Ok(Redirect::to("/shop/money").into_response()),
        Err(Refused::Conflict { .. }) => {
            let view = shop.money_settings().await?;
            let quicker = Quicker::of(&state, named(&view));
            page(visit, view, &state, Some(quicker))
        }
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            page(visit, shop.money_settings().await?, &state, None)
        }
    }
}

fn tax_form(state: &FormState, view: &MoneyView) -> TaxForm {
    let text = |name: &str| state.value(name).to_owned();
    let ticked = view.kinds.iter().filter(|(key, _)| is_usual(state, key));
    TaxForm {
        name: text("name"),
        title: text("title"),
        rate: text("rate"),
        reason: text("reason"),
        usual_for: ticked.map(|(key, _)| (*key).to_owned()).collect(),
        sure: !text("sure_of_rate").is_empty(),
    }
}

/// Whether a rate is ticked as usual for a kind of line.
pub(super) fn is_usual(form: &FormState, kind: &str) -> bool {
    !form.value(&format!("usual-{kind}")).is_empty()
}

/// What is wrong with a rate; the page has a tick of the same name for the settings.
fn of_tax(faults: impl Iterator<Item = (String, String)>) -> Vec<(String, String)> {
    faults.map(|(field, words)| (if field == "sure" { "sure_of_rate".to_owned() } else { field }, words)).collect()
}

async fn add_tax(visit: Visit, State(shop): State<Shop>, Form(pairs): Pairs) -> Answer {
    let mut state = FormState::from_pairs(pairs);
    let view = shop.money_settings().await?;
    match shop.keep_tax(&doing(&visit, &state), None, &tax_form(&state, &view)).await {
        Ok(()) => Ok(Redirect::to("/shop/money#taxes").into_response()),
        Err(refused) => {
            state.refuse_each(of_tax(refused.faults()?));
            for (name, _, stands) in named(&view) {
                state = state.with(&name, stands);
            }
            page(visit, view, &state, None)
        }
    }
}

/// A rate as its form shows it.
fn as_typed(tax: &TaxView) -> FormState {
    let form = &tax.form;
    let fields = [("name", &form.name), ("title", &form.title), ("rate", &form.rate), ("reason", &form.reason)];
    let ticks = form.usual_for.iter().map(|kind| (format!("usual-{kind}"), "yes".to_owned()));
    FormState::from_pairs(fields.into_iter().map(|(name, text)| (name.to_owned(), text.clone())).chain(ticks))
}

async fn show_tax(visit: Visit, State(shop): State<Shop>, Path(id): Path<i64>) -> Answer {
    let view = shop.money_settings().await?;
    let tax = view.taxes.iter().find(|tax| tax.id == id).ok_or(PageError::NotFound)?;
    tax_page(visit, &view, id, tax.act, &as_typed(tax), None)
}

fn tax_page(visit: Visit, view: &MoneyView, id: i64, saw: i64, form: &FormState, quicker: Option<Quicker>) -> Answer {
    let frame = visit
        .office(form.value("name"))
        .under("Shop floor", "/")
        .under("The shop", "/shop")
        .under("Money", "/shop/money")
        .refused(form.is_refused());
    let page = TaxPage { frame, id, saw, kinds: view.kinds.clone(), form, quicker };
    quicker::show(form, page.quicker.as_ref(), &page)
}

async fn change_tax(visit: Visit, State(shop): State<Shop>, Path(id): Path<i64>, Form(pairs): Pairs) -> Answer {
    let mut state = FormState::from_pairs(pairs);
    let view = shop.money_settings().await?;
    let tax = view.taxes.iter().find(|tax| tax.id == id).ok_or(PageError::NotFound)?;
    let saw = state.value("saw").parse().unwrap_or_default();
    match shop.keep_tax(&doing(&visit, &state), Some((id, saw)), &tax_form(&state, &view)).await {
        Ok(()) => Ok(Redirect::to("/shop/money#taxes").into_response()),
        Err(Refused::Conflict { .. }) => {
            let form = &tax.form;
            let stands =
                [("title", "On the paper", &form.title), ("rate", "Rate", &form.rate), ("reason", "Why", &form.reason)];
            let stands = stands.map(|(name, label, text)| (name.to_owned(), label.to_owned(), text.clone()));
            let quicker = Quicker::of(&state, stands);
            tax_page(visit, &view, id, tax.act, &state, Some(quicker))
        }
        Err(refused) => {
            state.refuse_each(of_tax(refused.faults()?));
            tax_page(visit, &view, id, saw, &state, None)
        }
    }
}

async fn withdraw_tax(visit: Visit, State(shop): State<Shop>, Path(id): Path<i64>, Form(pairs): Pairs) -> Answer {
    shop.withdraw_tax(&doing(&visit, &FormState::from_pairs(pairs)), id).await?;
    Ok(Redirect::to("/shop/money#taxes").into_response())
}
