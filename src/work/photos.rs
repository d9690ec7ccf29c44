//! Photos and other files of a job: kept as they came, those that are pictures also smaller and upright.

use super::Shop;
use super::develop::{Developed, develop, is_shown, media_type};
use super::doing::{Doing, Done, Refused};
use crate::engine::SheetKey;
use crate::record::attachments::{self, NewAttachment};
use crate::record::files::{self, Contents, Files, Incoming, NewFile};
use crate::record::parts::{self, Part};
use crate::record::sendings::{self, Sending};
use crate::record::{self, builds, rounds};
use crate::sheets::sheet;
use std::io::Cursor;

/// Longest file taken in, bytes.
pub const LONGEST_FILE: u64 = 200_000_000;

/// A file as it came, whole.
#[derive(Clone, Debug)]
pub struct Photo {
    pub name: String,
    pub bytes: Vec<u8>,
}

/// A file that is coming in, on disk as far as it has come. Dropped before it is kept, it is gone.
#[derive(Debug)]
pub struct Arriving {
    name: String,
    incoming: Incoming,
}

impl Arriving {
    /// Writes what came next.
    ///
    /// # Errors
    /// [`Refused::TooLarge`] beyond [`LONGEST_FILE`], or where the disk does not take it.
    pub async fn write(mut self, bytes: impl AsRef<[u8]> + Send + 'static) -> Done<Self> {
        if self.incoming.bytes() + bytes.as_ref().len() as u64 > LONGEST_FILE {
            return Err(Refused::TooLarge);
        }
        aside(move || {
            self.incoming.write(bytes.as_ref())?;
            Ok(self)
        })
        .await
    }
}

/// What of a job a file belongs to.
#[derive(Clone, Copy, Debug, Default)]
pub struct Beside<'a> {
    /// A step's key; none: the job as a whole.
    pub step: Option<&'a str>,
    /// The round, by its number, whose record it is.
    pub round: Option<(SheetKey, i64)>,
    /// Public id of the part it shows, or of the work sent out whose ticket it is.
    pub thing: Option<&'a str>,
}

/// What a public id in an address names.
enum Thing {
    Part(Part),
    Sent(Sending),
}

/// Which copy of a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PhotoSize {
    AsReceived,
    Preview,
    Thumb,
}

/// A kept file to hand out.
#[derive(Debug)]
pub struct FileOut {
    pub media_type: String,
    /// Whether a page may show it; anything else is only handed over to be saved.
    pub shown: bool,
    pub bytes: u64,
    pub contents: Contents,
}

impl Shop {
    /// A file that is going to come.
    ///
    /// # Errors
    /// Where the disk does not take it.
    pub async fn receive(&self, name: &str) -> Done<Arriving> {
        let (files, name) = (self.record.files.clone(), shown_name(name).to_owned());
        aside(move || Ok(Arriving { name, incoming: files.begin()? })).await
    }

    /// Removes what was coming in when the machine stopped. Only for the one who serves the shop.
    ///
    /// # Errors
    /// Where the disk does not let go of it.
    pub fn clear_arriving(&self) -> record::Result<()> {
        self.record.files.clear_incoming()
    }

    /// Keeps files that came whole, as [`Self::attach`] does.
    ///
    /// # Errors
    /// As [`Self::attach`].
    pub async fn add_photos(
        &self,
        doing: &Doing,
        job: i64,
        step: Option<&str>,
        photos: Vec<Photo>,
        caption: &str,
    ) -> Done<()> {
        let mut arrived = Vec::new();
        for photo in photos {
            arrived.push(self.receive(&photo.name).await?.write(photo.bytes).await?);
        }
        self.attach(doing, job, Beside { step, ..Beside::default() }, arrived, caption).await
    }

    /// Keeps files of a job: all of them, or none. Pictures are developed one at a time, since each takes memory.
    ///
    /// # Errors
    /// Where one is empty or a picture too large; the message names it.
    pub async fn attach(
        &self,
        doing: &Doing,
        job: i64,
        beside: Beside<'_>,
        files: Vec<Arriving>,
        caption: &str,
    ) -> Done<()> {
        builds::by_id(&mut *self.record.look().await?, job).await?.ok_or(Refused::NotFound)?;
        if self.was_done(doing).await? {
            return Ok(());
        }
        let step = self.step_id(job, beside.step).await?;
        let round = self.round_id(job, beside.round).await?;
        let (part, sending) = self.thing_ids(job, beside.thing).await?;
        if files.is_empty() {
            return Err(Refused::fault("photos", "choose a photo, or take one"));
        }
        let mut ready = Vec::new();
        for file in files {
            ready.push(self.made_ready(file).await?);
        }
        // Nothing is kept before there is room on the disk for all of it.
        let files = self.record.files.clone();
        let kept = aside(move || ready.into_iter().map(|ready| ready.keep(&files)).collect::<Done<Vec<_>>>()).await?;
        let Some(mut w) = self.begin(doing, "add photos", Some(job)).await? else { return Ok(()) };
        for (name, file) in &kept {
            let file = files::insert(&mut w, file).await?;
            let new = NewAttachment { step, round, part, sending, file, name, caption: caption.trim() };
            attachments::insert(&mut w, job, &new).await?;
        }
        self.begin_step_by_id(&mut w, job, step).await?;
        Ok(w.commit().await?)
    }

    /// What a round is called: "Main bearings, round 2".
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such round.
    pub async fn round_called(&self, job: i64, of_sheet: SheetKey, number: i64) -> Done<String> {
        self.round_id(job, Some((of_sheet, number))).await?;
        Ok(round_words(of_sheet, number))
    }

    async fn round_id(&self, job: i64, round: Option<(SheetKey, i64)>) -> Done<Option<i64>> {
        let Some((sheet, number)) = round else { return Ok(None) };
        let all = rounds::of(&mut *self.record.look().await?, Some(job)).await?;
        let round = all.iter().find(|round| round.sheet == sheet && round.number == number);
        round.map(|round| Some(round.id)).ok_or(Refused::NotFound)
    }

    /// What a part or work sent out is called.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where the job has none of this id.
    pub async fn thing_called(&self, job: i64, thing: &str) -> Done<String> {
        Ok(match self.thing(job, thing).await? {
            Thing::Part(part) => part.said.description,
            Thing::Sent(sending) => sending.said.what,
        })
    }

    /// The part or the work sent out that a public id names, by number.
    async fn thing_ids(&self, job: i64, thing: Option<&str>) -> Done<(Option<i64>, Option<i64>)> {
        let Some(thing) = thing else { return Ok((None, None)) };
        Ok(match self.thing(job, thing).await? {
            Thing::Part(part) => (Some(part.id), None),
            Thing::Sent(sending) => (None, Some(sending.id)),
        })
    }

    async fn thing(&self, job: i64, public_id: &str) -> Done<Thing> {
        let mut db = self.record.look().await?;
        let part = parts::of(&mut db, Some(job)).await?.into_iter().find(|part| part.public_id == public_id);
        if let Some(part) = part {
            return Ok(Thing::Part(part));
        }
        let sent = sendings::of(&mut db, Some(job)).await?.into_iter().find(|sent| sent.public_id == public_id);
        sent.map(Thing::Sent).ok_or(Refused::NotFound)
    }

    /// Looks at a file that came, with its smaller copies beside it.
    async fn made_ready(&self, file: Arriving) -> Done<Ready> {
        let refused = |why: &str| Refused::fault("photos", format!("“{}”: {why}", file.name));
        let bytes = file.incoming.bytes();
        if bytes == 0 {
            return Err(refused("this file is empty"));
        }
        let mut reader = file.incoming.read()?;
        let media_type = media_type(&mut reader).map_err(record::Error::File)?;
        let one_at_a_time = self.developing.clone().acquire_owned().await;
        let developed = tokio::task::spawn_blocking(move || {
            let _turn = one_at_a_time;
            develop(reader, bytes)
        })
        .await;
        // A picture over which the decoder falls is one that cannot be decoded.
        let Developed { media_type, size, smaller } = match developed {
            Ok(looked_at) => looked_at.map_err(|why| refused(&why))?,
            Err(_) => Developed::unseen(media_type),
        };
        let files = self.record.files.clone();
        aside(move || {
            let smaller =
                smaller.map(|made| Ok::<_, Refused>((files.write(&made.preview)?, files.write(&made.thumb)?)));
            Ok(Ready { file, media_type, size, smaller: smaller.transpose()? })
        })
        .await
    }

    /// Withdraws a photo; it stays in the record.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where none of this job stands.
    pub async fn withdraw_photo(&self, doing: &Doing, job: i64, attachment: i64) -> Done<()> {
        let Some(mut w) = self.begin(doing, "withdraw photo", Some(job)).await? else { return Ok(()) };
        if !attachments::withdraw(&mut w, job, attachment).await? {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }

    /// A stored file, found to be as it was stored.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is none.
    pub async fn file(&self, public_id: &str, size: PhotoSize) -> Done<FileOut> {
        let file = files::by_public_id(&mut *self.record.look().await?, public_id).await?.ok_or(Refused::NotFound)?;
        let previewed = file.preview_sha256.is_some();
        let smaller = match size {
            PhotoSize::AsReceived => None,
            PhotoSize::Preview => file.preview_sha256,
            PhotoSize::Thumb => file.thumb_sha256,
        };
        let media_type = if smaller.is_some() { "image/jpeg".to_owned() } else { file.media_type };
        let (files, sha256) = (self.record.files.clone(), smaller.unwrap_or(file.sha256));
        let (contents, bytes) = aside(move || files.open(&sha256)?.ok_or(Refused::NotFound)).await?;
        Ok(FileOut { shown: previewed && is_shown(&media_type), media_type, bytes, contents })
    }
}

/// A file with what else is kept of it, all on disk already.
struct Ready {
    file: Arriving,
    media_type: &'static str,
    size: Option<(u32, u32)>,
    /// A picture's preview and thumb.
    smaller: Option<(Incoming, Incoming)>,
}

impl Ready {
    /// Makes it durable: its name, and the file to be named in the record.
    fn keep(self, files: &Files) -> Done<(String, NewFile)> {
        let Arriving { name, incoming } = self.file;
        let (preview, thumb) = self.smaller.unzip();
        let keep = |incoming: Option<Incoming>| incoming.map(|incoming| files.keep(incoming)).transpose();
        let file = NewFile {
            bytes: i64::try_from(incoming.bytes()).unwrap_or(i64::MAX),
            sha256: files.keep(incoming)?,
            media_type: self.media_type.to_owned(),
            width: self.size.map(|(width, _)| width.into()),
            height: self.size.map(|(_, height)| height.into()),
            preview_sha256: keep(preview)?,
            thumb_sha256: keep(thumb)?,
        };
        Ok((name, file))
    }
}

/// Does what waits for the disk where nobody else has to wait for it.
async fn aside<T: Send + 'static>(what: impl FnOnce() -> Done<T> + Send + 'static) -> Done<T> {
    tokio::task::spawn_blocking(what).await.map_err(|why| record::Error::File(std::io::Error::other(why)))?
}

/// Puts a document on disk: a PDF as it came, or a picture, also smaller.
pub(super) fn store_document(files: &Files, document: &Photo) -> Done<NewFile> {
    let bytes = document.bytes.len() as u64;
    let Developed { media_type, size, smaller } =
        develop(Cursor::new(&document.bytes), bytes).map_err(|why| Refused::fault("certificate", why))?;
    if smaller.is_none() && media_type != "application/pdf" {
        return Err(Refused::fault("certificate", "choose a PDF, or a JPEG or PNG picture of it"));
    }
    let store = |bytes: &Vec<u8>| files.store(bytes);
    Ok(NewFile {
        sha256: files.store(&document.bytes)?,
        media_type: media_type.to_owned(),
        bytes: i64::try_from(bytes).unwrap_or(i64::MAX),
        width: size.map(|(width, _)| width.into()),
        height: size.map(|(_, height)| height.into()),
        preview_sha256: smaller.as_ref().map(|made| store(&made.preview)).transpose()?,
        thumb_sha256: smaller.as_ref().map(|made| store(&made.thumb)).transpose()?,
    })
}

pub(super) fn round_words(of_sheet: SheetKey, number: i64) -> String {
    format!("{}, round {number}", sheet(of_sheet).title)
}

/// At most the last 100 characters of a file's name, without folders.
fn shown_name(name: &str) -> &str {
    let name = name.rsplit(['/', '\\']).next().unwrap_or(name);
    let skip = name.chars().count().saturating_sub(100);
    name.char_indices().nth(skip).map_or(name, |(at, _)| &name[at..])
}
