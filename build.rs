//! Makes the database that sqlx checks every query against, from the migrations, and nothing else.

use sqlx::ConnectOptions;
use sqlx::migrate::Migrator;
use sqlx::sqlite::SqliteConnectOptions;
use std::path::{Path, PathBuf};

#[allow(clippy::disallowed_methods, reason = "a build script is told by the environment where to write")]
fn main() -> Result<(), Box<dyn std::error::Error>> {
    println!("cargo:rerun-if-changed=migrations");
    let file = PathBuf::from(std::env::var("OUT_DIR")?).join("schema.db");
    if file.exists() {
        std::fs::remove_file(&file)?;
    }
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;
    runtime.block_on(async {
        let mut connection = SqliteConnectOptions::new().filename(&file).create_if_missing(true).connect().await?;
        Migrator::new(Path::new("migrations")).await?.run_direct(None, &mut connection, false).await?;
        Ok::<_, Box<dyn std::error::Error>>(())
    })?;
    println!("cargo:rustc-env=DATABASE_URL=sqlite://{}", file.display());
    Ok(())
}
