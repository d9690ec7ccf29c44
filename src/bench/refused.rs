//! What the shop refuses, as pages say it.

use crate::web::PageError;
use crate::web::errors::Conflict;
use crate::web::forms::sentence;
use crate::work::Refused;

/// A refusal where no form stands to say it beside a field.
impl From<Refused> for PageError {
    fn from(refused: Refused) -> Self {
        match refused {
            Refused::NotFound => Self::NotFound,
            Refused::Faults(faults) => {
                let said: Vec<String> = faults.into_iter().map(|fault| sentence(&fault.message)).collect();
                Self::Refused(said.join(" "))
            }
            Refused::Conflict { stands } => conflict("this", stands, String::new(), "/".to_owned()),
            Refused::TooLarge => Self::TooLarge,
            Refused::Record(error) if error.is_full() => Self::NoRoom,
            Refused::Record(error) => Self::failed(error),
        }
    }
}

/// Another tablet was quicker: what stands now beside what was about to be saved, and the page to put both together.
pub(super) fn conflict(about: &str, theirs: String, yours: String, address: String) -> PageError {
    PageError::Conflict(Box::new(Conflict { about: about.to_owned(), theirs, yours, address }))
}
