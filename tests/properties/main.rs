//! What holds for every input: round trips, unit invariance, symmetry, and propagation against Monte Carlo.

mod balance;
mod bearing;
#[path = "../support/charge_lines.rs"]
mod charge_lines;
mod charges_figures;
mod charges_invoice;
mod charges_job;
mod charges_total;
mod compression;
mod film;
mod matching;
mod motion;
mod oil;
mod plan_network;
mod plan_ready;
mod plan_times;
mod press_fit;
mod propagation;
mod reading;
mod ring;
mod routes;
mod selection;
mod shim;
mod statistics;
mod study;
mod verdicts;
