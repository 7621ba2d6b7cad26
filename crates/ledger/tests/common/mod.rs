//! A small invented lot, and the handles the tests of the ledger share.
#![allow(dead_code, reason = "each test file uses its own share of these")]

use std::path::PathBuf;

use serde_json::{Map, json};
use tempfile::TempDir;
use whirlwright_ledger::{Import, ImportRow, Ledger, Moment, NewSet, Sets};
use whirlwright_workshop::part::record::Member;
use whirlwright_workshop::part::{Kind, LotPart, Role};

pub const PROGRAM: &str = "0.1.0";

/// A folder that goes when the test ends, and a path in it.
pub fn place() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("ledger.db");
    (folder, path)
}

pub async fn fresh() -> (TempDir, Ledger) {
    let (folder, path) = place();
    let ledger = Ledger::open(&path).await.unwrap();
    (folder, ledger)
}

/// Minutes past eight on the third of March.
pub fn at(minute: u32) -> Moment {
    let (hour, minute) = (8 + minute / 60, minute % 60);
    Moment::parse(&format!("2026-03-03T{hour:02}:{minute:02}:00+01:00")).unwrap()
}

pub fn part(serial: &str, kind: Kind, mass_g: &str) -> LotPart {
    let mut part = LotPart::new(serial, kind);
    part.mass_g = Some(mass_g.parse().unwrap());
    part
}

/// A file of parts as it would be handed in; `origin` is the second column.
pub fn file(lot: &str, name: &str, parts: &[LotPart]) -> Import {
    let mut text = "serial,origin,mass_g\n".to_owned();
    let mut rows = Vec::new();
    for (index, part) in parts.iter().enumerate() {
        let origin = part.origin.as_deref().unwrap_or_default();
        let mass = part.mass_g.map(|mass| mass.to_string()).unwrap_or_default();
        let line = format!("{},{origin},{mass}", part.serial);
        text.push_str(&line);
        text.push('\n');
        rows.push(ImportRow::from_part(
            u32::try_from(index).unwrap() + 2,
            line,
            part.clone(),
        ));
    }
    Import {
        lot: lot.to_owned(),
        kind: parts.first().map_or(Kind::Half, |part| part.kind),
        file_name: name.to_owned(),
        raw_bytes: text.into_bytes(),
        rows,
        again: false,
        at: at(0),
        program: PROGRAM.to_owned(),
    }
}

/// Four halves, as they came from four cavities.
pub fn halves() -> Vec<LotPart> {
    let masses = ["10.70", "10.77", "10.81", "10.83"];
    let half = |(index, mass): (usize, &str)| {
        let mut half = part(&format!("D26-H{:04}", index + 1), Kind::Half, mass);
        half.origin = Some((index % 4 + 1).to_string());
        half
    };
    masses.into_iter().enumerate().map(half).collect()
}

pub fn new_set(left: &str, right: &str) -> NewSet {
    let mut differences = Map::new();
    differences.insert("mass_difference_g".to_owned(), json!(0.02));
    let member = |role, serial: &str| Member {
        role,
        serial: serial.to_owned(),
    };
    NewSet {
        number: None,
        members: vec![member(Role::Left, left), member(Role::Right, right)],
        cost: 4.0,
        differences,
    }
}

pub fn sets(lot: &str, minute: u32, sets: Vec<NewSet>) -> Sets {
    Sets {
        lot: lot.to_owned(),
        what: "pair".to_owned(),
        answer: json!({"station": "pairing", "total_cost": 4}),
        options: json!({"mass_within": "0.1 g"}),
        program: PROGRAM.to_owned(),
        at: at(minute),
        read_at: None,
        sets,
    }
}
