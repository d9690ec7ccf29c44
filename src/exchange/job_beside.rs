//! What is kept beside a job's figures, as it goes out: notes and files.

use super::job_parts::Stamped;
use crate::record::attachments::Attachment;
use crate::record::notes::Note;
use serde::Serialize;

#[derive(Serialize)]
pub(super) struct NoteOut {
    step: Option<String>,
    text: String,
    written: Stamped,
    withdrawn: Option<Stamped>,
}

impl NoteOut {
    pub fn of(step: Option<String>, note: &Note) -> Self {
        let withdrawn = note.withdrawn.as_ref().map(Stamped::from);
        Self { step, text: note.text.clone(), written: Stamped::from(&note.stamp), withdrawn }
    }
}

#[derive(Serialize)]
pub(super) struct FileOut {
    id: String,
    sha256: String,
    name: String,
    caption: String,
    media_type: String,
    step: Option<String>,
    /// The round whose record it is.
    round: Option<i64>,
    /// The part it shows, or the work sent out whose ticket it is, by their numbers in the record.
    part: Option<i64>,
    sending: Option<i64>,
    attached: Stamped,
    withdrawn: Option<Stamped>,
}

impl FileOut {
    pub fn of(step: Option<String>, file: &Attachment) -> Self {
        Self {
            id: file.file.clone(),
            sha256: file.sha256.clone(),
            name: file.name.clone(),
            caption: file.caption.clone(),
            media_type: file.media_type.clone(),
            step,
            round: file.round,
            part: file.part,
            sending: file.sending,
            attached: Stamped::from(&file.stamp),
            withdrawn: file.withdrawn.as_ref().map(Stamped::from),
        }
    }
}
