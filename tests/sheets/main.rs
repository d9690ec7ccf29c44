//! The sheets as their sceptic sees them: hand calculations, every depth and route, what must not change a finding and what
//! must, and findings pinned by edition.

mod balance;
mod bench;
mod block;
mod compression;
mod crankshaft;
mod crush;
mod cylinder_bores;
mod depths;
#[path = "../support/deviates.rs"]
mod deviates;
mod film;
mod gauges;
mod golden;
mod input;
mod invariance;
mod limits;
mod main_bearings;
mod main_line;
mod misreads;
mod monte_carlo;
mod motion;
mod odd;
mod options;
mod pistons;
mod press_fits;
mod rings;
mod rod_bearings;
mod rods;
mod seating;
mod sets;
mod sets_anew;
mod temperature;
mod turning_clearances;
mod warm_bearings;
