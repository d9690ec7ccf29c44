//! Random names: of a device, of a form that must not act twice, of a failure in the log.

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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tokens_differ_and_know_their_form() {
        let (one, other) = (token(), token());
        assert!(is_token(&one) && is_token(&other));
        assert_ne!(one, other);
        for wrong in ["", "abc", &one[1..], &format!("{one}0"), &one.replace(|_| true, "G")] {
            assert!(!is_token(wrong), "{wrong}");
        }
    }
}
