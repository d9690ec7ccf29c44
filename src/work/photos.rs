//! Photographs: kept as they came, shown smaller and upright.

use super::Shop;
use super::doing::{Doing, Done, Refused};
use crate::record::files::{self, Files, NewFile};
use crate::record::{self, attachments, builds};
use fast_image_resize::{ResizeOptions, Resizer};
use image::codecs::jpeg::JpegEncoder;
use image::{DynamicImage, ImageDecoder, ImageReader, Limits};
use std::io::Cursor;

/// Longest side of what a page shows, in pixels.
const PREVIEW: u32 = 1600;
/// Longest side of what a list shows, in pixels.
const THUMB: u32 = 320;
/// Largest picture taken, in pixels a side and bytes in memory.
const LARGEST_SIDE: u32 = 20_000;
const LARGEST_MEMORY: u64 = 1024 * 1024 * 1024;

/// A picture as it came.
#[derive(Clone, Debug)]
pub struct Photo {
    pub name: String,
    pub bytes: Vec<u8>,
}

/// Which copy of a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PhotoSize {
    AsReceived,
    Preview,
    Thumb,
}

/// A picture, understood.
struct Developed {
    media_type: &'static str,
    width: u32,
    height: u32,
    preview: Vec<u8>,
    thumb: Vec<u8>,
}

impl Shop {
    /// Keeps photos of a job or a step. All of them, or none.
    ///
    /// # Errors
    /// Where one is no picture or too large; the message names it.
    pub async fn add_photos(
        &self,
        doing: &Doing,
        job: i64,
        step: Option<&str>,
        photos: Vec<Photo>,
        caption: &str,
    ) -> Done<()> {
        builds::by_id(&mut *self.record.look().await?, job).await?.ok_or(Refused::NotFound)?;
        let step = self.step_id(job, step).await?;
        if photos.is_empty() {
            return Err(Refused::fault("photos", "choose a photo, or take one"));
        }
        let mut developed = Vec::new();
        for photo in photos {
            // One at a time: a large picture takes memory while it is decoded.
            let picture = tokio::task::spawn_blocking(move || match develop(&photo.bytes) {
                Ok(picture) => Ok((photo, picture)),
                Err(why) => Err(format!("“{}”: {why}", shown_name(&photo.name))),
            })
            .await
            .map_err(|_| Refused::fault("photos", "this picture could not be read: take it again"))?;
            developed.push(picture.map_err(|why| Refused::fault("photos", why))?);
        }
        // Nothing is on disk before every one of them is known to be a picture.
        let files = self.record.files.clone();
        let kept = tokio::task::spawn_blocking(move || {
            developed.into_iter().map(|(photo, picture)| store(&files, photo, &picture)).collect::<Result<Vec<_>, _>>()
        })
        .await
        .map_err(|why| record::Error::File(std::io::Error::other(why)))??;
        let Some(mut w) = self.begin(doing, "add photos", Some(job)).await? else { return Ok(()) };
        for (name, file) in kept {
            let id = files::insert(&mut w, &file).await?;
            attachments::insert(&mut w, job, step, id, shown_name(&name), caption.trim()).await?;
        }
        self.begin_step_by_id(&mut w, job, step).await?;
        Ok(w.commit().await?)
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

    /// The bytes of a stored file and their media type.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is none.
    pub async fn file(&self, public_id: &str, size: PhotoSize) -> Done<(String, Vec<u8>)> {
        let mut look = self.record.look().await?;
        let file = files::by_public_id(&mut look, public_id).await?.ok_or(Refused::NotFound)?;
        let smaller = match size {
            PhotoSize::AsReceived => None,
            PhotoSize::Preview => file.preview_sha256,
            PhotoSize::Thumb => file.thumb_sha256,
        };
        let media_type = if smaller.is_some() { "image/jpeg".to_owned() } else { file.media_type };
        let bytes = self.record.files.read(&smaller.unwrap_or(file.sha256))?.ok_or(Refused::NotFound)?;
        Ok((media_type, bytes))
    }
}

/// Puts a picture on disk, as it came and smaller.
fn store(files: &Files, photo: Photo, picture: &Developed) -> record::Result<(String, NewFile)> {
    let file = NewFile {
        sha256: files.store(&photo.bytes)?,
        media_type: picture.media_type.to_owned(),
        bytes: i64::try_from(photo.bytes.len()).unwrap_or(i64::MAX),
        width: Some(picture.width.into()),
        height: Some(picture.height.into()),
        preview_sha256: Some(files.store(&picture.preview)?),
        thumb_sha256: Some(files.store(&picture.thumb)?),
    };
    Ok((photo.name, file))
}

/// Puts a document on disk: a PDF as it came, or a picture, also smaller.
pub(super) fn store_document(files: &Files, document: Photo) -> Done<NewFile> {
    if document.bytes.starts_with(b"%PDF-") {
        return Ok(NewFile {
            sha256: files.store(&document.bytes)?,
            media_type: "application/pdf".to_owned(),
            bytes: i64::try_from(document.bytes.len()).unwrap_or(i64::MAX),
            width: None,
            height: None,
            preview_sha256: None,
            thumb_sha256: None,
        });
    }
    let no_document = |_| Refused::fault("certificate", "choose a PDF, or a JPEG or PNG picture of it");
    let picture = develop(&document.bytes).map_err(no_document)?;
    Ok(store(files, document, &picture)?.1)
}

/// At most the last 100 characters of a file's name, without folders.
fn shown_name(name: &str) -> &str {
    let name = name.rsplit(['/', '\\']).next().unwrap_or(name);
    let skip = name.chars().count().saturating_sub(100);
    name.char_indices().nth(skip).map_or(name, |(at, _)| &name[at..])
}

fn develop(bytes: &[u8]) -> Result<Developed, String> {
    let no_picture = "this is no JPEG or PNG picture";
    let mut limits = Limits::default();
    limits.max_image_width = Some(LARGEST_SIDE);
    limits.max_image_height = Some(LARGEST_SIDE);
    limits.max_alloc = Some(LARGEST_MEMORY);
    let mut reader = ImageReader::new(Cursor::new(bytes)).with_guessed_format().map_err(|_| no_picture)?;
    let media_type = reader.format().ok_or(no_picture)?.to_mime_type();
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(|why| format!("{no_picture} ({why})"))?;
    let orientation = decoder.orientation().map_err(|why| why.to_string())?;
    let picture = DynamicImage::from_decoder(decoder).map_err(|why| format!("this picture cannot be read ({why})"))?;
    // Turned after shrinking: turning the whole picture would take twice the memory.
    let shrink = |longest| {
        let mut small = shrunk(&picture, longest)?;
        small.apply_orientation(orientation);
        Ok::<_, String>(small)
    };
    let (preview, thumb) = (shrink(PREVIEW)?, shrink(THUMB)?);
    let turned = (preview.width() > preview.height()) != (picture.width() > picture.height());
    let (width, height) =
        if turned { (picture.height(), picture.width()) } else { (picture.width(), picture.height()) };
    Ok(Developed { media_type, width, height, preview: jpeg(&preview)?, thumb: jpeg(&thumb)? })
}

fn shrunk(picture: &DynamicImage, longest: u32) -> Result<DynamicImage, String> {
    let rgb = DynamicImage::ImageRgb8(picture.to_rgb8());
    let (width, height) = (rgb.width(), rgb.height());
    if width.max(height) <= longest {
        return Ok(rgb);
    }
    let side = |side: u32| (u64::from(side) * u64::from(longest) / u64::from(width.max(height))).max(1);
    let to_u32 = |side: u64| u32::try_from(side).unwrap_or(longest);
    let mut small = DynamicImage::new_rgb8(to_u32(side(width)), to_u32(side(height)));
    Resizer::new().resize(&rgb, &mut small, &ResizeOptions::new()).map_err(|why| why.to_string())?;
    Ok(small)
}

fn jpeg(picture: &DynamicImage) -> Result<Vec<u8>, String> {
    let mut bytes = Vec::new();
    picture.write_with_encoder(JpegEncoder::new_with_quality(&mut bytes, 82)).map_err(|why| why.to_string())?;
    Ok(bytes)
}
