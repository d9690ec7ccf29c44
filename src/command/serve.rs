//! `serve` and `demo`: the pages of a shop, on this machine or on the shop's network, until Ctrl-C or SIGTERM.

use super::network::{self, Announced};
use super::{Stopped, now};
use axum::Router;
use clap::Args;
use std::future::{Future, IntoFuture};
use std::net::{Ipv4Addr, SocketAddr};
use std::path::{Path, PathBuf};
use std::time::Duration;
use tokio::net::TcpListener;
use tokio::signal::unix::{SignalKind, signal};
use tokio::sync::oneshot;
use tokio::time::sleep;
use witnessmark::bench;
use witnessmark::office;
use witnessmark::upkeep::demo;
use witnessmark::web::door::Network;
use witnessmark::web::{Door, server};
use witnessmark::work::Shop;

#[derive(Args)]
struct Where {
    /// Address and port to listen on: 127.0.0.1:8040 unless said otherwise, with --lan 0.0.0.0:8040.
    #[arg(long, value_name = "ADDR:PORT")]
    listen: Option<SocketAddr>,
    /// Let in tablets on the shop's network that have entered the shop's PIN; it is set at /shop/tablets.
    #[arg(long)]
    lan: bool,
}

/// Serve the shop's own record; an empty one is begun in a new folder.
///
/// Example: witnessmark serve --data /srv/witnessmark
#[derive(Args)]
pub struct Serve {
    /// Folder of the record: its database and files.
    #[arg(long, default_value = "witnessmark-data", value_name = "DIR")]
    data: PathBuf,
    #[command(flatten)]
    at: Where,
}

/// Lay out an invented shop, write its spec card, and serve it.
///
/// Example: witnessmark demo --data /tmp/shop --listen 127.0.0.1:8050
#[derive(Args)]
pub struct Demo {
    /// Folder of the demonstration; used again as it is if it is there. While it is laid out, DIR.unfinished.
    #[arg(long, default_value = "witnessmark-demo", value_name = "DIR")]
    data: PathBuf,
    #[command(flatten)]
    at: Where,
}

pub async fn serve(args: Serve) -> Result<(), Stopped> {
    let listener = listen(&args.at).await?;
    let shop = Shop::open(&args.data).await?;
    shop.clear_arriving()?;
    until_stopped(listener, args.at.lan, &shop, &args.data, None).await
}

pub async fn demo(args: Demo) -> Result<(), Stopped> {
    let listener = listen(&args.at).await?;
    let (shop, laid_out) = demo::open(&args.data, now()).await?;
    let written = match laid_out.card {
        Some(card) => {
            let path = args.data.join("spec-card.pdf");
            std::fs::write(&path, card.bytes)?;
            Some(path)
        }
        None => None,
    };
    until_stopped(listener, args.at.lan, &shop, &args.data, written.as_deref()).await
}

async fn listen(at: &Where) -> Result<TcpListener, Stopped> {
    let usual = if at.lan { Ipv4Addr::UNSPECIFIED } else { Ipv4Addr::LOCALHOST };
    let listen = at.listen.unwrap_or((usual, PORT).into());
    if !at.lan && !listen.ip().is_loopback() {
        return Err(Stopped::WrongUse(format!(
            "{listen} can be reached by others: say --lan, which lets in tablets with the shop's PIN, or listen on 127.0.0.1"
        )));
    }
    if at.lan && !listen.ip().is_unspecified() {
        return Err(Stopped::WrongUse(format!(
            "{listen} is one address, and --lan needs all of them, so that this computer is known by 127.0.0.1: say \
             --listen 0.0.0.0:{} to choose the port",
            listen.port()
        )));
    }
    TcpListener::bind(listen).await.map_err(|why| Stopped::Failed(format!("cannot listen on {listen}: {why}")))
}

async fn until_stopped(
    listener: TcpListener,
    lan: bool,
    shop: &Shop,
    data: &Path,
    card: Option<&Path>,
) -> Result<(), Stopped> {
    let listened = listener.local_addr()?;
    let here = if lan { SocketAddr::from((Ipv4Addr::LOCALHOST, listened.port())) } else { listened };
    let stop = stopped()?;
    println!("Address:   http://{here}/");
    println!("Data:      {}", std::path::absolute(data)?.display());
    if let Some(card) = card {
        println!("Spec card: {}", std::path::absolute(card)?.display());
    }
    let pages: Router = bench::routes().merge(office::routes()).with_state(shop.clone());
    let door = if lan { network::door(shop, here.port()) } else { Door::at_home() };
    let announced = if lan { open_to_tablets(&door, here, shop.has_pin().await?) } else { None };
    let first_look = tokio::spawn(look_over(shop.clone()));
    let house = server::house(pages, door, now).into_make_service_with_connect_info::<SocketAddr>();
    let (begin_to_stop, stopping) = oneshot::channel();
    let stop = async move {
        stop.await;
        let _ = begin_to_stop.send(());
    };
    tokio::select! {
        served = axum::serve(listener, house).with_graceful_shutdown(stop).into_future() => served?,
        () = async { _ = stopping.await; sleep(PATIENCE).await } => {}
    }
    first_look.abort();
    if let Some(announced) = announced {
        announced.withdraw();
    }
    shop.close().await;
    println!("Stopped; everything is kept.");
    Ok(())
}

/// Works out what is ready over all jobs before anybody asks: later looks load anew only what was touched since. What cannot be
/// read is said by the page that asks for it.
async fn look_over(shop: Shop) {
    let _ = shop.ready(now()).await;
}

/// Says how tablets come in, and announces the shop's name to its network.
fn open_to_tablets(door: &Door, here: SocketAddr, has_pin: bool) -> Option<Announced> {
    for address in door.network().map(Network::addresses).unwrap_or_default() {
        println!("Tablets:   {address}");
    }
    if let Some(code) = door.network().and_then(Network::code) {
        let what_for = if has_pin { "changes the PIN if it is forgotten" } else { "sets the PIN that lets tablets in" };
        println!("Code:      {code}   {what_for}, once, at http://{here}/shop/tablets");
    }
    println!("Nothing is encrypted: whoever can listen to the shop's Wi-Fi can read along.");
    match network::announce(here.port()) {
        Ok(announced) => Some(announced),
        Err(why) => {
            println!("The network will not know it by name ({why}); tablets open it by its numbers.");
            None
        }
    }
}

/// The port unless said otherwise.
const PORT: u16 = 8040;

/// How long a request under way may still take once the server is to stop: a tablet may have left in the middle of one.
const PATIENCE: Duration = Duration::from_secs(3);

/// Ends at Ctrl-C or SIGTERM.
fn stopped() -> Result<impl Future<Output = ()>, Stopped> {
    let (mut interrupt, mut terminate) = (signal(SignalKind::interrupt())?, signal(SignalKind::terminate())?);
    Ok(async move {
        tokio::select! {
            _ = interrupt.recv() => {}
            _ = terminate.recv() => {}
        }
    })
}
