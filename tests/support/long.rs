//! Whether the long forms of the tests are asked for (`tests/run --long`).

#[allow(clippy::disallowed_methods, reason = "the command that runs the tests says so by the environment")]
pub fn is_long() -> bool {
    std::env::var_os("WITNESSMARK_LONG").is_some()
}
