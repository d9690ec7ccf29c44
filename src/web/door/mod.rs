//! Who may come in: by which names, from whose pages, and from the shop's network only what has entered the shop's PIN.
//!
//! The shop's computer is whoever comes from the machine itself, by a name that means the machine itself: it is never
//! asked for a PIN. All others are tablets. One that was not let in sees the page that asks for the PIN, and what that
//! page is made of; whether it was let in, the record is asked each time, so that it is out at the next request once that
//! was ended. It is no secrecy: over plain http whoever can listen to the shop's Wi-Fi can read along, the PIN too.

mod names;
mod tries;

use std::collections::HashMap;
use std::net::{IpAddr, SocketAddr};
use std::pin::Pin;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use axum::extract::{ConnectInfo, FromRequestParts, Request, State};
use axum::http::request::Parts;
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use axum_extra::extract::CookieJar;
use axum_extra::extract::cookie::Cookie;
use jiff::{SignedDuration, Timestamp};

use super::token::{digest, is_token, token};
use super::{PageError, Visit, visit};
use tries::Tries;

/// The page that asks for the PIN.
pub const ENTER: &str = "/enter";
const SESSION: &str = "witnessmark-session";

/// Reads the machine's addresses on its networks.
pub type Addresses = fn() -> Vec<IpAddr>;
type Found = Pin<Box<dyn Future<Output = Result<Option<i64>, PageError>> + Send>>;

/// The door of the house.
#[derive(Clone)]
pub struct Door {
    network: Option<Arc<Network>>,
}

/// What is to be known about the shop's network.
pub struct Network {
    port: u16,
    names: Vec<String>,
    addresses: Addresses,
    find: Box<dyn Fn(String, String) -> Found + Send + Sync>,
    tries: Mutex<Tries>,
    seen: Mutex<HashMap<i64, Timestamp>>,
    code: Mutex<Option<String>>,
}

impl Door {
    /// Of a server that only its own machine reaches.
    pub const fn at_home() -> Self {
        Self { network: None }
    }

    /// Of a server that the shop's network reaches.
    pub fn on_the_network(network: Network) -> Self {
        Self { network: Some(Arc::new(network)) }
    }

    pub fn network(&self) -> Option<&Network> {
        self.network.as_deref()
    }

    /// Who asks, where the name and the page it comes from are right.
    fn check(&self, request: &Request) -> Result<Caller, PageError> {
        let named = names::asked_by(request, |host| self.answers_to(host))?;
        let peer = request.extensions().get::<ConnectInfo<SocketAddr>>().map(|peer| peer.0.ip().to_canonical());
        let on_this_machine = peer.is_some_and(|peer| peer.is_loopback()) && names::is_loopback(named.host());
        Ok(if self.network.is_none() || on_this_machine { Caller::Computer } else { Caller::Tablet(peer) })
    }

    /// Loopback by name or address; on a network any address, and its names there.
    fn answers_to(&self, host: &str) -> bool {
        let on_network = |network: &Network| {
            names::address(host).is_some() || network.names.iter().any(|name| name.eq_ignore_ascii_case(host))
        };
        names::is_loopback(host) || self.network().is_some_and(on_network)
    }
}

impl Network {
    /// A network that knows this machine by any of its addresses, and by these names. `find` looks for the tablet of a
    /// session's digest and a device in the record.
    pub fn new<F>(
        port: u16,
        names: Vec<String>,
        addresses: Addresses,
        find: impl Fn(String, String) -> F + Send + Sync + 'static,
    ) -> Self
    where
        F: Future<Output = Result<Option<i64>, PageError>> + Send + 'static,
    {
        Self {
            port,
            names,
            addresses,
            find: Box::new(move |session, device| Box::pin(find(session, device))),
            tries: Mutex::default(),
            seen: Mutex::default(),
            code: Mutex::new(Some(one_time_code())),
        }
    }

    /// The addresses of the shop for its tablets. The one by name comes last: not every network knows names.
    pub fn addresses(&self) -> Vec<String> {
        let port = self.port;
        let by_number = (self.addresses)().into_iter().map(|address| SocketAddr::new(address, port).to_string());
        let by_name = self.names.first().map(|name| format!("{name}:{port}"));
        by_number.chain(by_name).map(|address| format!("http://{address}/")).collect()
    }

    /// The code that proves, once, that somebody sees the window in which the server was started.
    pub fn code(&self) -> Option<String> {
        held(&self.code).clone()
    }

    /// Uses up the code, if this is it; blanks do not matter.
    pub fn take_code(&self, typed: &str) -> bool {
        let digits = |text: &str| text.split_whitespace().collect::<String>();
        held(&self.code).take_if(|code| digits(code) == digits(typed)).is_some()
    }

    /// Begins a guess, counted as wrong until [`Network::was_right`].
    ///
    /// # Errors
    /// How long it has to wait.
    pub fn begin_try(&self, from: IpAddr, now: Timestamp) -> Result<(), SignedDuration> {
        held(&self.tries).begin(from, now)
    }

    pub fn was_right(&self, from: IpAddr) {
        held(&self.tries).was_right(from);
    }

    /// How often the PIN was guessed wrong lately.
    pub fn wrong_tries(&self, now: Timestamp) -> u32 {
        held(&self.tries).wrong(now)
    }

    /// When each tablet last asked for something, since the start.
    pub fn seen(&self) -> HashMap<i64, Timestamp> {
        held(&self.seen).clone()
    }
}

/// What a lock holds; nobody who holds one of these can leave it half done.
fn held<T>(lock: &Mutex<T>) -> MutexGuard<'_, T> {
    lock.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Eight random digits in two groups.
fn one_time_code() -> String {
    let bits = u128::from_str_radix(&token(), 16).unwrap_or_default();
    format!("{:04} {:04}", bits % 10_000, (bits >> 64) % 10_000)
}

/// Who asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Caller {
    /// The shop's computer.
    Computer,
    /// Something on its network; by its address, if the server was told.
    Tablet(Option<IpAddr>),
}

/// How a request came in. A handler takes it as an argument.
#[derive(Clone)]
pub struct Entrance {
    door: Door,
    caller: Caller,
    /// Whether the record knows it as a tablet that is let in.
    pub let_in: bool,
}

impl Entrance {
    pub const fn door(&self) -> &Door {
        &self.door
    }

    pub fn is_shop_computer(&self) -> bool {
        self.caller == Caller::Computer
    }

    /// The address that guesses are counted by.
    pub fn from(&self) -> IpAddr {
        let unspecified = IpAddr::from([0, 0, 0, 0]);
        if let Caller::Tablet(peer) = self.caller { peer.unwrap_or(unspecified) } else { IpAddr::from([127, 0, 0, 1]) }
    }
}

impl<S: Sync> FromRequestParts<S> for Entrance {
    type Rejection = PageError;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, PageError> {
        parts.extensions.get::<Self>().cloned().ok_or_else(|| PageError::failed("a page stands outside the door"))
    }
}

/// The same on the shop's computer only: elsewhere it is refused.
pub struct OnShopComputer(pub Entrance);

impl<S: Sync> FromRequestParts<S> for OnShopComputer {
    type Rejection = PageError;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, PageError> {
        let entrance = Entrance::from_request_parts(parts, state).await?;
        if entrance.is_shop_computer() { Ok(Self(entrance)) } else { Err(PageError::OnlyOnShopComputer) }
    }
}

/// A new session: the cookie for the tablet, and the digest to be kept.
pub fn new_session() -> (Cookie<'static>, String) {
    let token = token();
    let session = digest(&token);
    (visit::kept(SESSION, token), session)
}

/// The layer that asks the door.
pub async fn guard(State(door): State<Door>, visit: Visit, mut request: Request, next: Next) -> Response {
    let caller = match door.check(&request) {
        Ok(caller) => caller,
        Err(refusal) => return refusal.into_response(),
    };
    let tablet = match (door.network(), caller) {
        (Some(network), Caller::Tablet(_)) => match recognise(network, &request, &visit).await {
            Ok(tablet) => tablet,
            Err(failure) => return failure.into_response(),
        },
        _ => None,
    };
    let path = request.uri().path();
    if caller != Caller::Computer && tablet.is_none() && path != ENTER && !path.starts_with("/static/") {
        return if visit.sends || visit.by_script {
            PageError::NotLetIn.into_response()
        } else {
            Redirect::to(&format!("{ENTER}?back={}", in_query(&visit.address))).into_response()
        };
    }
    request.extensions_mut().insert(Entrance { door, caller, let_in: tablet.is_some() });
    next.run(request).await
}

/// The tablet that asks, if it is let in; notes that it was seen.
fn recognise<'a>(
    network: &'a Network,
    request: &Request,
    visit: &'a Visit,
) -> impl Future<Output = Result<Option<i64>, PageError>> + Send + use<'a> {
    let cookies = CookieJar::from_headers(request.headers());
    let session = cookies.get(SESSION).map(Cookie::value).filter(|token| is_token(token)).map(digest);
    async move {
        let Some(session) = session else { return Ok(None) };
        let tablet = (network.find)(session, visit.device.clone()).await?;
        if let Some(id) = tablet {
            held(&network.seen).insert(id, visit.at);
        }
        Ok(tablet)
    }
}

/// An address as one value of a query; it holds no other letters that mean something there.
fn in_query(address: &str) -> String {
    address.replace('%', "%25").replace('&', "%26").replace('+', "%2B")
}
