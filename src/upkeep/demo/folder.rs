//! The demonstration shop in its folder, whole or not at all: it is laid out beside it, and given its name at the end. What
//! was stopped midway is never taken for a shop.

use super::diary::NotLaidOut;
use super::{DemoShop, as_it_stands, write_diary};
use crate::work::Shop;
use jiff::Timestamp;
use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

/// Opens the demonstration shop in a folder: as it is where a record is there, or else laid out, the same shop each time,
/// with its acts in the weeks before `now`.
///
/// # Errors
/// [`NotLaidOut`] where other files lie in the folder, it cannot be written, or the shop refuses something.
pub async fn open(folder: &Path, now: Timestamp) -> Result<(Shop, DemoShop), NotLaidOut> {
    if !Shop::is_in(folder) {
        lay_out(folder, now).await?;
    }
    let shop = Shop::open(folder).await?;
    let stands = as_it_stands(&shop, now).await?;
    Ok((shop, stands))
}

async fn lay_out(folder: &Path, now: Timestamp) -> Result<(), NotLaidOut> {
    let unfinished = free_for(folder).map_err(|why| NotLaidOut::Folder { folder: folder.to_owned(), why })?;
    let shop = Shop::open(&unfinished).await?;
    write_diary(&shop, now).await?;
    shop.close().await;
    fs::rename(unfinished, folder).map_err(|why| NotLaidOut::Folder { folder: folder.to_owned(), why })
}

/// Where the shop of a folder is laid out: beside it. Whatever an earlier layout left there is removed.
fn free_for(folder: &Path) -> io::Result<PathBuf> {
    let holds_others = folder.is_dir() && fs::read_dir(folder)?.next().is_some();
    if holds_others {
        return Err(io::Error::other("other files lie there: name a new folder or an empty one"));
    }
    let folder = std::path::absolute(folder)?;
    let name = folder.file_name().ok_or_else(|| io::Error::other("name a folder of its own"))?;
    let unfinished = folder.with_file_name(format!("{}.unfinished", name.display()));
    match fs::remove_dir_all(&unfinished) {
        Err(why) if why.kind() != ErrorKind::NotFound => Err(why),
        _ => Ok(unfinished),
    }
}
