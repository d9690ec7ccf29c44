//! The demonstration shop: laid out once, the same each time, holding what it is to show, in figures that hold together.

mod figures;
mod laid_out;
mod shows;
mod views;
