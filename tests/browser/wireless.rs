//! Bad wireless: a relay before the shop that delays, loses and answers wrongly, by chance from a fixed seed.
//!
//! Pages and their files that somebody opens come through, as he would open them again; what scripts send and fetch is
//! troubled. Half of the failures lose what was sent, half lose the answer to what was kept.

use std::sync::{Arc, Mutex};
use std::time::Duration;

use axum::Router;
use axum::body::Body;
use axum::extract::{Request, State};
use axum::http::{StatusCode, Uri};
use axum::response::{IntoResponse, Response};
use hyper_util::client::legacy::Client;
use hyper_util::client::legacy::connect::HttpConnector;
use hyper_util::rt::TokioExecutor;

use crate::deviates::Deviates;

const LONGEST_DELAY_MS: f64 = 300.0;
const FAILING: f64 = 0.2;
const STALL: Duration = Duration::from_secs(30);

/// What is done to one request.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Trouble {
    Delayed,
    SentNowhere,
    AnswerLost,
    Stalled,
}

#[derive(Clone)]
struct Relay {
    shop: String,
    client: Client<HttpConnector, Body>,
    chance: Arc<Mutex<Deviates>>,
    /// How often a request stalls: one in so many.
    stalls: f64,
    troubled: Arc<Mutex<Troubled>>,
}

/// What was done so far.
#[derive(Clone, Copy, Debug, Default)]
pub struct Troubled {
    pub sent: u32,
    pub failed: u32,
    pub stalled: u32,
}

/// The relay: its own address, and what it did.
pub struct Wireless {
    pub address: String,
    troubled: Arc<Mutex<Troubled>>,
}

impl Wireless {
    /// Stands before a shop; one request in `stalls` takes 30 s.
    pub async fn before(shop: &str, seed: u64, stalls: f64) -> Self {
        let relay = Relay {
            shop: shop.to_owned(),
            client: Client::builder(TokioExecutor::new()).build_http(),
            chance: Arc::new(Mutex::new(Deviates(seed))),
            stalls,
            troubled: Arc::default(),
        };
        let troubled = relay.troubled.clone();
        let listener = tokio::net::TcpListener::bind("127.0.0.1:0").await.expect("a port");
        let address = format!("http://{}", listener.local_addr().expect("its address"));
        tokio::spawn(async move { axum::serve(listener, Router::new().fallback(pass).with_state(relay)).await });
        Self { address, troubled }
    }

    pub fn troubled(&self) -> Troubled {
        *self.troubled.lock().expect("what it did")
    }
}

async fn pass(State(relay): State<Relay>, request: Request) -> Response {
    if !is_by_script(&request) {
        return relay.forward(request).await;
    }
    let (delay, trouble) = relay.draw();
    tokio::time::sleep(delay).await;
    match trouble {
        Trouble::SentNowhere => StatusCode::BAD_GATEWAY.into_response(),
        Trouble::Delayed => relay.forward(request).await,
        Trouble::AnswerLost => {
            relay.forward(request).await;
            StatusCode::GATEWAY_TIMEOUT.into_response()
        }
        Trouble::Stalled => {
            let answer = relay.forward(request).await;
            tokio::time::sleep(STALL).await;
            answer
        }
    }
}

/// A browser says what a request is for: `empty` is a script's.
fn is_by_script(request: &Request) -> bool {
    request.headers().get("sec-fetch-dest").is_some_and(|dest| dest == "empty")
}

impl Relay {
    fn draw(&self) -> (Duration, Trouble) {
        let mut chance = self.chance.lock().expect("chance");
        let mut troubled = self.troubled.lock().expect("what it did");
        let delay = Duration::from_secs_f64(chance.between(0.0, LONGEST_DELAY_MS) / 1000.0);
        troubled.sent += 1;
        if chance.uniform() < 1.0 / self.stalls {
            troubled.stalled += 1;
            return (delay, Trouble::Stalled);
        }
        if chance.uniform() >= FAILING {
            return (delay, Trouble::Delayed);
        }
        troubled.failed += 1;
        (delay, chance.one_of(&[Trouble::SentNowhere, Trouble::AnswerLost]))
    }

    /// To the shop as it is, under the name that the browser asked by.
    async fn forward(&self, mut request: Request) -> Response {
        let path = request.uri().path_and_query().map_or("/", |asked| asked.as_str());
        *request.uri_mut() = format!("{}{path}", self.shop).parse::<Uri>().expect("an address");
        match self.client.request(request).await {
            Ok(answer) => answer.map(Body::new),
            Err(_) => StatusCode::BAD_GATEWAY.into_response(),
        }
    }
}
