//! The program: everything it does begins at the command line.

mod command;

fn main() -> std::process::ExitCode {
    command::run()
}
