//! The address by which the shop is reached, to be said to a phone.

use std::net::IpAddr;

use axum::extract::FromRequestParts;
use axum::http::header;
use axum::http::request::Parts;
use axum::http::uri::Authority;

use super::{Entrance, PageError};

/// By which address a phone reaches this server: the one it was asked by, or where that is this computer's own name for
/// itself, its first on the shop's network.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reached {
    /// `http://192.168.1.20:8040/`.
    pub address: String,
    /// Whether others than this machine itself get here by it.
    pub by_phones: bool,
}

impl Reached {
    fn by(authority: &Authority, on_the_network: impl FnOnce() -> Option<String>) -> Self {
        let host = authority.host().trim_start_matches('[').trim_end_matches(']');
        let own = host.eq_ignore_ascii_case("localhost")
            || host.parse::<IpAddr>().is_ok_and(|address| address.is_loopback() || address.is_unspecified());
        match on_the_network().filter(|_| own) {
            Some(address) => Self { address, by_phones: true },
            None => Self { address: format!("http://{authority}/"), by_phones: !own },
        }
    }
}

impl<S: Sync> FromRequestParts<S> for Reached {
    type Rejection = PageError;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, PageError> {
        let host = || parts.headers.get(header::HOST)?.to_str().ok()?.parse().ok();
        let named = parts.uri.authority().cloned().or_else(host).ok_or(PageError::WrongHost)?;
        let entrance = parts.extensions.get::<Entrance>();
        Ok(Self::by(&named, || entrance?.door().network()?.addresses().into_iter().next()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_phone_does_not_get_to_this_machines_own_name() {
        for (asked, by_phones) in [
            ("127.0.0.1:8040", false),
            ("localhost:8040", false),
            ("[::1]:8040", false),
            ("192.168.1.20:8040", true),
            ("witnessmark.local:8040", true),
        ] {
            let reached = Reached::by(&asked.parse().expect("a name"), || None);
            assert_eq!(reached, Reached { address: format!("http://{asked}/"), by_phones });
            let network = || Some("http://192.168.1.7:8040/".to_owned());
            let reached = Reached::by(&asked.parse().expect("a name"), network);
            let address = if by_phones { format!("http://{asked}/") } else { network().expect("an address") };
            assert_eq!(reached, Reached { address, by_phones: true });
        }
    }
}
