//! What happens in the shop, done on a real record in a folder of its own.

mod at_once;
mod brought;
mod cards;
mod charges;
mod charging;
mod kept_elsewhere;
mod misreads;
mod parts;
mod plan_date;
mod plan_many;
mod plan_ready;
mod plan_took;
mod plan_waiting;
mod planned;
mod readings;
mod record;
mod search;
mod second_checks;
mod second_readings;
mod setting;
mod settling;
mod steps;
mod studied;
