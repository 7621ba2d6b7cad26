//! What the tests of command and page share: running the program, and asking its page.
#![allow(dead_code, reason = "each test file uses its own part of this")]

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

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
            let read = lines
                .read_line(&mut told)
                .expect("the program says where its page is");
            assert!(read > 0, "the page did not start: {told}");
        }
        let told: serde_json::Value = serde_json::from_str(&told).expect("JSON");
        let address = told["address"].as_str().expect("an address");
        let host = address
            .strip_prefix("http://")
            .expect("an address of this machine")
            .to_owned();
        Self { child, host }
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        self.child.kill().unwrap_or_default();
        self.child.wait().map(|_| ()).unwrap_or_default();
    }
}
