//! The example workshop in a new folder, with the main job done.

use std::path::{Path, PathBuf};

use serde::Serialize;
use whirlwright_ledger::{Ledger, Recorded};
use whirlwright_paper::{picture, spread};
use whirlwright_workshop::design::SectionBody;
use whirlwright_workshop::measuring::MeasuringBody;
use whirlwright_workshop::pairing::{PairBody, Progress};
use whirlwright_workshop::part::{Answer, Job, Kind};

use super::lot::{self, Imported, Incoming};
use super::question::Question;
use super::sheets::{self, Sheet};
use super::wish::Wish;
use super::{job, pair, record, section, sets, spin};
use crate::error::Trouble;
use crate::keep;

/// What lies in the example folder, as it travels inside the program.
const FILES: [(&str, &[u8]); 18] = [
    (
        "dunlin.toml",
        include_bytes!("../../../../examples/first_lot/dunlin.toml"),
    ),
    (
        "halves.csv",
        include_bytes!("../../../../examples/first_lot/halves.csv"),
    ),
    (
        "rims.csv",
        include_bytes!("../../../../examples/first_lot/rims.csv"),
    ),
    (
        "rims_heavy.csv",
        include_bytes!("../../../../examples/first_lot/rims_heavy.csv"),
    ),
    (
        "dressed.csv",
        include_bytes!("../../../../examples/first_lot/dressed.csv"),
    ),
    (
        "throw_dry_1.csv",
        include_bytes!("../../../../examples/first_lot/throw_dry_1.csv"),
    ),
    (
        "throw_dry_2.csv",
        include_bytes!("../../../../examples/first_lot/throw_dry_2.csv"),
    ),
    (
        "throw_dry_3.csv",
        include_bytes!("../../../../examples/first_lot/throw_dry_3.csv"),
    ),
    (
        "throw_oiled_1.csv",
        include_bytes!("../../../../examples/first_lot/throw_oiled_1.csv"),
    ),
    (
        "throw_oiled_2.csv",
        include_bytes!("../../../../examples/first_lot/throw_oiled_2.csv"),
    ),
    (
        "throw_oiled_3.csv",
        include_bytes!("../../../../examples/first_lot/throw_oiled_3.csv"),
    ),
    (
        "hold_study.csv",
        include_bytes!("../../../../examples/first_lot/hold_study.csv"),
    ),
    (
        "bearings.csv",
        include_bytes!("../../../../examples/first_lot/bearings.csv"),
    ),
    (
        "readings.toml",
        include_bytes!("../../../../examples/first_lot/readings.toml"),
    ),
    (
        "readings_no_phase.toml",
        include_bytes!("../../../../examples/first_lot/readings_no_phase.toml"),
    ),
    (
        "tracked.json",
        include_bytes!("../../../../examples/first_lot/tracked.json"),
    ),
    (
        "README.md",
        include_bytes!("../../../../examples/first_lot/README.md"),
    ),
    (
        "coins.csv",
        include_bytes!("../../../../examples/coins/coins.csv"),
    ),
];
const JOB: &str = "dunlin.toml";
const LEDGER: &str = "ledger.db";
const RECORDING: &str = "spin.wav";
const LOT: &str = "D26";

/// What the demo did.
#[derive(Debug, Clone, Serialize)]
pub struct Demo {
    /// The new folder.
    pub folder: PathBuf,
    /// The example's lot.
    pub lot: String,
    /// The design.
    pub section: Answer<SectionBody>,
    /// What came in.
    pub imported: Imported,
    /// How the masses spread.
    pub measuring: Answer<MeasuringBody>,
    /// Who goes with whom.
    pub pairing: Answer<PairBody>,
    /// The receipt of the record.
    pub recorded: Recorded,
    /// Files in the folder that were made from the answers.
    pub written: Vec<String>,
    /// The command that opens the page.
    pub open: String,
}

/// Makes the example workshop and does its main job: section, lot in, pairing, record, sheets.
///
/// The folder appears whole or not at all.
///
/// # Errors
/// The folder holds something already or cannot be made.
pub async fn demo(
    folder: &Path,
    stop: impl Fn(Progress) -> bool + Send + 'static,
) -> Result<Demo, Trouble> {
    refuse_a_full_one(folder)?;
    let parent = match folder.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let wrong = |e: std::io::Error| Trouble::file(folder, "make", &e);
    std::fs::create_dir_all(parent).map_err(wrong)?;
    let room = tempfile::Builder::new()
        .prefix(".whirlwright-")
        .tempdir_in(parent)
        .map_err(wrong)?;
    let mut demo = work(room.path(), stop).await?;
    keep::move_folder(room, folder)?;
    folder.clone_into(&mut demo.folder);
    demo.open = format!(
        "whirlwright serve --ledger {}",
        folder.join(LEDGER).display()
    );
    Ok(demo)
}

fn refuse_a_full_one(folder: &Path) -> Result<(), Trouble> {
    let full = match std::fs::read_dir(folder) {
        Ok(mut entries) => entries.next().is_some(),
        Err(_) => folder.exists(),
    };
    if full {
        return Err(Trouble::Conflict(format!(
            "{} is not an empty folder, and nothing in it is touched; name a new one: whirlwright demo FOLDER",
            folder.display()
        )));
    }
    Ok(())
}

async fn work(
    room: &Path,
    stop: impl Fn(Progress) -> bool + Send + 'static,
) -> Result<Demo, Trouble> {
    for (name, bytes) in FILES {
        keep::write(&room.join(name), bytes)?;
    }
    keep::write(&room.join(RECORDING), &spin::rehearsal::recording()?)?;
    let job_path = room.join(JOB);
    let design = section::section(&section::Request {
        job: job_path.clone(),
        ..Default::default()
    })?;
    let job = job::read(&job_path)?;
    let ledger_path = room.join(LEDGER);
    let incoming = Incoming {
        files: vec![
            (Kind::Half, room.join("halves.csv")),
            (Kind::Rim, room.join("rims.csv")),
        ],
        ..Incoming::default()
    };
    let imported = lot::import(&ledger_path, LOT, &incoming, &job::windows(Some(&job))).await?;
    let ledger = record::open(&ledger_path).await?;
    let measuring = lot::show(&ledger, LOT, &job::windows(Some(&job)))
        .await?
        .measuring;
    let (pairing, recorded) = pair_and_record(&ledger, &job, &job_path, stop).await?;
    ledger.close().await;
    let written = sheets(room, &job, &design.answer, &measuring, &pairing)?;
    Ok(Demo {
        folder: room.to_owned(),
        lot: LOT.to_owned(),
        section: design.answer,
        imported,
        measuring,
        pairing,
        recorded,
        written,
        open: String::new(),
    })
}

async fn pair_and_record(
    ledger: &Ledger,
    job: &Job,
    path: &Path,
    stop: impl Fn(Progress) -> bool + Send + 'static,
) -> Result<(Answer<PairBody>, Recorded), Trouble> {
    let wish = Wish {
        recut: true,
        ..Wish::default()
    };
    let read_at = ledger.lot(LOT).await?.read_at;
    let parts = pair::of_lot(ledger, LOT, true).await?;
    let mut answer = pair::ask(Question::new(parts, &wish, Some((job, path)), true)?, stop).await?;
    let recorded = sets::record(ledger, LOT, &mut answer, &wish, Some(read_at)).await?;
    Ok((answer, recorded))
}

/// Writes the sheets and pictures, and names them.
fn sheets(
    room: &Path,
    job: &Job,
    section: &Answer<SectionBody>,
    measuring: &Answer<MeasuringBody>,
    pairing: &Answer<PairBody>,
) -> Result<Vec<String>, Trouble> {
    let head = sheets::head(LOT, Some(job));
    let mut files = Vec::new();
    for sheet in Sheet::ALL {
        files.push((sheet.file(), sheet.pdf(pairing, &head)?));
    }
    let pictures = [
        ("section.svg", picture::cut(&section.body)),
        (
            "masses.svg",
            picture::distribution(&spread::of_measuring(&measuring.body)),
        ),
        ("sets.svg", picture::pairing(&pairing.body)),
    ];
    files.extend(pictures.map(|(name, svg)| (name, svg.into_bytes())));
    for (name, bytes) in &files {
        keep::write(&room.join(name), bytes)?;
    }
    Ok(files.into_iter().map(|(name, _)| name.to_owned()).collect())
}
