//! What holds for every input: round trips, unit invariance, symmetry, and propagation against Monte Carlo.

mod propagation;
mod reading;
mod statistics;
mod study;
mod verdicts;
