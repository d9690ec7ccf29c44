//! Files by their content: on disk, durable, before the row that names them.

use super::{Connection, Error, Result, Writing, hex, public_id};
use sha2::{Digest, Sha256};
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

/// The folder of files, `files/ab/SHA256`.
#[derive(Clone, Debug)]
pub struct Files {
    root: PathBuf,
}

impl Files {
    pub(super) fn in_folder(folder: &Path) -> Result<Self> {
        let root = folder.join("files");
        fs::create_dir_all(&root)?;
        Ok(Self { root })
    }

    fn path(&self, sha256: &str) -> PathBuf {
        self.root.join(sha256.get(..2).unwrap_or("00")).join(sha256)
    }

    /// Stores bytes under their own digest and makes them durable.
    ///
    /// # Errors
    /// Where the disk does not take them.
    pub fn store(&self, bytes: &[u8]) -> Result<String> {
        let sha256 = hex(&Sha256::digest(bytes));
        let path = self.path(&sha256);
        if path.exists() {
            return Ok(sha256);
        }
        let folder = path.parent().unwrap_or(&self.root);
        fs::create_dir_all(folder)?;
        let unfinished = folder.join(format!("{sha256}.{}", public_id()));
        let mut file = fs::File::create(&unfinished)?;
        file.write_all(bytes)?;
        file.sync_all()?;
        fs::rename(&unfinished, &path)?;
        fs::File::open(folder)?.sync_all()?;
        Ok(sha256)
    }

    /// The bytes of a digest; none where no such file is kept.
    ///
    /// # Errors
    /// Where the disk does not give them, or not as they were stored.
    pub fn read(&self, sha256: &str) -> Result<Option<Vec<u8>>> {
        match fs::read(self.path(sha256)) {
            Ok(bytes) if hex(&Sha256::digest(&bytes)) == sha256 => Ok(Some(bytes)),
            Ok(_) => Err(Error::corrupt("file", "sha256", sha256, "the file on disk has another digest")),
            Err(why) if why.kind() == std::io::ErrorKind::NotFound => Ok(None),
            Err(why) => Err(why.into()),
        }
    }
}

/// A stored file.
#[derive(Clone, Debug)]
pub struct StoredFile {
    pub id: i64,
    pub public_id: String,
    pub sha256: String,
    pub media_type: String,
    pub preview_sha256: Option<String>,
    pub thumb_sha256: Option<String>,
}

/// A file to be named in the record; its bytes are on disk already.
#[derive(Clone, Debug)]
pub struct NewFile {
    pub sha256: String,
    pub media_type: String,
    pub bytes: i64,
    pub width: Option<i64>,
    pub height: Option<i64>,
    pub preview_sha256: Option<String>,
    pub thumb_sha256: Option<String>,
}

pub async fn by_public_id(db: &mut Connection, public_id: &str) -> Result<Option<StoredFile>> {
    Ok(sqlx::query_as!(
        StoredFile,
        r#"SELECT id AS "id!: i64", public_id, sha256, media_type, preview_sha256, thumb_sha256
           FROM file WHERE public_id = ?"#,
        public_id
    )
    .fetch_optional(db)
    .await?)
}

pub async fn by_id(db: &mut Connection, id: i64) -> Result<Option<StoredFile>> {
    Ok(sqlx::query_as!(
        StoredFile,
        r#"SELECT id AS "id!: i64", public_id, sha256, media_type, preview_sha256, thumb_sha256 FROM file WHERE id = ?"#,
        id
    )
    .fetch_optional(db)
    .await?)
}

/// Names a file in the record; the same content is one file.
pub async fn insert(w: &mut Writing, new: &NewFile) -> Result<i64> {
    let (id, act) = (public_id(), w.act);
    let known = sqlx::query!(r#"SELECT id AS "id!: i64" FROM file WHERE sha256 = ?"#, new.sha256)
        .fetch_optional(&mut **w)
        .await?;
    if let Some(known) = known {
        return Ok(known.id);
    }
    let done = sqlx::query!(
        "INSERT INTO file (public_id, sha256, media_type, bytes, width, height, preview_sha256, thumb_sha256, made)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        id,
        new.sha256,
        new.media_type,
        new.bytes,
        new.width,
        new.height,
        new.preview_sha256,
        new.thumb_sha256,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(done.last_insert_rowid())
}
