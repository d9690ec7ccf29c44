//! A page as a person uses it: things are found by the words on them, and waited for.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use fantoccini::elements::Element;
use serde_json::{Value, json};

use crate::axe;
use crate::chromium::{Chromium, Light, Screen};
use crate::contrast::{luminance, ratio};

/// How often one looks for something, with a pause between, before it counts as not there: 10 s in all.
const LOOKS: u32 = 200;
const PAUSE: Duration = Duration::from_millis(50);

/// An open page, or a part of it.
#[derive(Clone)]
pub struct Page {
    browser: Arc<Chromium>,
    address: String,
    /// What it was opened on.
    screen: Screen,
    light: Light,
    /// The headings of the parts looked at, each within the one before; none for the whole page.
    parts: Vec<String>,
}

/// How quick and how still a page was.
#[derive(Debug, serde::Deserialize)]
pub struct Watched {
    /// From Enter to the mark in its row, ms.
    pub marks: Vec<f64>,
    /// By how much it moved by itself: cumulative layout shift.
    pub moved: f64,
    /// What moved.
    pub what: Vec<String>,
    /// When its largest part was painted, ms after it was asked for.
    pub painted: f64,
}

/// How large what can be touched must be.
#[derive(Clone, Copy, Debug)]
pub enum Touch {
    /// With wet hands, at the bench.
    Bench,
    /// In the office, where pages may be denser.
    Office,
}

impl Touch {
    const fn px(self) -> u32 {
        match self {
            Self::Bench => 64,
            Self::Office => 44,
        }
    }
}

impl Page {
    /// Opens a browser on the front page at this address (`http://127.0.0.1:8040`).
    pub async fn open(address: &str, screen: Screen, light: Light) -> Self {
        let browser = Arc::new(Chromium::start(screen, light).await);
        let page = Self { browser, address: address.trim_end_matches('/').into(), screen, light, parts: Vec::new() };
        page.go("/").await;
        page
    }

    /// Goes to a path, as by typing it into the address line.
    pub async fn go(&self, path: &str) {
        let url = format!("{}{path}", self.address);
        self.browser.client.goto(&url).await.unwrap_or_else(|error| panic!("{url}: {error}"));
    }

    /// The path and query now shown.
    pub async fn path(&self) -> String {
        let url = self.browser.client.current_url().await.expect("an address");
        url.as_str().trim_start_matches(&self.address).into()
    }

    /// The smallest part of the page with this heading, legend, first cell or label; failing these, with this first link. It is
    /// looked for anew each time, for a page may bring its parts up to date.
    pub async fn within(&self, heading: &str) -> Self {
        self.only("part", heading).await;
        let parts = self.parts.iter().cloned().chain([heading.to_owned()]).collect();
        Self { parts, ..self.clone() }
    }

    /// Replaces what stands in the field with this label.
    pub async fn fill(&self, label: &str, text: &str) {
        let field = self.only("field", label).await;
        self.done(&format!("clear {label:?}"), field.clear().await).await;
        self.done(&format!("fill {label:?}"), field.send_keys(text).await).await;
    }

    /// What stands in the field with this label.
    pub async fn field(&self, label: &str) -> String {
        let field = self.only("field", label).await;
        self.done("read a field", field.prop("value").await).await.unwrap_or_default()
    }

    /// Types into whatever has the focus, as a gauge does; "\n" is Enter.
    pub async fn type_keys(&self, text: &str) {
        let focused = self.done("find the focus", self.browser.client.active_element().await).await;
        let keys = text.replace('\n', "\u{E007}");
        self.done("type", focused.send_keys(&keys).await).await;
    }

    /// Types at once what a gauge sends within a moment, each key stamped 5 ms after the one before, however slow this
    /// machine is.
    pub async fn burst(&self, keys: &str) {
        self.browser.burst(keys).await;
    }

    /// Types as a gauge does, with a pause after each key, whatever has the focus.
    pub async fn gauge(&self, keys: &str, pauses: &[Duration]) {
        self.browser.keys(keys, pauses).await;
    }

    /// The slot that is armed, and those after it in bench order, the first again after the last.
    pub async fn walk_ahead(&self) -> Vec<String> {
        let slots = self.script(include_str!("walk_ahead.js"), vec![]).await;
        slots.as_array().into_iter().flatten().filter_map(|slot| slot.as_str().map(String::from)).collect()
    }

    /// What stands in the field of the armed slot.
    pub async fn entry(&self) -> String {
        let entry = self.script("return document.querySelector('form[data-entry] [name=value]').value", vec![]).await;
        entry.as_str().expect("a text").into()
    }

    /// Makes the browser so many times slower, and pages opened from now on note when Enter was pressed.
    pub async fn slow_down(&self, times: f64) {
        self.browser.note_enter().await;
        self.browser.slow_down(times).await;
    }

    /// How quick and how still the page was since this was first asked of it.
    pub async fn watch(&self) -> Watched {
        let seen = self.script(include_str!("quick.js"), vec![]).await;
        serde_json::from_value(seen).expect("what was watched")
    }

    /// Waits until this tablet owes the server nothing.
    pub async fn all_is_saved(&self, at_most: Duration) {
        let owes = "return Object.keys(localStorage).some((name) => name.startsWith('reading '))";
        let saved = async {
            while self.script(owes, vec![]).await == json!(true) {
                tokio::time::sleep(PAUSE).await;
            }
        };
        if tokio::time::timeout(at_most, saved).await.is_err() {
            self.fail("some is still not saved").await;
        }
    }

    /// Ends the tab without asking its page, and opens another on this path.
    pub async fn kill_tab_and_open(&self, path: &str) {
        self.browser.kill_tab_and_open(&format!("{}{path}", self.address)).await;
    }

    /// Presses the button, or follows the link, with these words.
    pub async fn press(&self, words: &str) {
        let button = self.only("press", words).await;
        self.tap(words, &button).await;
    }

    /// Ticks or unticks the box, or takes the choice, with this label.
    pub async fn choose(&self, label: &str) {
        let choice = self.only("choice", label).await;
        let script = "return arguments[0].labels[0] ?? arguments[0]";
        let label_element = self.script(script, vec![json!(choice)]).await;
        let target = self.element(&label_element).expect("a label");
        self.tap(label, &target).await;
    }

    /// Takes this entry of the list with this label.
    pub async fn pick(&self, label: &str, entry: &str) {
        let list = self.only("field", label).await;
        self.done(&format!("pick {entry:?} of {label:?}"), list.select_by_label(entry).await).await;
    }

    /// Hands files to the field with this label.
    pub async fn upload(&self, label: &str, files: &[&Path]) {
        let field = self.only("field", label).await;
        let names: Vec<String> = files.iter().map(|file| file.display().to_string()).collect();
        self.done(&format!("upload to {label:?}"), field.send_keys(&names.join("\n")).await).await;
    }

    /// Waits until these words can be read here, in whatever case.
    pub async fn see(&self, words: &str) {
        if !self.comes_true(words, true).await {
            self.fail(&format!("cannot see {words:?}")).await;
        }
    }

    /// Waits until these words can no longer be read here.
    pub async fn see_no(&self, words: &str) {
        if !self.comes_true(words, false).await {
            self.fail(&format!("still see {words:?}")).await;
        }
    }

    async fn comes_true(&self, words: &str, seen: bool) -> bool {
        for _ in 0..LOOKS {
            if self.text().await.to_lowercase().contains(&words.to_lowercase()) == seen {
                return true;
            }
            tokio::time::sleep(PAUSE).await;
        }
        false
    }

    /// What can be read here, white space made plain.
    pub async fn text(&self) -> String {
        self.look_for("text", "").await.as_str().unwrap_or_default().into()
    }

    /// Looks at the whole page: a picture in target/screenshots, and fails on an error in the console, a fault found by
    /// axe-core, or a page wider than its screen.
    pub async fn inspect(&self, name: &str) {
        self.screenshot(name).await;
        // What the top covers of a page that stands scrolled is reached by scrolling.
        self.script("scrollTo(0, 0)", vec![]).await;
        let mut faults = self.console_errors().await;
        faults.extend(axe::violations(&self.browser.client).await);
        let wider = self.script("return document.documentElement.scrollWidth - window.innerWidth", vec![]).await;
        if wider.as_i64().is_some_and(|px| px > 0) {
            faults.push(format!("the page is {wider} px wider than its screen"));
        }
        assert!(faults.is_empty(), "{name}, {}:\n{}", self.path().await, faults.join("\n"));
    }

    /// The same after looking at it on another screen or in another light.
    pub async fn inspect_on(&self, screen: Screen, light: Light, name: &str) {
        self.browser.show_on(screen, light).await;
        self.inspect(name).await;
    }

    /// Looks a whole page of the shop over: on its own screen as [`Page::inspect`] does and by what can be touched, and
    /// whether it fits the narrowest screen.
    pub async fn look_over(&self, name: &str, touch: Touch) {
        self.inspect(name).await;
        let small = self.smaller_than(touch.px()).await;
        self.browser.show_on(Screen::Narrowest, self.light).await;
        let wide = self.script(include_str!("wide.js"), vec![]).await;
        self.browser.show_on(self.screen, self.light).await;
        assert!(small.is_empty(), "{name}: too small to touch: {small:#?}");
        assert!(wide.as_array().is_some_and(Vec::is_empty), "{name}: wider than the narrowest screen: {wide:#}");
    }

    /// The same page in the other light, looked at by axe-core again.
    pub async fn inspect_in_other_light(&self, name: &str) {
        let other = match self.light {
            Light::Bright => Light::Dark,
            Light::Dark => Light::Bright,
        };
        self.inspect_on(self.screen, other, name).await;
        self.browser.show_on(self.screen, self.light).await;
    }

    /// By how much words and their ground differ, as these eyes see them: the contrast ratio (WCAG 2.2) of the lightest
    /// and the darkest point within each element that the selector finds.
    pub async fn contrasts_seen_with(&self, deficiency: &str, selector: &str) -> Vec<f64> {
        self.browser.seen_with(deficiency).await;
        let boxes = self.script(include_str!("boxes.js"), vec![json!(selector)]).await;
        let picture = self.browser.client.screenshot().await.expect("a picture");
        self.browser.seen_with("none").await;
        let picture = image::load_from_memory(&picture).expect("a PNG").to_rgb8();
        let boxes: Vec<[u32; 4]> = serde_json::from_value(boxes).expect("boxes");
        boxes.iter().map(|&[x, y, width, height]| contrast(&picture, x, y, width, height)).collect()
    }

    /// Whether this page is one of the bench.
    pub async fn is_at_the_bench(&self) -> bool {
        self.script("return document.body.classList.contains('bench')", vec![]).await == json!(true)
    }

    /// What can be touched here and is smaller than this many px, as "Save: 120 × 40".
    pub async fn smaller_than(&self, px: u32) -> Vec<String> {
        let found = self.script(include_str!("targets.js"), vec![json!(px)]).await;
        found.as_array().into_iter().flatten().filter_map(|text| text.as_str().map(String::from)).collect()
    }

    /// Errors in the console since this was last asked; that a form was refused (422) is no error of the page.
    pub async fn console_errors(&self) -> Vec<String> {
        let errors = self.browser.console_errors().await;
        errors.into_iter().filter(|error| !error.contains("status of 422")).collect()
    }

    /// Cuts the wireless, or brings it back.
    pub async fn wireless(&self, on: bool) {
        self.browser.wireless(on).await;
    }

    /// Lets nothing reach these addresses any more, while all others answer; none: all answer again.
    pub async fn unreachable(&self, addresses: &[&str]) {
        self.browser.unreachable(addresses).await;
    }

    /// Lets pages run their scripts, or not.
    pub async fn scripts(&self, run: bool) {
        self.browser.scripts(run).await;
    }

    /// Saves what the screen shows as target/screenshots/NAME.png.
    pub async fn screenshot(&self, name: &str) -> PathBuf {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/screenshots");
        fs::create_dir_all(&folder).expect("a folder for pictures");
        let file = folder.join(format!("{name}.png"));
        fs::write(&file, self.browser.client.screenshot().await.expect("a picture")).expect("a picture kept");
        file
    }

    async fn tap(&self, words: &str, element: &Element) {
        self.done(&format!("press {words:?}"), element.click().await).await;
    }

    /// The one thing of a kind with these words, waited for.
    async fn only(&self, kind: &str, words: &str) -> Element {
        for _ in 0..LOOKS {
            let found = self.look_for(kind, words).await;
            let elements: Vec<Element> =
                found.as_array().into_iter().flatten().filter_map(|value| self.element(value)).collect();
            match elements.as_slice() {
                [one] => return one.clone(),
                [] => tokio::time::sleep(PAUSE).await,
                more => {
                    self.fail(&format!("{} of kind {kind} are called {words:?}", more.len())).await;
                }
            }
        }
        self.fail(&format!("no {kind} is called {words:?}")).await
    }

    async fn look_for(&self, kind: &str, words: &str) -> Value {
        let arguments = vec![json!(kind), json!(words), json!(self.parts)];
        // Between two pages there is nothing to look at.
        self.browser.client.execute(include_str!("find.js"), arguments).await.unwrap_or_default()
    }

    async fn script(&self, script: &str, arguments: Vec<Value>) -> Value {
        let answer = self.browser.client.execute(script, arguments).await;
        self.done("run a script", answer).await
    }

    fn element(&self, value: &Value) -> Option<Element> {
        let id = value.as_object()?.values().next()?.as_str()?.to_string();
        Some(Element::from_element_id(self.browser.client.clone(), id.into()))
    }

    async fn done<T, E: std::fmt::Display>(&self, what: &str, answer: Result<T, E>) -> T {
        match answer {
            Ok(done) => done,
            Err(error) => self.fail(&format!("cannot {what}: {error}")).await,
        }
    }

    /// Fails with what was on the screen.
    async fn fail(&self, why: &str) -> ! {
        let test = std::thread::current().name().unwrap_or("a test").replace("::", "-");
        let picture = self.screenshot(&format!("failed-{test}")).await;
        let whole = Self { parts: Vec::new(), ..self.clone() };
        panic!("{why}\nat {}, see {}\nThere:\n{}", self.path().await, picture.display(), whole.text().await);
    }
}

/// The contrast ratio of the lightest and the darkest pixel of a box.
fn contrast(picture: &image::RgbImage, x: u32, y: u32, width: u32, height: u32) -> f64 {
    let all = (x..x + width).flat_map(|x| (y..y + height).map(move |y| (x, y)));
    let all = all.map(|(x, y)| luminance(picture.get_pixel(x, y).0));
    let (darkest, lightest) = all.fold((f64::INFINITY, 0.0_f64), |(least, most), now| (least.min(now), most.max(now)));
    ratio(lightest, darkest)
}
