//! What happens in the shop, done on a real record in a folder of its own.

mod at_once;
mod cards;
mod charges;
mod misreads;
mod parts;
mod readings;
mod record;
mod second_checks;
mod second_readings;
mod setting;
mod steps;
mod studied;
