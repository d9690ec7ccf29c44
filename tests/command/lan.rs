//! `witnessmark serve --lan`: a tablet on the network is let in by the PIN, and by nothing else.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{IpAddr, TcpStream};
use std::process::{Child, ChildStdout, Command, Stdio};

/// A server that listens on all addresses.
struct Served {
    child: Child,
    out: BufReader<ChildStdout>,
    port: u16,
    code: String,
    /// What it printed until it was ready.
    said: String,
}

impl Served {
    fn new(data: &std::path::Path) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_witnessmark"))
            .args(["serve", "--lan", "--listen", "0.0.0.0:0", "--data"])
            .arg(data)
            .stdout(Stdio::piped())
            .spawn()
            .expect("the binary");
        let mut out = BufReader::new(child.stdout.take().expect("its output"));
        let mut said = String::new();
        while !said.contains("Wi-Fi") {
            assert!(out.read_line(&mut said).expect("a line") > 0, "it ended: {said}");
        }
        let after = |word: &str| said.lines().find_map(|line| line.strip_prefix(word)).expect("its line").trim();
        let port = after("Address:").trim_end_matches('/').rsplit(':').next().expect("a port");
        let port = port.parse().expect("a port");
        let code = after("Code:").chars().take("1234 5678".len()).collect();
        Self { child, out, port, code, said }
    }

    /// The answer to a request that reaches it at this address, by that address as its name.
    fn ask(&self, address: IpAddr, method: &str, path: &str, cookies: &str, body: &str) -> String {
        let host = format!("{address}:{}", self.port);
        let mut stream = TcpStream::connect((address, self.port)).expect("a server");
        write!(
            stream,
            "{method} {path} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nCookie: {cookies}\r\nConnection: close\r\n\
             Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\n\r\n{body}",
            body.len()
        )
        .expect("asked");
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).expect("an answer");
        String::from_utf8_lossy(&answer).into_owned()
    }

    fn stop(mut self) -> String {
        let sent = Command::new("kill").args(["-TERM", &self.child.id().to_string()]).status().expect("kill");
        assert!(sent.success());
        let mut said = String::new();
        self.out.read_to_string(&mut said).expect("the rest");
        assert_eq!(self.child.wait().expect("an end").code(), Some(0), "{said}");
        said
    }
}

/// Of a test that failed nothing goes on.
impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// What a browser sends back of the cookies of an answer.
fn cookies(answer: &str) -> String {
    let set = answer.lines().filter_map(|line| line.strip_prefix("set-cookie: "));
    set.filter_map(|set| set.split(';').next()).collect::<Vec<_>>().join("; ")
}

fn status(answer: &str) -> &str {
    answer.split(' ').nth(1).unwrap_or(answer)
}

#[test]
fn a_tablet_enters_the_pin_that_was_set_on_the_shops_computer() {
    let folder = tempfile::tempdir().expect("a folder");
    let served = Served::new(folder.path());
    let here = IpAddr::from([127, 0, 0, 1]);
    assert_eq!(status(&served.ask(here, "GET", "/", "", "")), "200", "the shop's computer is not asked");
    assert!(served.said.contains("sets the PIN") && served.said.contains("/shop/tablets"), "{}", served.said);

    let set =
        served.ask(here, "POST", "/shop/tablets/pin", "", &format!("proof={}&pin=2580", served.code.replace(' ', "+")));
    assert_eq!(status(&set), "303", "{set}");

    let own = if_addrs::get_if_addrs().expect("the machine's addresses").into_iter();
    let own = own.map(|interface| interface.ip()).find(|address| address.is_ipv4() && !address.is_loopback());
    if let Some(there) = own {
        let away = served.ask(there, "GET", "/", "", "");
        assert!(status(&away) == "303" && away.contains("location: /enter?back=/"), "{away}");
        assert_eq!(status(&served.ask(there, "POST", "/who/new", "", "name=Mallet")), "401");
        let refused = served.ask(there, "POST", "/enter", "", "pin=8642&back=/");
        assert_eq!(status(&refused), "422", "{refused}");
        let entered = served.ask(there, "POST", "/enter", "", "pin=2580&back=/");
        assert_eq!(status(&entered), "303", "{entered}");
        let floor = served.ask(there, "GET", "/", &cookies(&entered), "");
        assert!(status(&floor) == "200" && floor.contains("<html"), "{floor}");
        assert_eq!(status(&served.ask(there, "GET", "/shop/tablets", &cookies(&entered), "")), "403");
    } else {
        eprintln!("not tried from the network: this machine has no address but its loopback one");
    }
    let said = served.stop();
    assert!(said.contains("Stopped"), "{said}");

    let again = Served::new(folder.path());
    assert!(again.said.contains("changes the PIN if it is forgotten"), "{}", again.said);
    again.stop();
}
