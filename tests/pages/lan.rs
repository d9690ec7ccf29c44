//! The house on the shop's network: what is asked for from elsewhere than the shop's computer.

use std::collections::BTreeMap;
use std::net::{IpAddr, SocketAddr};

use axum::extract::{ConnectInfo, Request};
use axum::http::Method;
use axum::http::request::Builder;
use axum::{Extension, Router};
use sqlx::AssertSqlSafe;
use witnessmark::web::{Door, server};
use witnessmark::{bench, office};

use crate::asked::{Answer, HOST, ask, get, noon};
use crate::routes;
use crate::shop::{HAND, House, encoded};

/// The shop's computer as tablets call it.
pub const LAN: &str = "192.168.1.9:8040";
pub const PIN: &str = "2580";

fn addresses() -> Vec<IpAddr> {
    vec![IpAddr::from([192, 168, 1, 9])]
}

/// A shop on its network. Its `house` is asked from the shop's computer.
pub struct Networked {
    pub house: House,
    pub door: Door,
    router: Router,
}

/// Something on the network, and the cookies its browser keeps.
pub struct Tablet {
    router: Router,
    cookies: BTreeMap<String, String>,
}

impl Networked {
    pub async fn with_a_job() -> Self {
        let mut house = House::with_a_job().await;
        let names = vec!["witnessmark.local".to_owned()];
        let door = Door::on_the_network(office::network(&house.shop, 8040, names, addresses));
        let pages = bench::routes().merge(office::routes()).with_state(house.shop.clone());
        let router = server::house(pages, door.clone(), noon);
        house.router = seen_from(&router, [127, 0, 0, 1]);
        Self { house, door, router }
    }

    /// The same with a PIN set.
    pub async fn with_a_pin() -> Self {
        let networked = Self::with_a_job().await;
        let code = networked.code();
        let set = networked.house.send("/shop/tablets/pin", &[("proof", &code), ("pin", PIN)]).await;
        assert_eq!(set.status, 303, "{}", set.text);
        networked
    }

    pub fn code(&self) -> String {
        self.door.network().expect("a network").code().expect("a code that was not used yet")
    }

    /// A tablet of the address 192.168.1.`last` that was never here.
    pub fn tablet(&self, last: u8) -> Tablet {
        Tablet { router: seen_from(&self.router, [192, 168, 1, last]), cookies: BTreeMap::new() }
    }

    /// How many rows stand in each table.
    pub async fn rows(&self) -> BTreeMap<String, i64> {
        let mut look = self.house.shop.record().look().await.expect("a look");
        let names: Vec<(String,)> = sqlx::query_as("SELECT name FROM sqlite_master WHERE type = 'table'")
            .fetch_all(&mut *look)
            .await
            .expect("tables");
        let mut rows = BTreeMap::new();
        for (name,) in names {
            let count = AssertSqlSafe(format!("SELECT count(*) FROM {name}"));
            let (count,): (i64,) = sqlx::query_as(count).fetch_one(&mut *look).await.expect("a count");
            rows.insert(name, count);
        }
        assert!(rows.len() > 30 && rows["act"] > 0, "{rows:?}");
        rows
    }
}

/// The same house, asked from this address.
fn seen_from(router: &Router, peer: [u8; 4]) -> Router {
    router.clone().layer(Extension(ConnectInfo(SocketAddr::from((peer, 50_000)))))
}

/// A request to the shop by its address on the network, from a page of its own.
pub fn asked(method: Method, address: &str) -> Builder {
    let request = Request::builder().method(method).uri(address).header("host", LAN);
    request.header("origin", format!("http://{LAN}")).header("content-type", "application/x-www-form-urlencoded")
}

impl Tablet {
    /// What is answered; cookies are kept as a browser does.
    pub async fn ask(&mut self, request: Builder, body: &str) -> Answer {
        let cookies = self.cookies.iter().map(|(name, value)| format!("{name}={value}")).collect::<Vec<_>>().join("; ");
        let request = if cookies.is_empty() { request } else { request.header("cookie", cookies) };
        let answer = ask(&self.router, request, body.to_owned()).await;
        for set in answer.headers.get_all("set-cookie") {
            let set = set.to_str().expect("ASCII");
            let (name, value) = set.split(';').next().and_then(|pair| pair.split_once('=')).expect("a cookie");
            self.cookies.insert(name.to_owned(), value.to_owned());
        }
        answer
    }

    pub async fn see(&mut self, address: &str) -> Answer {
        self.ask(asked(Method::GET, address), "").await
    }

    pub async fn send(&mut self, address: &str, fields: &[(&str, &str)]) -> Answer {
        self.ask(asked(Method::POST, address), &encoded(fields)).await
    }

    pub async fn enter(&mut self, pin: &str) -> Answer {
        self.send("/enter", &[("pin", pin), ("name", ""), ("back", "/")]).await
    }

    /// Takes another's cookie, as who copies it does.
    pub fn copy(&mut self, name: &str, from: &Self) {
        self.cookies.insert(name.to_owned(), from.cookies[name].clone());
    }
}

/// Nothing that a shop keeps stands in it.
fn shows_nothing(answer: &Answer, address: &str) {
    for kept in [HAND, "Inline four", "Quill", "555 0101", "Job 1", "main-", "href=\"/jobs", "href=\"/shop"] {
        assert!(!answer.text.contains(kept), "{address} shows {kept}: {}", answer.text);
    }
}

#[tokio::test]
async fn a_stranger_is_shown_the_pin_page_and_nothing_else() {
    for networked in [Networked::with_a_job().await, Networked::with_a_pin().await] {
        let rows = networked.rows().await;
        for address in routes::of_the_first() {
            let mut stranger = networked.tablet(30);
            let page = stranger.see(&address).await;
            shows_nothing(&page, &address);
            let taken_in = stranger.send(&address, &[("name", "Mallet"), ("text", "x"), ("value", "2.5")]).await;
            shows_nothing(&taken_in, &address);
            for method in [Method::PUT, Method::DELETE, Method::PATCH, Method::OPTIONS] {
                let other = stranger.ask(asked(method, &address), "").await;
                assert!(other.status == 401 || other.status == 405, "{address}: {}", other.status);
            }
            match address.as_str() {
                "/enter" => {
                    assert_eq!(page.status, 200);
                    assert!(page.text.contains("PIN") && [200, 422].contains(&taken_in.status.as_u16()));
                }
                "/static/1" => assert_eq!((page.status.as_u16(), taken_in.status.as_u16()), (404, 405)),
                _ => {
                    let to = format!("/enter?back={address}");
                    assert_eq!((page.status.as_u16(), page.header("location")), (303, &*to), "{address}");
                    assert!(page.text.is_empty(), "{address}: {}", page.text);
                    assert_eq!(taken_in.status, 401, "{address}: {}", taken_in.text);
                }
            }
        }
        assert_eq!(networked.rows().await, rows);
    }
}

/// So that the one before is known to be able to fail.
#[tokio::test]
async fn a_tablet_that_was_let_in_and_the_shops_computer_are_shown_the_shop() {
    let networked = Networked::with_a_pin().await;
    let mut tablet = networked.tablet(30);
    assert_eq!(tablet.enter(PIN).await.status, 303);
    for address in ["/", "/jobs/1", "/shop", "/jobs/1/card"] {
        let (there, here) = (tablet.see(address).await, networked.house.see(address).await);
        assert_eq!((there.status.as_u16(), here.status.as_u16()), (200, 200), "{address}");
    }
    assert!(tablet.see("/").await.text.contains("Inline four"));
    let rows = networked.rows().await;
    assert_eq!(tablet.send("/who/new", &[("name", "Ida"), ("back", "/")]).await.status, 303);
    assert_eq!(networked.rows().await["person"], rows["person"] + 1);
}

#[tokio::test]
async fn a_script_of_a_tablet_that_is_out_is_told_so_in_json() {
    let networked = Networked::with_a_pin().await;
    let mut stranger = networked.tablet(30);
    for request in [Method::GET, Method::POST] {
        let address = "/jobs/1/sheets/main-bearings/readings";
        let answer = stranger.ask(asked(request, address).header("accept", "application/json"), "value=2.5").await;
        assert_eq!(answer.status, 401);
        assert!(answer.text.starts_with("{\"title\":\"This tablet is not let in\""), "{}", answer.text);
    }
}

#[tokio::test]
async fn no_wrong_name_and_no_foreign_page_reaches_anything() {
    let networked = Networked::with_a_pin().await;
    let (mut stranger, mut tablet) = (networked.tablet(30), networked.tablet(31));
    assert_eq!(tablet.enter(PIN).await.status, 303);
    let rows = networked.rows().await;
    for address in routes::of_the_first() {
        for host in ["shop.example:8040", "witnessmark.example", "192.168.1.9.example:8040", "local", ""] {
            for caller in [&mut stranger, &mut tablet] {
                for method in [Method::GET, Method::POST] {
                    let request = Request::builder().method(method).uri(&address).header("host", host);
                    let answer = caller.ask(request.header("origin", format!("http://{host}")), "").await;
                    assert_eq!(answer.status, 421, "{address} by {host}");
                    shows_nothing(&answer, &address);
                }
            }
        }
        for origin in ["http://shop.example", "http://192.168.1.9:9000", "http://127.0.0.1:8040", "null", ""] {
            for caller in [&mut stranger, &mut tablet] {
                let request = Request::post(&address).header("host", LAN).header("origin", origin);
                let answer = caller.ask(request, "name=Mallet").await;
                assert_eq!(answer.status, 403, "{address} from {origin}");
            }
            let at_computer = Request::post(&address).header("host", HOST).header("origin", format!("http://{LAN}"));
            assert_eq!(ask(&networked.house.router, at_computer, "name=Mallet").await.status, 403, "{address}");
        }
    }
    assert_eq!(networked.rows().await, rows);
}

#[tokio::test]
async fn it_answers_to_its_addresses_and_names() {
    let networked = Networked::with_a_pin().await;
    for host in [LAN, "192.168.1.9", "10.0.0.3:8040", "witnessmark.local:8040", "WitnessMark.local", "[fd00::1]:8040"] {
        let answer = networked.tablet(30).ask(Request::get("/enter").header("host", host), "").await;
        assert_eq!(answer.status, 200, "{host}");
    }
}

/// Neither a name alone nor an address alone makes the shop's computer.
#[tokio::test]
async fn nobody_passes_for_the_shops_computer() {
    let networked = Networked::with_a_pin().await;
    for host in [HOST, "localhost:8040", "[::1]:8040"] {
        let answer = networked.tablet(30).ask(Request::get("/").header("host", host), "").await;
        assert_eq!((answer.status.as_u16(), answer.header("location")), (303, "/enter?back=/"), "{host}");
    }
    let by_lan = Request::get("/").header("host", LAN);
    assert_eq!(ask(&networked.house.router, by_lan, "").await.status, 303, "by way of the network");
    let unknown = ask(&networked.router, get("/"), "").await;
    assert_eq!(unknown.status, 303, "one whose address the server was not told");
    let forwarded = asked(Method::GET, "/").header("x-forwarded-for", "127.0.0.1").header("forwarded", "for=127.0.0.1");
    assert_eq!(networked.tablet(30).ask(forwarded, "").await.status, 303);
    assert_eq!(networked.house.see("/").await.status, 200);
}
