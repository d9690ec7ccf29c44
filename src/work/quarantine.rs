//! The label for parts that were refused and lie apart.

use super::card_paper::made_at;
use super::doing::{Done, Refused};
use super::job::JobHead;
use super::parts::{PartRow, Stock};
use super::when::civil;
use super::{PhotoView, Shop};
use crate::drawing::Drawing;
use crate::handover::label::{Label, label_drawing, label_pdf};
use crate::record;
use crate::record::part_moves::MoveKind;
use jiff::Timestamp;

/// A label as it would be printed.
#[derive(Clone, Debug)]
pub struct LabelView {
    pub head: JobHead,
    pub row: PartRow,
    pub drawing: Drawing,
    pub pdf: Vec<u8>,
    pub photos: Vec<PhotoView>,
}

impl Shop {
    /// The label of a part of which some lie apart.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where the job has no such part, or nothing of it lies apart.
    pub async fn quarantine_label(&self, job: i64, public_id: &str, now: Timestamp) -> Done<LabelView> {
        let look = self.look_at_job(job, now).await?;
        let stock = Stock::load(&mut *self.record.look().await?, Some(job)).await?;
        let part = stock.find(public_id)?;
        let (row, head) = (look.part_row(&stock, part), look.head());
        let refused = stock.moves_of(part.id).filter(|one| one.said.kind == MoveKind::Refused).last();
        let refused = refused.filter(|_| row.apart > 0).ok_or(Refused::NotFound)?;
        let label = Label {
            job,
            title: head.title.clone(),
            part: part.said.description.clone(),
            made_as: row.made_as.clone(),
            quantity: row.apart,
            why: refused.said.words.clone(),
            day: civil(refused.said.day),
            who: refused.stamp.by.clone().unwrap_or_default(),
            made_at: made_at(now),
        };
        let drawing = label_drawing(&label);
        let pdf = label_pdf(&label, &drawing).map_err(|why| record::Error::File(std::io::Error::other(why)))?;
        Ok(LabelView { head, row, drawing, pdf, photos: look.photos_of(Some(part.id), None) })
    }
}
