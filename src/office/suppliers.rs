//! Suppliers and machine shops: the list; and of each what is there now, and what it promised against what came.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::Form;
use serde::{Deserialize, Serialize};

use super::on_job::doing;
use super::quicker::{self, Quicker};
use crate::web::{FormState, Frame, KeyForm, PageError, Visit, forms, svg};
use crate::work::{Refused, Shop, SupplierForm, SupplierRow, SupplierView};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/suppliers", get(list).post(add))
        .route("/suppliers/{supplier}", get(show).post(change))
        .route("/suppliers/{supplier}/withdraw", post(withdraw))
}

type Answer = Result<Response, PageError>;

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct OneForm {
    key: String,
    saw: i64,
    name: String,
    phone: String,
    email: String,
    note: String,
    usual_days: String,
}

impl OneForm {
    fn typed(&self) -> SupplierForm {
        SupplierForm {
            name: self.name.clone(),
            phone: self.phone.clone(),
            email: self.email.clone(),
            note: self.note.clone(),
            usual_days: self.usual_days.clone(),
        }
    }
}

#[derive(Template)]
#[template(path = "office/suppliers.html")]
struct SuppliersPage<'a> {
    frame: Frame,
    suppliers: Vec<SupplierRow>,
    form: &'a FormState,
}

#[derive(Template)]
#[template(path = "office/supplier.html")]
struct SupplierPage<'a> {
    frame: Frame,
    view: SupplierView,
    form: &'a FormState,
    quicker: Option<Quicker>,
}

impl SupplierPage<'_> {
    fn picture(&self) -> Option<String> {
        self.view.kept.as_ref().map(|(_, drawing)| svg::to_svg(drawing, "kept", &|_| None))
    }
}

async fn list(visit: Visit, State(shop): State<Shop>) -> Answer {
    all(visit, &shop, &FormState::blank()).await
}

async fn add(visit: Visit, State(shop): State<Shop>, Form(form): Form<OneForm>) -> Answer {
    let mut state = FormState::of(&form);
    match shop.keep_supplier(&doing(&visit, &state), None, &form.typed()).await {
        Ok(()) => Ok(Redirect::to("/suppliers").into_response()),
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            all(visit, &shop, &state).await
        }
    }
}

async fn all(visit: Visit, shop: &Shop, form: &FormState) -> Answer {
    let suppliers = shop.suppliers(visit.at).await?;
    let frame = visit.office("Suppliers").under("Shop floor", "/").refused(form.is_refused());
    forms::show(form, &SuppliersPage { frame, suppliers, form })
}

async fn show(visit: Visit, State(shop): State<Shop>, Path(id): Path<String>) -> Answer {
    let view = shop.supplier(&id, visit.at).await?;
    let form = FormState::from_pairs(named(&view).map(|(name, _, text)| (name, text)));
    one(visit, view, &form, None)
}

async fn change(visit: Visit, State(shop): State<Shop>, Path(id): Path<String>, Form(form): Form<OneForm>) -> Answer {
    let mut state = FormState::of(&form);
    match shop.keep_supplier(&doing(&visit, &state), Some((&id, form.saw)), &form.typed()).await {
        Ok(()) => Ok(Redirect::to(&format!("/suppliers/{id}")).into_response()),
        Err(Refused::Conflict { .. }) => {
            let view = shop.supplier(&id, visit.at).await?;
            let quicker = Quicker::of(&state, named(&view));
            one(visit, view, &state, Some(quicker))
        }
        Err(refused) => {
            state.refuse_each(refused.faults()?);
            let view = SupplierView { saw: form.saw, ..shop.supplier(&id, visit.at).await? };
            one(visit, view, &state, None)
        }
    }
}

async fn withdraw(visit: Visit, State(shop): State<Shop>, Path(id): Path<String>, Form(form): Form<KeyForm>) -> Answer {
    match shop.withdraw_supplier(&doing(&visit, &FormState::of(&form)), &id).await {
        Ok(()) => Ok(Redirect::to("/suppliers").into_response()),
        Err(refused) => {
            let faults = refused.faults()?;
            let view = shop.supplier(&id, visit.at).await?;
            let mut state = FormState::from_pairs(named(&view).map(|(name, _, text)| (name, text)));
            state.refuse_each(faults);
            one(visit, view, &state, None)
        }
    }
}

/// Every field by name, with its label and what stands in it.
fn named(view: &SupplierView) -> impl Iterator<Item = (String, String, String)> + use<> {
    let form = view.form.clone();
    let fields = [
        ("name", "Name", form.name),
        ("phone", "Phone", form.phone),
        ("email", "E-mail", form.email),
        ("usual_days", "Usual days", form.usual_days),
        ("note", "Note", form.note),
    ];
    fields.into_iter().map(|(name, label, text)| (name.to_owned(), label.to_owned(), text))
}

fn one(visit: Visit, view: SupplierView, form: &FormState, quicker: Option<Quicker>) -> Answer {
    let frame = visit.office(&view.name).under("Shop floor", "/").under("Suppliers", "/suppliers");
    let page = SupplierPage { frame: frame.refused(form.is_refused()), view, form, quicker };
    quicker::show(form, page.quicker.as_ref(), &page)
}
