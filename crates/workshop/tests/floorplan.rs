//! The floor plan: who may know whom, and what each room may hold.
//!
//! Each rule is a function of a file's path and text. It is run over the tree, and beside that over
//! a planted fault, to show that it can fail.

#[path = "floorplan/cards.rs"]
mod cards;
#[path = "floorplan/imports.rs"]
mod imports;
#[path = "floorplan/rooms.rs"]
mod rooms;
mod tree;

use tree::{File, Finding, files};

/// The order of the work. A station knows only what stands before it.
pub const ORDER: [&str; 13] = [
    "shelf",
    "part",
    "design",
    "moulding",
    "turning",
    "fitting",
    "bearing",
    "measuring",
    "pairing",
    "balance",
    "spin",
    "trial",
    "verdict",
];

/// Where the code of a crate stands.
pub fn source(room: &str) -> Vec<File> {
    files(&format!("crates/{room}/src"), &[".rs"])
}

/// The place of a module's station in [`ORDER`]; none outside of it.
pub fn place_in_order(module: &[String]) -> Option<usize> {
    ORDER
        .iter()
        .position(|station| module.first().is_some_and(|name| name == station))
}

/// The lines a rule names.
pub fn lines(findings: &[Finding]) -> Vec<usize> {
    findings.iter().map(|finding| finding.line).collect()
}
