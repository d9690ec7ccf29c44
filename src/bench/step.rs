//! A step of a job: what it is for, what to mind, its sheets, what is open, and the forms to stop, sign or set it aside.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::response::Response;
use axum::routing::get;

use super::on_job::{frame, job_address};
use super::shown;
use crate::web::forms;
use crate::web::{FormState, Frame, PageError, Visit};
use crate::work::{FindingView, Mark, SheetKey, Shop, Standing, StepState, StepView, home_of};

pub(super) fn routes() -> Router<Shop> {
    Router::new().route("/jobs/{number}/steps/{step}", get(show))
}

/// The forms of the page that can come back refused.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum StepForm {
    Sign,
    Check,
    Stop,
    Reopen,
    Elsewhere,
    Tightened,
    Wait,
}

#[derive(Template)]
#[template(path = "bench/step.html")]
struct StepPage<'a> {
    frame: Frame,
    view: &'a StepView,
    missing: Vec<MissingGroup<'a>>,
    /// The form that came back refused, or a blank one.
    form: &'a FormState,
    sign: FormState,
    check: FormState,
    stop: FormState,
    reopen: FormState,
    elsewhere: FormState,
    tightened: FormState,
    wait: FormState,
}

/// Findings of one kind that nothing has been read for.
struct MissingGroup<'a> {
    title: &'a str,
    sheet: Option<SheetKey>,
    findings: Vec<&'a FindingView>,
}

impl StepPage<'_> {
    /// Out or on the line, and whatever somebody has made a call on.
    fn points(&self) -> impl Iterator<Item = &FindingView> {
        self.view.open.iter().filter(|finding| !is_plainly_missing(finding))
    }

    /// How many findings are missing without a call.
    fn missing_count(&self) -> usize {
        self.missing.iter().map(|group| group.findings.len()).sum()
    }

    /// How many findings out or on the line wait for a call.
    fn to_call(&self) -> usize {
        self.points().filter(|finding| finding.needs_call()).count()
    }

    fn by_whom(&self) -> Option<&str> {
        if let StepState::Elsewhere(whom) = &self.view.row.state { Some(whom) } else { None }
    }

    /// The name that signs in one tap.
    fn signer(&self) -> Option<&(String, String)> {
        match (&self.frame.visit.who, &self.view.people[..]) {
            (Some(who), people) => people.iter().find(|(id, _)| *id == who.id),
            (None, [only]) => Some(only),
            (None, _) => None,
        }
    }

    /// What fasteners can have been tightened with; none of the register first.
    fn wrenches(&self) -> Vec<(&str, &str)> {
        let listed = self.view.wrenches.iter().map(|(id, name)| (&**id, &**name));
        std::iter::once(("", "not in the register")).chain(listed).collect()
    }

    /// The names to sign with instead.
    fn others(&self) -> impl Iterator<Item = &(String, String)> {
        let signer = self.signer();
        self.view.people.iter().filter(move |person| Some(*person) != signer)
    }
}

fn is_plainly_missing(finding: &FindingView) -> bool {
    finding.standing == Standing::Missing && finding.call.is_none()
}

fn missing_groups(open: &[FindingView]) -> Vec<MissingGroup<'_>> {
    let mut groups: Vec<MissingGroup> = Vec::new();
    for finding in open.iter().filter(|finding| is_plainly_missing(finding)) {
        match groups.iter_mut().find(|group| group.title == finding.title) {
            Some(group) => group.findings.push(finding),
            None => groups.push(MissingGroup {
                title: &finding.title,
                sheet: home_of(&finding.key.feature),
                findings: vec![finding],
            }),
        }
    }
    groups
}

async fn show(
    visit: Visit,
    State(shop): State<Shop>,
    Path((number, step)): Path<(i64, String)>,
) -> Result<Response, PageError> {
    page(visit, &shop, number, &step, None).await
}

/// The page, with the form that came back refused.
pub(super) async fn page(
    visit: Visit,
    shop: &Shop,
    number: i64,
    step: &str,
    refused: Option<(StepForm, FormState)>,
) -> Result<Response, PageError> {
    let view = shop.step(number, step, visit.at).await?;
    let blank = FormState::blank();
    let form = refused.as_ref().map_or(&blank, |(_, form)| form);
    let state = |which: StepForm| match &refused {
        Some((form, state)) if *form == which => state.clone(),
        _ => FormState::blank(),
    };
    let frame = frame(visit, &view.head, &view.row.title)
        .under(format!("Job {number}"), job_address(number))
        .at_step(&view.row.key)
        .refused(form.is_refused());
    let page = StepPage {
        frame,
        missing: missing_groups(&view.open),
        view: &view,
        form,
        sign: state(StepForm::Sign),
        check: state(StepForm::Check),
        stop: state(StepForm::Stop),
        reopen: state(StepForm::Reopen),
        elsewhere: state(StepForm::Elsewhere),
        tightened: state(StepForm::Tightened),
        wait: state(StepForm::Wait),
    };
    forms::show(form, &page)
}
