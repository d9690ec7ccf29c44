//! The built program, running on a shop of its own.

use std::fs::{self, File};
use std::io;
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use axum::body::{Body, to_bytes};
use axum::http::Uri;
use hyper_util::client::legacy::Client;
use hyper_util::rt::TokioExecutor;
use tempfile::TempDir;
use tokio::sync::OnceCell;

/// A running `witnessmark`, ended when it is dropped.
pub struct Shop {
    process: Child,
    pub address: String,
    folder: TempDir,
}

impl Shop {
    /// A shop with an empty record.
    pub async fn empty() -> Self {
        Self::start(&["serve"], "127.0.0.1", |folder| folder.join("data")).await
    }

    /// The same, reached from the network too.
    pub async fn on_the_network() -> Self {
        Self::start(&["serve", "--lan"], "0.0.0.0", |folder| folder.join("data")).await
    }

    /// The code that it printed, by which its PIN is set.
    pub fn code(&self) -> String {
        let said = said(self.folder.path());
        let code = said.lines().find_map(|line| line.strip_prefix("Code:")).expect("a code");
        code.trim().chars().take("1234 5678".len()).collect()
    }

    /// Its address for a tablet; none where this machine is on no network.
    pub fn address_on_the_network(&self) -> Option<String> {
        let own = if_addrs::get_if_addrs().ok()?.into_iter().map(|interface| interface.ip());
        let there = own.into_iter().find(|address| address.is_ipv4() && !address.is_loopback())?;
        let port = self.address.rsplit(':').next()?;
        Some(format!("http://{there}:{port}"))
    }

    /// The demonstration shop, laid out once for all tests, each of which has a copy to itself.
    pub async fn demonstration() -> Self {
        static LAID_OUT: OnceCell<PathBuf> = OnceCell::const_new();
        let original = LAID_OUT.get_or_init(lay_out).await;
        Self::start(&["serve"], "127.0.0.1", |folder| {
            copy(original, &folder.join("data")).expect("a copy of the demonstration shop");
            folder.join("data")
        })
        .await
    }

    /// Starts it on the data that lie where `data` says, given a folder of the shop's own.
    async fn start(command: &[&str], listen: &str, data: impl FnOnce(&Path) -> PathBuf) -> Self {
        let folder = tempfile::tempdir().expect("a folder for the shop");
        let port = free_port();
        let said = File::create(folder.path().join("said")).expect("a file for what it says");
        let process = Command::new(env!("CARGO_BIN_EXE_witnessmark"))
            .args(command)
            .arg("--data")
            .arg(data(folder.path()))
            .args(["--listen", &format!("{listen}:{port}")])
            .stdin(Stdio::null())
            .stdout(said.try_clone().expect("the same file"))
            .stderr(said)
            .spawn()
            .expect("the built program");
        let mut shop = Self { process, address: format!("http://127.0.0.1:{port}"), folder };
        shop.listens(port).await;
        shop
    }

    /// Where a file of this shop's own can lie.
    pub fn file(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// A job's whole record, as its command writes it.
    pub fn export(&self, job: i64) -> serde_json::Value {
        let written = Command::new(env!("CARGO_BIN_EXE_witnessmark"))
            .args(["export", &job.to_string(), "--data"])
            .arg(self.folder.path().join("data"))
            .output()
            .expect("the built program");
        assert!(written.status.success(), "{}", String::from_utf8_lossy(&written.stderr));
        serde_json::from_slice(&written.stdout).expect("a document")
    }

    /// What it holds in memory now, in MB; none where the system does not say.
    pub fn megabytes(&self) -> Option<f64> {
        let status = fs::read_to_string(format!("/proc/{}/status", self.process.id())).ok()?;
        let kilobytes: f64 =
            status.lines().find_map(|line| line.strip_prefix("VmRSS:"))?.trim().split(' ').next()?.parse().ok()?;
        Some(kilobytes / 1000.0)
    }

    /// What lies at an address, byte for byte.
    pub async fn bytes(&self, path: &str) -> Vec<u8> {
        let address: Uri = format!("{}{path}", self.address).parse().expect("an address");
        let client = Client::builder(TokioExecutor::new()).build_http::<Body>();
        let answer = client.get(address).await.unwrap_or_else(|error| panic!("{path}: {error}"));
        assert!(answer.status().is_success(), "{path}: {}", answer.status());
        to_bytes(Body::new(answer.into_body()), usize::MAX).await.expect("a whole answer").into()
    }

    /// Waits until it takes connections; it may take a while until the first of them is answered.
    async fn listens(&mut self, port: u16) {
        for _ in 0..600 {
            if TcpStream::connect(("127.0.0.1", port)).is_ok() {
                return;
            }
            if let Ok(Some(status)) = self.process.try_wait() {
                panic!("the program ended with {status}:\n{}", said(self.folder.path()));
            }
            tokio::time::sleep(Duration::from_millis(100)).await;
        }
        panic!("the program does not listen:\n{}", said(self.folder.path()));
    }
}

/// The demonstration shop as its command lays it out: it stands when the first page is answered.
async fn lay_out() -> PathBuf {
    let data = Path::new(env!("CARGO_TARGET_TMPDIR")).join("demonstration");
    let _ = fs::remove_dir_all(&data);
    let shop = Shop::start(&["demo"], "127.0.0.1", |_| data.clone()).await;
    shop.bytes("/").await;
    data
}

fn copy(from: &Path, to: &Path) -> io::Result<()> {
    fs::create_dir_all(to)?;
    for entry in fs::read_dir(from)? {
        let entry = entry?;
        let there = to.join(entry.file_name());
        if entry.file_type()?.is_dir() {
            copy(&entry.path(), &there)?;
        } else {
            match fs::copy(entry.path(), there) {
                // The database clears its own working files away.
                Err(gone) if gone.kind() == io::ErrorKind::NotFound => {}
                copied => drop(copied?),
            }
        }
    }
    Ok(())
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
