//! One Chromium with a fresh profile, driven through chromedriver, and both ended when it is dropped.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use axum::http::Method;
use fantoccini::actions::{InputSource, KeyAction, KeyActions};
use fantoccini::wd::{Capabilities, WebDriverCompatibleCommand};
use fantoccini::{Client, ClientBuilder};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};
use tempfile::TempDir;
use url::Url;

/// What the browser is shown on.
#[derive(Clone, Copy, Debug)]
pub enum Screen {
    /// A tablet on the bench, touched.
    Tablet,
    /// The same tablet, held upright.
    UprightTablet,
    /// A telephone, touched.
    Phone,
    /// As narrow as a page must fit: WCAG 2.2, 1.4.10.
    Narrowest,
    /// A computer in the office, with a mouse.
    Desk,
}

impl Screen {
    /// Width and height in CSS px, and whether it is touched.
    const fn metrics(self) -> (u32, u32, bool) {
        match self {
            Self::Tablet => (1024, 768, true),
            Self::UprightTablet => (768, 1024, true),
            Self::Phone => (390, 844, true),
            Self::Narrowest => (320, 640, true),
            Self::Desk => (1440, 900, false),
        }
    }
}

/// The light the pages are asked for.
#[derive(Clone, Copy, Debug)]
pub enum Light {
    Bright,
    Dark,
}

/// A running browser.
pub struct Chromium {
    pub client: Client,
    driver: Driver,
    session: String,
    _profile: TempDir,
}

impl Chromium {
    /// Starts chromedriver and a browser of its own.
    pub async fn start(screen: Screen, light: Light) -> Self {
        let driver = Driver::start();
        let profile = tempfile::tempdir().expect("a folder for the browser's profile");
        let client = ClientBuilder::new(HttpConnector::new())
            .capabilities(capabilities(&profile))
            .connect(&format!("http://127.0.0.1:{}", driver.port))
            .await
            .expect("a browser session (`tests/run` installs chromium)");
        let session = client.session_id().await.expect("a session").expect("a session's id");
        let chromium = Self { client, driver, session, _profile: profile };
        chromium.show_on(screen, light).await;
        chromium
    }

    /// Changes the screen and the light, as if the page were looked at elsewhere.
    pub async fn show_on(&self, screen: Screen, light: Light) {
        let (width, height, touch) = screen.metrics();
        let metrics = json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": false});
        self.devtools("Emulation.setDeviceMetricsOverride", metrics).await;
        self.devtools("Emulation.setTouchEmulationEnabled", json!({"enabled": touch, "maxTouchPoints": 5})).await;
        let scheme = match light {
            Light::Bright => "light",
            Light::Dark => "dark",
        };
        let media = json!({"features": [{"name": "prefers-color-scheme", "value": scheme}]});
        self.devtools("Emulation.setEmulatedMedia", media).await;
    }

    /// Cuts the browser off from every server, or lets it on again.
    pub async fn wireless(&self, on: bool) {
        self.devtools("Network.enable", json!({})).await;
        let conditions = json!({"offline": !on, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1});
        self.devtools("Network.emulateNetworkConditions", conditions).await;
    }

    /// Types with this pause after each key, as a gauge does; "\n" is Enter, "\t" Tab.
    pub async fn keys(&self, keys: &str, pauses: &[Duration]) {
        let mut typed = KeyActions::new("gauge".to_owned());
        for (key, duration) in keys.chars().zip(pauses) {
            let value = match key {
                '\n' => '\u{E007}',
                '\t' => '\u{E004}',
                other => other,
            };
            typed = typed.then(KeyAction::Down { value }).then(KeyAction::Up { value });
            typed = typed.then(KeyAction::Pause { duration: *duration });
        }
        self.client.perform_actions(typed).await.expect("keys typed");
    }

    /// Types what a gauge sends in one moment: each key is stamped 5 ms after the one before; "\n" is Enter.
    pub async fn burst(&self, keys: &str) {
        let script = "return (performance.timeOrigin + performance.now()) / 1000";
        let now = self.client.execute(script, vec![]).await.expect("the page's clock").as_f64().expect("seconds");
        for (nth, key) in keys.chars().enumerate() {
            let timestamp = now + 0.005 * nth as f64;
            let (name, text) =
                if key == '\n' { ("Enter".into(), "\r".into()) } else { (key.to_string(), key.to_string()) };
            for kind in ["keyDown", "keyUp"] {
                let pressed = if kind == "keyDown" { text.as_str() } else { "" };
                let event = json!({"type": kind, "key": name, "text": pressed, "timestamp": timestamp});
                self.devtools("Input.dispatchKeyEvent", event).await;
            }
        }
    }

    /// Ends the tab as a tablet short of memory does, without asking its page, and opens another.
    pub async fn kill_tab_and_open(&self, address: &str) {
        let killed = self.client.window().await.expect("the tab");
        let fresh = self.client.new_window(true).await.expect("another tab");
        self.client.switch_to_window(killed).await.expect("the tab");
        self.client.close_window().await.expect("the tab killed");
        self.client.switch_to_window(fresh.handle).await.expect("the other tab");
        self.client.goto(address).await.expect("its page");
    }

    /// Has every page opened from now on note first of all when Enter was pressed, as `window.entered`.
    pub async fn note_enter(&self) {
        let source = "addEventListener('keydown', ({ key, timeStamp }) => key === 'Enter' && (window.entered = timeStamp), true)";
        self.devtools("Page.addScriptToEvaluateOnNewDocument", json!({"source": source})).await;
    }

    /// Makes the browser's processor so many times slower.
    pub async fn slow_down(&self, times: f64) {
        self.devtools("Emulation.setCPUThrottlingRate", json!({"rate": times})).await;
    }

    /// Lets nothing reach these addresses any more ("*/photos"), while all others answer.
    pub async fn unreachable(&self, addresses: &[&str]) {
        self.devtools("Network.enable", json!({})).await;
        self.devtools("Network.setBlockedURLs", json!({"urls": addresses})).await;
    }

    /// Shows pages as eyes of this deficiency see them, by Chromium's name for it; "none" as they are.
    pub async fn seen_with(&self, deficiency: &str) {
        self.devtools("Emulation.setEmulatedVisionDeficiency", json!({"type": deficiency})).await;
    }

    /// Lets pages run their scripts, or not.
    pub async fn scripts(&self, run: bool) {
        self.devtools("Emulation.setScriptExecutionDisabled", json!({"value": !run})).await;
    }

    /// What the browser wrote to its console as an error since this was last asked.
    pub async fn console_errors(&self) -> Vec<String> {
        let log = self.driver_command("se/log", json!({"type": "browser"})).await;
        let entries = log.as_array().cloned().unwrap_or_default();
        entries.iter().filter(|entry| entry["level"] == "SEVERE").map(|entry| entry["message"].to_string()).collect()
    }

    async fn devtools(&self, command: &str, parameters: Value) -> Value {
        self.driver_command("goog/cdp/execute", json!({"cmd": command, "params": parameters})).await
    }

    async fn driver_command(&self, path: &'static str, body: Value) -> Value {
        let answer = self.client.issue_cmd(DriverCommand { path, body }).await;
        answer.unwrap_or_else(|error| panic!("chromedriver, {path}: {error}"))
    }
}

impl Drop for Chromium {
    /// Ends the session by hand: nothing can be awaited here, and a browser without its driver would go on running.
    fn drop(&mut self) {
        if let Ok(mut stream) = TcpStream::connect(("127.0.0.1", self.driver.port)) {
            let session = &self.session;
            let request = format!("DELETE /session/{session} HTTP/1.1\r\nHost: localhost\r\n\r\n");
            let answered = stream
                .set_read_timeout(Some(Duration::from_secs(10)))
                .and_then(|()| stream.write_all(request.as_bytes()))
                .and_then(|()| stream.read(&mut [0; 64]));
            if let Err(error) = answered {
                eprintln!("the browser may still be running: {error}");
            }
        }
    }
}

fn capabilities(profile: &TempDir) -> Capabilities {
    let mut arguments: Vec<String> = [
        "--headless=new",
        "--no-sandbox",
        "--disable-dev-shm-usage",
        "--disable-gpu",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--disable-quic",
        "--no-first-run",
    ]
    .map(String::from)
    .into();
    arguments.push(format!("--user-data-dir={}", profile.path().display()));
    [
        ("browserName".into(), json!("chrome")),
        ("goog:chromeOptions".into(), json!({"args": arguments})),
        ("goog:loggingPrefs".into(), json!({"browser": "ALL"})),
    ]
    .into_iter()
    .collect()
}

/// A chromedriver on a port of its own choosing.
struct Driver {
    process: Child,
    port: u16,
}

impl Driver {
    fn start() -> Self {
        let mut process = Command::new("chromedriver")
            .arg("--port=0")
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("chromedriver (`tests/run` installs it)");
        let lines = BufReader::new(process.stdout.take().expect("its output")).lines();
        let port = lines
            .map_while(Result::ok)
            .find_map(|line| line.split_once("started successfully on port ").map(|(_, port)| port.to_string()))
            .and_then(|port| port.trim_end_matches('.').parse().ok())
            .expect("chromedriver says on which port it listens");
        Self { process, port }
    }
}

impl Drop for Driver {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

/// A command of chromedriver's own, beyond the standard ones.
#[derive(Debug)]
struct DriverCommand {
    path: &'static str,
    body: Value,
}

impl WebDriverCompatibleCommand for DriverCommand {
    fn endpoint(&self, base: &Url, session: Option<&str>) -> Result<Url, url::ParseError> {
        base.join(&format!("session/{}/{}", session.unwrap_or_default(), self.path))
    }

    fn method_and_body(&self, _: &Url) -> (Method, Option<String>) {
        (Method::POST, Some(self.body.to_string()))
    }
}
