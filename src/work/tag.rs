//! The tag for an engine's stand.

use super::Shop;
use super::card_paper::made_at;
use super::doing::{Done, Refused};
use crate::drawing::Drawing;
use crate::handover::tag::{Tag, tag_drawing, tag_pdf};
use crate::record;
use jiff::Timestamp;

/// A tag as it would be printed.
#[derive(Clone, Debug)]
pub struct TagView {
    pub head: super::JobHead,
    pub drawing: Drawing,
    pub pdf: Vec<u8>,
}

impl Shop {
    /// The tag of a job whose code leads to this address.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job, or no code can say its address.
    pub async fn tag(&self, job: i64, address: &str, now: Timestamp) -> Done<TagView> {
        let head = self.job(job, now).await?.head;
        let tag = Tag { job, title: head.title.clone(), address: address.to_owned(), made_at: made_at(now) };
        let drawing = tag_drawing(&tag).ok_or(Refused::NotFound)?;
        let pdf = tag_pdf(&tag, &drawing).map_err(|why| record::Error::File(std::io::Error::other(why)))?;
        Ok(TagView { head, drawing, pdf })
    }
}
