//! Asking a page without a browser: plain HTTP over a socket.

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::Duration;

use super::common::Served;

impl Served {
    /// Sends one request and gives status, head and body.
    pub fn ask(&self, method: &str, path: &str, headers: &[(&str, &str)], body: &[u8]) -> Reply {
        let mut stream = TcpStream::connect(&self.host).expect("the page answers");
        stream
            .set_read_timeout(Some(Duration::from_secs(120)))
            .expect("a time limit");
        let mut head = format!(
            "{method} {path} HTTP/1.1\r\nConnection: close\r\nContent-Length: {}\r\n",
            body.len()
        );
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
        let headers = [
            ("Origin", origin.as_str()),
            ("Content-Type", "application/x-www-form-urlencoded"),
        ];
        self.ask("POST", path, &headers, form.as_bytes())
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
        let status = head
            .split(' ')
            .nth(1)
            .and_then(|s| s.parse().ok())
            .expect("a status");
        Self {
            status,
            head: head.to_lowercase(),
            body: body.to_owned(),
        }
    }
}
