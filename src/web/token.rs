//! Random names: of a device, of a form that must not act twice, of a failure in the log, of a session.

use sha2::{Digest, Sha256};
use std::fmt::Write;

/// 128 random bits as 32 hexadecimal digits.
///
/// # Panics
///
/// If the system has no random source: nothing here may go on with a guessable name.
pub fn token() -> String {
    let mut bits = [0_u8; 16];
    getrandom::fill(&mut bits).expect("the system's random source");
    format!("{:032x}", u128::from_be_bytes(bits))
}

/// Whether a text has the form of a token.
pub fn is_token(text: &str) -> bool {
    text.len() == 32 && text.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'))
}

/// SHA-256 of a token as 64 hexadecimal digits: knows it again, and does not give it away.
pub fn digest(token: &str) -> String {
    Sha256::digest(token.as_bytes()).iter().fold(String::new(), |mut text, byte| {
        // Writing to a String cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tokens_differ_and_know_their_form() {
        let (one, other) = (token(), token());
        assert!(is_token(&one) && is_token(&other));
        assert_ne!(one, other);
        // FIPS 180-2, appendix B.1.
        assert_eq!(digest("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
        for wrong in ["", "abc", &one[1..], &format!("{one}0"), &one.replace(|_| true, "G")] {
            assert!(!is_token(wrong), "{wrong}");
        }
    }
}
