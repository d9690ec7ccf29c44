//! The command line as a script meets it: what it prints, where, and with which exit code.

mod card;
mod export;
mod kept;
mod lan;
mod line;
mod serve;
mod sheet;
mod uploads;
