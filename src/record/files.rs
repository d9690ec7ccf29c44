//! Files by their content: on disk, durable, before the row that names them.

use super::{Connection, Error, Result, Writing, hex, public_id};
use sha2::{Digest, Sha256};
use std::fs;
use std::io::{self, BufReader, Read, Seek, Write};
use std::path::{Path, PathBuf};

/// The bytes of a kept file, from the first, to be handed on as they are read.
pub type Contents = tokio::fs::File;

/// The folder of files, `files/ab/SHA256`; those on their way in lie in `files/incoming`.
#[derive(Clone, Debug)]
pub struct Files {
    root: PathBuf,
}

/// A file on its way in: written and hashed as it comes, so that its length takes no memory. Dropped before it is kept, it
/// is gone.
#[derive(Debug)]
pub struct Incoming {
    path: PathBuf,
    file: fs::File,
    digest: Sha256,
    bytes: u64,
}

impl Incoming {
    /// Writes what came next.
    ///
    /// # Errors
    /// Where the disk does not take it.
    pub fn write(&mut self, bytes: &[u8]) -> Result<()> {
        self.file.write_all(bytes)?;
        self.digest.update(bytes);
        self.bytes += bytes.len() as u64;
        Ok(())
    }

    /// How long it is so far.
    pub const fn bytes(&self) -> u64 {
        self.bytes
    }

    /// What came so far, from the first byte.
    ///
    /// # Errors
    /// Where the disk does not give it.
    pub fn read(&self) -> Result<BufReader<fs::File>> {
        Ok(BufReader::new(fs::File::open(&self.path)?))
    }
}

impl Drop for Incoming {
    fn drop(&mut self) {
        // Where it was kept, nothing lies here any more.
        let _ = fs::remove_file(&self.path);
    }
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

    fn incoming(&self) -> PathBuf {
        self.root.join("incoming")
    }

    /// Removes what was on its way in when the machine stopped. Only for the one who takes files in.
    ///
    /// # Errors
    /// Where the disk does not let go of them.
    pub fn clear_incoming(&self) -> Result<()> {
        match fs::remove_dir_all(self.incoming()) {
            Err(why) if why.kind() != io::ErrorKind::NotFound => Err(why.into()),
            _ => Ok(()),
        }
    }

    /// A file that is going to come.
    ///
    /// # Errors
    /// Where the disk does not take it.
    pub fn begin(&self) -> Result<Incoming> {
        let folder = self.incoming();
        fs::create_dir_all(&folder)?;
        let path = folder.join(public_id());
        Ok(Incoming { file: fs::File::create_new(&path)?, path, digest: Sha256::new(), bytes: 0 })
    }

    /// Makes a file that has come durable under its own digest.
    ///
    /// # Errors
    /// Where the disk does not take it.
    #[expect(clippy::needless_pass_by_value, reason = "it has come to its end here")]
    pub fn keep(&self, incoming: Incoming) -> Result<String> {
        let sha256 = hex(&incoming.digest.clone().finalize());
        let path = self.path(&sha256);
        if path.exists() {
            return Ok(sha256);
        }
        let folder = path.parent().unwrap_or(&self.root);
        fs::create_dir_all(folder)?;
        incoming.file.sync_all()?;
        fs::rename(&incoming.path, &path)?;
        fs::File::open(folder)?.sync_all()?;
        Ok(sha256)
    }

    /// Writes bytes that are to be kept with others or not at all.
    ///
    /// # Errors
    /// Where the disk does not take them.
    pub fn write(&self, bytes: &[u8]) -> Result<Incoming> {
        let mut incoming = self.begin()?;
        incoming.write(bytes)?;
        Ok(incoming)
    }

    /// Stores bytes under their own digest and makes them durable.
    ///
    /// # Errors
    /// Where the disk does not take them.
    pub fn store(&self, bytes: &[u8]) -> Result<String> {
        self.keep(self.write(bytes)?)
    }

    /// The bytes of a digest; none where no such file is kept.
    ///
    /// # Errors
    /// Where the disk does not give them, or not as they were stored.
    pub fn read(&self, sha256: &str) -> Result<Option<Vec<u8>>> {
        let Some(mut file) = self.checked(sha256)? else { return Ok(None) };
        let mut bytes = Vec::new();
        file.read_to_end(&mut bytes)?;
        Ok(Some(bytes))
    }

    /// The file of a digest and its length, to be handed on as it is read; none where no such file is kept.
    ///
    /// # Errors
    /// Where the disk does not give it, or not as it was stored.
    pub fn open(&self, sha256: &str) -> Result<Option<(Contents, u64)>> {
        let Some(file) = self.checked(sha256)? else { return Ok(None) };
        let bytes = file.metadata()?.len();
        Ok(Some((Contents::from_std(file), bytes)))
    }

    /// A file that is as it was stored.
    fn checked(&self, sha256: &str) -> Result<Option<fs::File>> {
        let mut file = match fs::File::open(self.path(sha256)) {
            Ok(file) => file,
            Err(why) if why.kind() == io::ErrorKind::NotFound => return Ok(None),
            Err(why) => return Err(why.into()),
        };
        let mut digest = Sha256::new();
        let mut part = vec![0; 64 * 1024];
        loop {
            match file.read(&mut part)? {
                0 => break,
                bytes => digest.update(&part[..bytes]),
            }
        }
        if hex(&digest.finalize()) != sha256 {
            return Err(Error::corrupt("file", "sha256", sha256, "the file on disk has another digest"));
        }
        file.rewind()?;
        Ok(Some(file))
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
