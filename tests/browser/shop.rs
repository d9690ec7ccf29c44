//! The built program, running on a shop of its own.

use std::fs::{self, File};
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use tempfile::TempDir;

/// A running `witnessmark`, ended when it is dropped.
pub struct Shop {
    process: Child,
    pub address: String,
    folder: TempDir,
}

impl Shop {
    /// A shop with an empty record.
    pub async fn empty() -> Self {
        Self::start("serve").await
    }

    async fn start(command: &str) -> Self {
        let folder = tempfile::tempdir().expect("a folder for the shop");
        let port = free_port();
        let said = File::create(folder.path().join("said")).expect("a file for what it says");
        let process = Command::new(env!("CARGO_BIN_EXE_witnessmark"))
            .arg(command)
            .arg("--data")
            .arg(folder.path().join("data"))
            .args(["--listen", &format!("127.0.0.1:{port}")])
            .stdin(Stdio::null())
            .stdout(said.try_clone().expect("the same file"))
            .stderr(said)
            .spawn()
            .expect("the built program");
        let mut shop = Self { process, address: format!("http://127.0.0.1:{port}"), folder };
        shop.answers(port).await;
        shop
    }

    /// Where a file of this shop's own can lie.
    pub fn file(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Waits until it answers; laying out the demonstration takes a while in a build that is not optimised.
    async fn answers(&mut self, port: u16) {
        for _ in 0..600 {
            if TcpStream::connect(("127.0.0.1", port)).is_ok() {
                return;
            }
            if let Ok(Some(status)) = self.process.try_wait() {
                panic!("the program ended with {status}:\n{}", said(self.folder.path()));
            }
            tokio::time::sleep(Duration::from_millis(100)).await;
        }
        panic!("the program does not answer:\n{}", said(self.folder.path()));
    }
}

impl Drop for Shop {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

fn said(folder: &Path) -> String {
    fs::read_to_string(folder.join("said")).unwrap_or_default()
}

/// A port that nobody listens on now.
fn free_port() -> u16 {
    let listener = TcpListener::bind("127.0.0.1:0").expect("a free port");
    listener.local_addr().expect("its address").port()
}
