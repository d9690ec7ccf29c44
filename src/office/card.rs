//! The card maker: for whom each line is, with a preview of what each reader gets, and what was issued.

use std::collections::BTreeMap;

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::{Form, Query};
use serde::Deserialize;

use super::on_job::{doing, frame};
use crate::web::{Field, FormState, Frame, PageError, Visit, forms};
use crate::work::{Audience, CardIssueView, CardLine, CardSection, CardView, Doing, FactKey, Shop, sheet_of_line};

pub(super) fn routes() -> Router<Shop> {
    Router::new()
        .route("/jobs/{number}/card", get(show))
        .route("/jobs/{number}/card/lines", post(keep))
        .route("/jobs/{number}/card/preset", post(keep_preset))
}

/// Whose card is previewed, and whether the page follows a save.
#[derive(Default, Deserialize)]
#[serde(default)]
struct Asked {
    reader: String,
    kept: String,
}

#[derive(Template)]
#[template(path = "office/card.html")]
struct CardPage<'a> {
    frame: Frame,
    view: CardView,
    form: &'a FormState,
    reader: Audience,
    kept: String,
}

impl CardPage<'_> {
    /// The readers, each with how the choice and the card are called.
    const READERS: [(Audience, &'static str); 3] =
        [(Audience::Owner, "owner"), (Audience::Tuner, "tuner"), (Audience::Shop, "shop only")];

    fn sections(&self) -> Vec<(CardSection, Vec<&CardLine>)> {
        let of = |section: CardSection| self.view.lines.iter().filter(move |line| line.section == section).collect();
        CardSection::ALL.into_iter().map(|section| (section, of(section))).collect()
    }

    fn field(&self, line: &CardLine) -> Field {
        self.form.field(&format!("{LINE}{}", line.key))
    }

    /// The page on which a line's words are entered, if it has one.
    fn enter_at(&self, line: &CardLine) -> Option<String> {
        let job = format!("/jobs/{}", self.view.head.job);
        let in_details = |field: &str| Some(format!("{job}/details#{field}"));
        match line.key.as_str() {
            "owner" => in_details("field-customer"),
            "block-material" => in_details("field-block_material"),
            "head-material" => in_details("field-head_material"),
            "crank-material" => in_details("field-crank_material"),
            "cap-material" => in_details("field-cap_material"),
            "rod-material" => in_details("field-rod_material"),
            "sleeve-material" => in_details("field-sleeve_material"),
            "bush-material" => in_details("field-bush_material"),
            "piston-material" => in_details("field-piston_material"),
            "displacement" | "bore-stroke" => in_details("field-bore@cylinders"),
            "rod-length" => in_details("field-rod-length@engine"),
            "firing-order" => in_details("field-firing_order"),
            "limits" => Some(format!("{job}/limits")),
            "deviations" | "told-of-calls" | "sign-offs" | "tightened" => Some(job),
            serial if serial.starts_with("serial-") => in_details("serials"),
            other => {
                let on_sheet = sheet_of_line(other).map(|sheet| format!("{job}/sheets/{}", sheet.key()));
                on_sheet.or_else(|| in_details(&format!("field-{}", FactKey::find(other)?.key)))
            }
        }
    }

    /// The newest issue of each reader that the record has outgrown.
    fn outgrown(&self) -> impl Iterator<Item = &CardIssueView> {
        self.view.issues.iter().filter(|issue| issue.newest && issue.changed_since)
    }
}

/// How a line's choice is named in the form.
const LINE: &str = "line.";

async fn show(
    visit: Visit,
    State(shop): State<Shop>,
    Path(number): Path<i64>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let reader = match asked.reader.as_str() {
        "" => Audience::Owner,
        word => Audience::from_word(word).ok_or(PageError::NotFound)?,
    };
    let view = shop.card(number, visit.at).await?;
    let stands = view.lines.iter().map(|line| (format!("{LINE}{}", line.key), line.audience.word().to_owned()));
    let form = FormState::from_pairs(stands);
    page(visit, view, &form, reader, asked.kept)
}

/// Keeps for whom each line is, on this job's cards.
async fn keep(
    visit: Visit,
    State(shop): State<Shop>,
    Path(number): Path<i64>,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    keep_lines(visit, &shop, number, pairs, "lines").await
}

/// Keeps them, and makes them the shop's preset.
async fn keep_preset(
    visit: Visit,
    State(shop): State<Shop>,
    Path(number): Path<i64>,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    keep_lines(visit, &shop, number, pairs, "preset").await
}

async fn keep_lines(
    visit: Visit,
    shop: &Shop,
    number: i64,
    pairs: Vec<(String, String)>,
    kept: &str,
) -> Result<Response, PageError> {
    let mut form = FormState::from_pairs(pairs.iter().cloned());
    let mut chosen = BTreeMap::new();
    for (name, word) in &pairs {
        let Some(line) = name.strip_prefix(LINE) else { continue };
        let audience = Audience::from_word(word).ok_or("Choose owner, tuner or shop only");
        chosen.extend(form.take(name, audience).map(|audience| (line.to_owned(), audience)));
    }
    let doing = doing(&visit, &form);
    if form.is_refused() {
        let view = shop.card(number, visit.at).await?;
        return page(visit, view, &form, Audience::Owner, String::new());
    }
    shop.choose_card_lines(&doing, number, &chosen).await?;
    if kept == "preset" {
        // A second act of the same form.
        let doing = Doing { key: format!("{} preset", doing.key), ..doing };
        shop.keep_card_preset(&doing, number).await?;
    }
    let reader = Audience::from_word(form.value("reader")).unwrap_or_default().word();
    Ok(Redirect::to(&format!("/jobs/{number}/card?reader={reader}&kept={kept}")).into_response())
}

fn page(visit: Visit, view: CardView, form: &FormState, reader: Audience, kept: String) -> Result<Response, PageError> {
    let frame = frame(visit, &view.head, "Spec card").refused(form.is_refused());
    forms::show(form, &CardPage { frame, view, form, reader, kept })
}
