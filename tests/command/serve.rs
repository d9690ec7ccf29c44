//! `witnessmark serve`: says where it is, answers there, and stops cleanly.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, ChildStdout, Command, Stdio};
use std::time::Duration;

use crate::line::witnessmark;

/// A server of its own record on a port of its own.
pub struct Served {
    child: Child,
    out: BufReader<ChildStdout>,
    /// "127.0.0.1:40213".
    pub address: String,
}

impl Served {
    pub fn from(data: &Path) -> Self {
        Self::by("serve", data)
    }

    fn by(command: &str, data: &Path) -> Self {
        let mut binary = Command::new(env!("CARGO_BIN_EXE_witnessmark"));
        Self::as_begun_by(binary.args([command, "--listen", "127.0.0.1:0", "--data"]).arg(data))
    }

    /// A command that becomes a server on a free port.
    pub fn as_begun_by(command: &mut Command) -> Self {
        let mut child = command.stdout(Stdio::piped()).spawn().expect("the binary");
        let mut out = BufReader::new(child.stdout.take().expect("its output"));
        let mut line = String::new();
        out.read_line(&mut line).expect("a line");
        let address = line.split("http://").nth(1).unwrap_or_else(|| panic!("no address in {line}"));
        let address = address.trim().trim_end_matches('/').to_owned();
        Self { child, out, address }
    }

    pub fn id(&self) -> u32 {
        self.child.id()
    }

    /// The head and body of an answer.
    pub fn get(&self, path: &str) -> String {
        let mut stream = TcpStream::connect(&self.address).expect("a server");
        write!(stream, "GET {path} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\r\n", self.address).expect("asked");
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).expect("an answer");
        String::from_utf8_lossy(&answer).into_owned()
    }

    /// Stops it as a shell or a service manager does; its exit code and what else it said.
    pub fn stop(mut self, signal: &str) -> (Option<i32>, String) {
        let sent = Command::new("kill").args([signal, &self.child.id().to_string()]).status().expect("kill");
        assert!(sent.success());
        let mut said = String::new();
        self.out.read_to_string(&mut said).expect("the rest");
        (self.child.wait().expect("an end").code(), said)
    }
}

/// Of a test that failed nothing goes on.
impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

#[test]
fn says_where_it_is_answers_and_stops_cleanly() {
    let folder = tempfile::tempdir().expect("a folder");
    for signal in ["-TERM", "-INT"] {
        let served = Served::from(&folder.path().join("shop"));
        let answer = served.get("/");
        assert!(answer.starts_with("HTTP/1.1 200"), "{answer}");
        assert!(answer.contains("<html"), "{answer}");
        assert!(served.get("/nowhere").starts_with("HTTP/1.1 404"));
        let (code, said) = served.stop(signal);
        assert_eq!(code, Some(0), "{signal}");
        assert!(said.contains(folder.path().to_str().expect("UTF-8")), "where the data lies: {said}");
        assert!(said.contains("Stopped"), "{said}");
    }
    let left = folder.path().join("shop/record.db-wal");
    assert!(!left.exists(), "everything is in the one file");
}

/// A tablet that left in the middle of a request does not keep the server from stopping.
#[test]
fn an_unfinished_request_is_not_waited_for() {
    let folder = tempfile::tempdir().expect("a folder");
    let served = Served::from(folder.path());
    let mut left = TcpStream::connect(&served.address).expect("a server");
    left.write_all(b"GET / HTTP/1.1\r\nHo").expect("half a request");
    assert!(served.get("/").starts_with("HTTP/1.1 200"), "others are served meanwhile");
    let (code, said) = served.stop("-TERM");
    assert!(code == Some(0) && said.contains("Stopped"), "{code:?} {said}");
}

/// The demonstration says also where its card was written.
#[test]
fn the_demonstration_is_laid_out_and_served() {
    let folder = tempfile::tempdir().expect("a folder");
    let served = Served::by("demo", folder.path());
    assert!(served.get("/").starts_with("HTTP/1.1 200"));
    let (code, said) = served.stop("-INT");
    assert_eq!(code, Some(0));
    let card = said.lines().find_map(|line| line.strip_prefix("Spec card: ")).expect("where the card is");
    assert!(std::fs::read(card).expect("a card").starts_with(b"%PDF-1."));
}

/// A demonstration killed midway is no shop: the next one begins anew and is whole.
#[test]
fn half_a_demonstration_is_not_taken_for_a_whole_one() {
    let folder = tempfile::tempdir().expect("a folder");
    let (data, unfinished) = (folder.path().join("shop"), folder.path().join("shop.unfinished"));
    let mut killed = Command::new(env!("CARGO_BIN_EXE_witnessmark"))
        .args(["demo", "--listen", "127.0.0.1:0", "--data"])
        .arg(&data)
        .spawn()
        .expect("the binary");
    while !unfinished.join("files").is_dir() {
        assert!(killed.try_wait().expect("its state").is_none(), "it ended by itself");
        std::thread::sleep(Duration::from_millis(5));
    }
    killed.kill().expect("killed");
    killed.wait().expect("an end");
    assert!(unfinished.is_dir() && !data.exists());

    let served = Served::by("demo", &data);
    let floor = served.get("/");
    assert_eq!(floor.matches("class=\"wall-engine\"").count(), 5, "{floor}");
    assert!(!unfinished.exists());
    served.stop("-TERM");
}

#[test]
fn a_port_in_use_fails() {
    let folder = tempfile::tempdir().expect("a folder");
    let served = Served::from(folder.path());
    let data = folder.path().join("other");
    let ran = witnessmark(&["serve", "--listen", &served.address, "--data", data.to_str().expect("UTF-8")]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains(&format!("cannot listen on {}", served.address)), "{}", ran.err);
    assert!(!data.exists(), "nothing was begun");
    served.stop("-TERM");
}

/// Others reach it only where that was said, and then by all addresses: the shop's computer is known by its loopback one.
#[test]
fn an_address_of_the_wrong_kind_is_refused_with_the_reason() {
    let folder = tempfile::tempdir().expect("a folder");
    let data = folder.path().join("shop");
    for (listen, lan, said) in [
        ("0.0.0.0:0", None, "say --lan"),
        ("192.168.1.4:8040", None, "say --lan"),
        ("127.0.0.1:8040", Some("--lan"), "--listen 0.0.0.0:8040"),
        ("192.168.1.4:8041", Some("--lan"), "--listen 0.0.0.0:8041"),
    ] {
        let arguments = ["serve", "--listen", listen, "--data", data.to_str().expect("UTF-8")];
        let ran = witnessmark(&arguments.into_iter().chain(lan).collect::<Vec<_>>());
        assert_eq!(ran.code, 2, "{listen}");
        assert!(ran.err.contains(said), "{listen}: {}", ran.err);
        assert!(!data.exists(), "nothing was begun");
    }
    assert_eq!(witnessmark(&["serve", "--listen", "here"]).code, 2);
}
