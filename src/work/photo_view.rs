//! Photos and other files as pages show them.

use super::develop::{is_shown, megabytes};
use super::job::JobLook;
use super::photos::round_words;
use crate::record::attachments::Attachment;

/// How a file can be looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shown {
    Picture,
    /// A picture that would take too much memory to be decoded here.
    TooLarge,
    /// A picture that cannot be decoded.
    Damaged,
    /// Anything else.
    File,
}

/// A photo or other file to look at.
#[derive(Clone, Debug)]
pub struct PhotoView {
    pub id: i64,
    /// The file's public id.
    pub file: String,
    pub name: String,
    pub caption: String,
    pub shown: Shown,
    /// "3.4 MB".
    pub size: String,
    /// The round whose record it is: "Main bearings, round 2".
    pub record_of: Option<String>,
    pub when: String,
}

impl PhotoView {
    pub fn is_picture(&self) -> bool {
        self.shown == Shown::Picture
    }

    /// What it is called where it is not seen.
    pub fn called(&self) -> &str {
        if self.caption.is_empty() { &self.name } else { &self.caption }
    }
}

impl JobLook {
    /// The files of a step, or of the whole job, newest first.
    pub(super) fn photos_at(&self, step: Option<i64>) -> Vec<PhotoView> {
        let standing = self.photos.iter().filter(|photo| photo.withdrawn.is_none());
        standing.filter(|photo| step.is_none() || photo.step == step).map(|photo| self.photo(photo)).collect()
    }

    /// The files that are the record of a round.
    pub(super) fn records_of(&self, round: i64) -> Vec<PhotoView> {
        let standing = self.photos.iter().filter(|photo| photo.withdrawn.is_none());
        standing.filter(|photo| photo.round == Some(round)).map(|photo| self.photo(photo)).collect()
    }

    /// The files of a part, or of work sent out, newest first.
    pub(super) fn photos_of(&self, part: Option<i64>, sending: Option<i64>) -> Vec<PhotoView> {
        let standing = self.photos.iter().filter(|photo| photo.withdrawn.is_none());
        let of =
            |photo: &&Attachment| part.is_some() && photo.part == part || sending.is_some() && photo.sending == sending;
        standing.filter(of).map(|photo| self.photo(photo)).collect()
    }

    fn photo(&self, photo: &Attachment) -> PhotoView {
        let shown = match (photo.previewed, is_shown(&photo.media_type), photo.width) {
            (true, ..) => Shown::Picture,
            (false, true, Some(_)) => Shown::TooLarge,
            (false, true, None) => Shown::Damaged,
            (false, false, _) => Shown::File,
        };
        let round = self.job.rounds.iter().find(|round| Some(round.id) == photo.round);
        PhotoView {
            id: photo.id,
            file: photo.file.clone(),
            name: photo.name.clone(),
            caption: photo.caption.clone(),
            shown,
            size: megabytes(photo.bytes.unsigned_abs()),
            record_of: round.map(|round| round_words(round.sheet, round.number)),
            when: self.when.stamp(&photo.stamp),
        }
    }
}
