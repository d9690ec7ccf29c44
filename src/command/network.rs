//! The shop's network: this machine's addresses on it, and the name by which tablets find it.

use std::net::IpAddr;
use std::time::Duration;

use mdns_sd::{ServiceDaemon, ServiceInfo};
use witnessmark::office;
use witnessmark::web::Door;
use witnessmark::work::Shop;

/// The name announced by multicast DNS (RFC 6762).
const NAME: &str = "witnessmark.local";
const SERVICE: &str = "_http._tcp.local.";
/// Networks between this machine and machines inside it: no tablet is on them.
const INSIDE: [&str; 5] = ["docker", "br-", "veth", "virbr", "vnet"];
/// How long the network may take to hear that the name is gone.
const FAREWELL: Duration = Duration::from_secs(1);

/// The door of the shop for its network. It answers to the name announced, and to that of this machine.
pub fn door(shop: &Shop, port: u16) -> Door {
    let names = [Some(NAME.to_owned()), machine()].into_iter().flatten().collect();
    Door::on_the_network(office::network(shop, port, names, addresses))
}

/// The machine's own name on the network, where the system says it.
fn machine() -> Option<String> {
    let name = std::fs::read_to_string("/proc/sys/kernel/hostname").ok()?;
    let name = name.trim().split('.').next().filter(|name| !name.is_empty())?;
    Some(format!("{name}.local"))
}

/// Addresses by which a tablet may reach this machine, of the shorter kind, which can be typed.
fn addresses() -> Vec<IpAddr> {
    let mut interfaces = if_addrs::get_if_addrs().unwrap_or_default();
    interfaces.retain(|one| one.is_oper_up() && !one.is_loopback() && !one.is_link_local() && !one.is_p2p());
    interfaces.retain(|one| !INSIDE.iter().any(|inside| one.name.starts_with(inside)));
    interfaces.iter().map(if_addrs::Interface::ip).filter(IpAddr::is_ipv4).collect()
}

/// The name stands on the network until it is withdrawn.
pub struct Announced {
    daemon: ServiceDaemon,
    service: String,
}

/// Announces the name for every address of this machine, those it gets later too.
///
/// # Errors
/// Where the network cannot be spoken to so.
pub fn announce(port: u16) -> Result<Announced, mdns_sd::Error> {
    let about: &[(&str, &str)] = &[];
    let info = ServiceInfo::new(SERVICE, "Witnessmark", &format!("{NAME}."), "", port, about)?.enable_addr_auto();
    let service = info.get_fullname().to_owned();
    let daemon = ServiceDaemon::new()?;
    daemon.register(info)?;
    Ok(Announced { daemon, service })
}

impl Announced {
    /// Takes the name back; a network that does not listen keeps nobody waiting.
    pub fn withdraw(self) {
        if let Ok(gone) = self.daemon.unregister(&self.service) {
            let _ = gone.recv_timeout(FAREWELL);
        }
        if let Ok(ended) = self.daemon.shutdown() {
            let _ = ended.recv_timeout(FAREWELL);
        }
    }
}
