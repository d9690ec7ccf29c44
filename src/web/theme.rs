//! The page where a tablet is set to the light it is read in.

use askama::Template;
use axum::Router;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use axum_extra::extract::{CookieJar, Form, Query};
use serde::{Deserialize, Serialize};

use super::forms::{self, FormState};
use super::visit::{Theme, cookie_of_theme};
use super::{Frame, PageError, Visit};

pub fn routes() -> Router {
    Router::new().route("/theme", get(show).post(choose))
}

#[derive(Serialize, Deserialize)]
#[serde(default)]
struct ThemeForm {
    theme: String,
    /// The page to come back to.
    back: String,
}

impl Default for ThemeForm {
    fn default() -> Self {
        Self { theme: String::new(), back: "/".to_owned() }
    }
}

#[derive(Template)]
#[template(path = "shared/theme.html")]
struct ThemePage<'a> {
    frame: Frame,
    form: &'a FormState,
}

impl ThemePage<'_> {
    /// What each choice is for.
    const CHOICES: [(Theme, &'static str, &'static str); 3] = [
        (Theme::Bright, "Bright", "for sun through the door"),
        (Theme::Dark, "Dark", "for a dim shop"),
        (Theme::ByTheDevice, "By the device", "as this tablet or computer is set"),
    ];
}

async fn show(visit: Visit, Query(form): Query<ThemeForm>) -> Result<Response, PageError> {
    page(visit, &FormState::of(&form))
}

async fn choose(visit: Visit, cookies: CookieJar, Form(form): Form<ThemeForm>) -> Result<Response, PageError> {
    if let Some(theme) = Theme::from_word(&form.theme) {
        return Ok((cookies.add(cookie_of_theme(theme)), Redirect::to(inside(&form.back))).into_response());
    }
    let mut state = FormState::of(&form);
    state.refuse("theme", "Choose bright, dark or by the device");
    page(visit, &state)
}

fn page(visit: Visit, form: &FormState) -> Result<Response, PageError> {
    let frame = visit.bench("Light").under("Shop floor", "/").refused(form.is_refused());
    forms::show(form, &ThemePage { frame, form })
}

/// The address if it is one of this server's pages, else the shop floor.
pub fn inside(address: &str) -> &str {
    let leads_out = address.starts_with("//") || address.contains(['\\', '\r', '\n', '\t', '\0']);
    let fits = address.starts_with('/') && !leads_out && address.is_ascii();
    if fits { address } else { "/" }
}

#[cfg(test)]
mod tests {
    use super::inside;

    #[test]
    fn leads_back_to_this_server_only() {
        assert_eq!(inside("/jobs/3?round=2"), "/jobs/3?round=2");
        for out in
            ["", "jobs", "//shop.example", "/\\shop.example", "https://shop.example", "/a\r\nset-cookie: x", "/é"]
        {
            assert_eq!(inside(out), "/", "{out:?}");
        }
    }
}
