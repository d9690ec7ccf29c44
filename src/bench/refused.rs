//! What the shop refuses, as pages say it.

use crate::web::errors::Conflict;
use crate::web::forms::sentence;
use crate::web::{FormState, PageError};
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
            Refused::Record(error) => Self::failed(error),
        }
    }
}

/// Notes beside the fields of a form what to enter instead; any other refusal is a page of its own.
pub(super) fn beside_fields(form: &mut FormState, refused: Refused) -> Result<(), PageError> {
    let Refused::Faults(faults) = refused else { return Err(refused.into()) };
    for fault in faults {
        form.refuse(&fault.field, sentence(&fault.message));
    }
    Ok(())
}

/// Another tablet was quicker: what stands now beside what was about to be saved, and the page to put both together.
pub(super) fn conflict(about: &str, theirs: String, yours: String, address: String) -> PageError {
    PageError::Conflict(Box::new(Conflict { about: about.to_owned(), theirs, yours, address }))
}
