//! The command line; the only reader of arguments, environment and the system clock.
//!
//! Exit codes: 0 done, 1 failed, 2 wrong use.

mod card;
mod export;
mod network;
mod serve;
mod sheet;

use clap::{Parser, Subcommand};
use std::fmt::Display;
use std::io::{self, ErrorKind, Write};
use std::path::Path;
use std::process::ExitCode;
use witnessmark::work::Shop;

/// A custom engine builder's record: what was measured, whether it is good, and the card that leaves with the engine.
#[derive(Parser)]
#[command(version, propagate_version = true, after_help = "Exit codes: 0 done, 1 failed, 2 wrong use.")]
struct Line {
    #[command(subcommand)]
    what: What,
}

#[derive(Subcommand)]
enum What {
    Demo(serve::Demo),
    Serve(serve::Serve),
    Sheet(sheet::Arguments),
    Card(card::Card),
    Export(export::Export),
}

/// What stops a command, in words for whoever typed it; a line for each fault.
enum Stopped {
    Failed(String),
    WrongUse(String),
}

impl<T: Display> From<T> for Stopped {
    fn from(why: T) -> Self {
        Self::Failed(why.to_string())
    }
}

/// Reads the command line and does what it says.
pub fn run() -> ExitCode {
    let done = match Line::parse().what {
        What::Demo(demo) => waiting(serve::demo(demo)),
        What::Serve(serve) => waiting(serve::serve(serve)),
        What::Sheet(arguments) => sheet::work_out(&arguments),
        What::Card(card) => waiting(card::write(card)),
        What::Export(export) => waiting(export::write(export)),
    };
    let (why, code) = match done {
        Ok(()) => return ExitCode::SUCCESS,
        Err(Stopped::Failed(why)) => (why, ExitCode::FAILURE),
        Err(Stopped::WrongUse(why)) => (why, ExitCode::from(2)),
    };
    why.lines().for_each(|line| eprintln!("witnessmark: {line}"));
    code
}

/// Runs what waits for disk and network.
fn waiting(task: impl Future<Output = Result<(), Stopped>>) -> Result<(), Stopped> {
    tokio::runtime::Builder::new_multi_thread().enable_all().build()?.block_on(task)
}

/// Writes to standard output; whoever reads it may stop reading.
fn say(text: &str) -> Result<(), Stopped> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(why) if why.kind() != ErrorKind::BrokenPipe => Err(Stopped::Failed(format!("cannot write: {why}"))),
        _ => Ok(()),
    }
}

/// Opens a record that is there already; a script that names the wrong folder must not begin an empty one.
async fn open_shop(data: &Path) -> Result<Shop, Stopped> {
    if !Shop::is_in(data) {
        return Err(Stopped::Failed(format!("there is no record in {}: name its folder with --data", data.display())));
    }
    Ok(Shop::open(data).await?)
}

/// The system clock, read here and nowhere else.
#[allow(clippy::disallowed_methods, reason = "the command line is where time comes in")]
fn now() -> jiff::Timestamp {
    jiff::Timestamp::now()
}
