//! The command line as a script meets it: what it prints, where, and with which exit code.

mod line;
mod sheet;
