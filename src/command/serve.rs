//! `serve` and `demo`: the pages of a shop, on this machine, until Ctrl-C or SIGTERM.

use super::{Stopped, now};
use axum::Router;
use clap::Args;
use std::future::{Future, IntoFuture};
use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::time::Duration;
use tokio::net::TcpListener;
use tokio::signal::unix::{SignalKind, signal};
use tokio::sync::oneshot;
use tokio::time::sleep;
use witnessmark::bench;
use witnessmark::office;
use witnessmark::upkeep::demo;
use witnessmark::web::{Door, server};
use witnessmark::work::Shop;

#[derive(Args)]
struct Where {
    /// Address and port to listen on.
    #[arg(long, default_value = "127.0.0.1:8040", value_name = "ADDR:PORT")]
    listen: SocketAddr,
    /// Listen on an address that others can reach, although nobody has to sign in yet.
    #[arg(long)]
    unguarded: bool,
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
    until_stopped(listener, &shop, &args.data, None).await
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
    until_stopped(listener, &shop, &args.data, written.as_deref()).await
}

async fn listen(at: &Where) -> Result<TcpListener, Stopped> {
    if !at.listen.ip().is_loopback() && !at.unguarded {
        return Err(Stopped::WrongUse(format!(
            "{} can be reached by others, and nobody has to sign in yet: listen on 127.0.0.1, or say --unguarded",
            at.listen
        )));
    }
    TcpListener::bind(at.listen).await.map_err(|why| Stopped::Failed(format!("cannot listen on {}: {why}", at.listen)))
}

async fn until_stopped(listener: TcpListener, shop: &Shop, data: &Path, card: Option<&Path>) -> Result<(), Stopped> {
    let address = listener.local_addr()?;
    let stop = stopped()?;
    println!("Address:   http://{address}/");
    println!("Data:      {}", std::path::absolute(data)?.display());
    if let Some(card) = card {
        println!("Spec card: {}", std::path::absolute(card)?.display());
    }
    let pages: Router = bench::routes().merge(office::routes()).with_state(shop.clone());
    let house = server::house(pages, Door::new(address), now);
    let (begin_to_stop, stopping) = oneshot::channel();
    let stop = async move {
        stop.await;
        let _ = begin_to_stop.send(());
    };
    tokio::select! {
        served = axum::serve(listener, house).with_graceful_shutdown(stop).into_future() => served?,
        () = async { _ = stopping.await; sleep(PATIENCE).await } => {}
    }
    shop.close().await;
    println!("Stopped; everything is kept.");
    Ok(())
}

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
