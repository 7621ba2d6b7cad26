//! A browser for tests: Chromium, spoken to by the W3C WebDriver protocol.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

/// What to do when there is no browser: a missing browser is a failure, never a test passed over.
const INSTALL: &str = "the page is tested in a browser: apt-get install chromium chromium-driver \
    (scripts/check does it)";

/// Chromium with one window of a stated size; it ends with the value.
pub struct Browser {
    driver: Child,
    port: u16,
    session: String,
    _profile: tempfile::TempDir,
}

impl Browser {
    /// A fresh browser with a window of this size in CSS pixels.
    pub fn start(width: u32, height: u32) -> Self {
        assert!(
            Path::new("/usr/bin/chromium").exists(),
            "no /usr/bin/chromium: {INSTALL}"
        );
        let mut driver = Command::new("chromedriver")
            .arg("--port=0")
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap_or_else(|why| panic!("chromedriver does not start ({why}): {INSTALL}"));
        let lines = BufReader::new(driver.stdout.take().expect("standard output is piped")).lines();
        let port = lines
            .map_while(Result::ok)
            .find_map(|line| {
                line.split("successfully on port ")
                    .nth(1)?
                    .trim_end_matches('.')
                    .parse()
                    .ok()
            })
            .expect("chromedriver says its port");
        let profile = tempfile::tempdir().expect("a folder for the browser");
        let mut browser = Self {
            driver,
            port,
            session: String::new(),
            _profile: profile,
        };
        browser.open(width, height);
        browser
    }

    fn open(&mut self, width: u32, height: u32) {
        let args = [
            "--headless".to_owned(),
            "--no-sandbox".to_owned(),
            "--disable-gpu".to_owned(),
            "--disable-dev-shm-usage".to_owned(),
            "--disable-background-networking".to_owned(),
            "--disable-quic".to_owned(),
            "--no-first-run".to_owned(),
            "--disable-component-update".to_owned(),
            "--disable-sync".to_owned(),
            "--hide-scrollbars".to_owned(),
            // No name but the loopback leads anywhere: a page that reaches out would fail here.
            "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1".to_owned(),
            format!("--window-size={width},{height}"),
            format!("--user-data-dir={}", self._profile.path().display()),
        ];
        let asked = json!({ "capabilities": { "alwaysMatch": {
            "browserName": "chrome",
            "goog:chromeOptions": { "binary": "/usr/bin/chromium", "args": args },
            "goog:loggingPrefs": { "browser": "ALL" },
        } } });
        let session = self.send("POST", "/session", &asked);
        self.session = session["sessionId"].as_str().expect("a session").to_owned();
        // The window's outside is not its inside: the view is set, not the frame.
        self.command(
            "Emulation.setDeviceMetricsOverride",
            json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false }),
        );
    }

    fn send(&self, method: &str, path: &str, body: &Value) -> Value {
        let body = if method != "POST" {
            String::new()
        } else {
            body.to_string()
        };
        let mut stream =
            TcpStream::connect(("127.0.0.1", self.port)).expect("chromedriver answers");
        stream
            .set_read_timeout(Some(Duration::from_secs(180)))
            .expect("a time limit");
        let head = format!(
            "{method} {path} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nConnection: close\r\nContent-Type: application/json\r\nContent-Length: {}\r\n\r\n",
            self.port,
            body.len()
        );
        stream.write_all(head.as_bytes()).expect("a head is sent");
        stream.write_all(body.as_bytes()).expect("a body is sent");
        let mut reader = BufReader::new(stream);
        let mut length = 0;
        loop {
            let mut line = String::new();
            reader.read_line(&mut line).expect("a head comes back");
            let line = line.trim_end().to_lowercase();
            if let Some(said) = line.strip_prefix("content-length:") {
                length = said.trim().parse().expect("a length");
            }
            if line.is_empty() {
                break;
            }
        }
        let mut text = vec![0; length];
        reader.read_exact(&mut text).expect("a body comes back");
        let reply: Value = serde_json::from_slice(&text).expect("JSON");
        let value = reply["value"].clone();
        assert!(value.get("error").is_none(), "{method} {path}: {value}");
        value
    }

    fn of_session(&self, method: &str, path: &str, body: &Value) -> Value {
        self.send(method, &format!("/session/{}{path}", self.session), body)
    }

    fn command(&self, name: &str, with: Value) -> Value {
        self.of_session(
            "POST",
            "/goog/cdp/execute",
            &json!({ "cmd": name, "params": with }),
        )
    }

    /// Opens an address and waits until it is loaded.
    pub fn go(&self, address: &str) {
        self.of_session("POST", "/url", &json!({ "url": address }));
    }

    /// What a script gives; it ends with `return`.
    pub fn run(&self, script: &str) -> Value {
        self.of_session(
            "POST",
            "/execute/sync",
            &json!({ "script": script, "args": [] }),
        )
    }

    /// Waits until a script gives `true`.
    pub fn wait(&self, what: &str, script: &str) {
        let start = Instant::now();
        while self.run(script) != Value::Bool(true) {
            assert!(
                start.elapsed() < Duration::from_secs(120),
                "waited in vain: {what}"
            );
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    /// Everything the console was told since it was asked last.
    pub fn console(&self) -> Vec<String> {
        let log = self.of_session("POST", "/se/log", &json!({ "type": "browser" }));
        let lines = log.as_array().cloned().unwrap_or_default();
        lines
            .iter()
            .map(|line| line["message"].as_str().unwrap_or_default().to_owned())
            .collect()
    }

    /// Light or dark, as the person's system would say.
    pub fn prefer(&self, scheme: &str) {
        let features = json!([{ "name": "prefers-color-scheme", "value": scheme }]);
        self.command(
            "Emulation.setEmulatedMedia",
            json!({ "features": features }),
        );
    }

    /// The whole page as PNG, in base 64.
    pub fn picture(&self) -> String {
        let shot = self.command(
            "Page.captureScreenshot",
            json!({ "captureBeyondViewport": true }),
        );
        shot["data"].as_str().expect("a picture").to_owned()
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        if !self.session.is_empty() && !std::thread::panicking() {
            self.of_session("DELETE", "", &Value::Null);
        }
        self.driver.kill().unwrap_or_default();
        self.driver.wait().map(|_| ()).unwrap_or_default();
    }
}
