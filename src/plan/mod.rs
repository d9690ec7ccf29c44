//! Steps and what they wait for: what can go ahead now, how long it all takes, and what date to promise.
//!
//! Pure: the day, the shop's hours and the seed come in as arguments. Steps and parts are known here by their place in a
//! list; whose they are and what they are called is not known here.
//!
//! | file | what is in it |
//! |---|---|
//! | `graph.rs` | what follows what; an order, or the cycle |
//! | `three_point.rs` | least, likely, most |
//! | `critical_path.rs` | earliest, latest, float; PERT |
//! | `calendar.rs` | the shop's hours and closed days |
//! | `hours.rs`, `days.rs` | how long work may take, and waiting |
//! | `shares.rs` | a draw found on their curves |
//! | `belief.rs`, `history.rs` | the same, judged by what was |
//! | `random.rs` | chance that can be repeated |
//! | `network.rs`, `trial.rs` | all jobs on one floor, and one way it may go |
//! | `simulate.rs` | many ways: the dates, what they hang on, what another engine first does |
//! | `promise.rs` | the date in words |
//! | `due.rs` | how far off a day is, in words |
//! | `ready.rs` | what can go ahead today, and what each other step waits for |

mod belief;
mod calendar;
mod critical_path;
mod days;
mod due;
mod graph;
mod history;
mod hours;
mod network;
mod promise;
mod random;
mod ready;
mod shares;
mod simulate;
mod three_point;
mod trial;

pub use belief::WORTH;
pub use calendar::{Ahead, Calendar, CalendarFault, days_between};
pub use critical_path::{CriticalPath, DurationFault, Pert, Times};
pub use days::Days;
pub use due::how_far_off;
pub use graph::{Graph, GraphFault};
pub use history::{Delivery, HistoryFault, LATENESS_WITHIN, Lead, Promises, USUAL_LATENESS, Worked, bench_hours};
pub use hours::{Hours, HoursFault};
pub use network::{Job, NetworkFault, Takes, Task};
pub use promise::Promise;
pub use ready::{Need, Reason, Stand, State, Step, most_urgent_first, stand};
pub use simulate::{Forecast, ForecastFault, Moved, Mover, Simulation};
pub use three_point::{ThreePoint, ThreePointFault};
