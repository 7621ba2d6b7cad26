//! What the tests of command and page share: running the program, and asking its page.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

/// The folder of the project.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// The program, to be run in a folder.
pub fn program(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_whirlwright"));
    command.current_dir(folder).env_remove("RUST_BACKTRACE");
    command
}

/// A page being served; it ends with the value.
pub struct Served {
    child: Child,
    /// Host and port, such as `127.0.0.1:40123`.
    pub host: String,
}

impl Served {
    /// Serves the record `ledger.db` of a folder on any free port.
    pub fn start(folder: &Path) -> Self {
        let mut child = program(folder)
            .args(["serve", "--port", "0", "--format", "json"])
            .stdout(Stdio::piped())
            .spawn()
            .expect("the program starts");
        let mut told = String::new();
        let mut lines = BufReader::new(child.stdout.take().expect("standard output is piped"));
        while !told.contains('}') {
            let read = lines.read_line(&mut told).expect("the program says where its page is");
            assert!(read > 0, "the page did not start: {told}");
        }
        let told: serde_json::Value = serde_json::from_str(&told).expect("JSON");
        let address = told["address"].as_str().expect("an address");
        let host = address.strip_prefix("http://").expect("an address of this machine").to_owned();
        Self { child, host }
    }

    /// Sends one request and gives status, head and body.
    pub fn ask(&self, method: &str, path: &str, headers: &[(&str, &str)], body: &[u8]) -> Reply {
        let mut stream = TcpStream::connect(&self.host).expect("the page answers");
        stream.set_read_timeout(Some(Duration::from_secs(120))).expect("a time limit");
        let mut head = format!("{method} {path} HTTP/1.1\r\nConnection: close\r\nContent-Length: {}\r\n", body.len());
        if !headers.iter().any(|(name, _)| *name == "Host") {
            head += &format!("Host: {}\r\n", self.host);
        }
        for (name, value) in headers {
            head += &format!("{name}: {value}\r\n");
        }
        head += "\r\n";
        stream.write_all(head.as_bytes()).expect("the head is sent");
        // A page that refuses by the head alone may close before the body is through.
        stream.write_all(body).unwrap_or_default();
        let mut reply = Vec::new();
        stream.read_to_end(&mut reply).expect("the reply ends");
        Reply::of(&reply)
    }

    /// Reads a page.
    pub fn get(&self, path: &str) -> Reply {
        self.ask("GET", path, &[], b"")
    }

    /// Sends a form as this program's own page would.
    pub fn post(&self, path: &str, form: &str) -> Reply {
        let origin = format!("http://{}", self.host);
        let headers =
            [("Origin", origin.as_str()), ("Content-Type", "application/x-www-form-urlencoded")];
        self.ask("POST", path, &headers, form.as_bytes())
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        self.child.kill().unwrap_or_default();
        self.child.wait().map(|_| ()).unwrap_or_default();
    }
}

/// What came back.
pub struct Reply {
    pub status: u16,
    pub head: String,
    pub body: String,
}

impl Reply {
    fn of(bytes: &[u8]) -> Self {
        let text = String::from_utf8_lossy(bytes);
        let (head, body) = text.split_once("\r\n\r\n").expect("a head and a body");
        let status = head.split(' ').nth(1).and_then(|s| s.parse().ok()).expect("a status");
        Self { status, head: head.to_lowercase(), body: body.to_owned() }
    }
}
