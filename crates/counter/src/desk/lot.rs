//! Lots: what came in, what is known of it, and where each part went.

use std::path::{Path, PathBuf};

use serde::Serialize;
use whirlwright_ledger::{Import, ImportReceipt, ImportRow, Ledger, Reading as LedgerReading};
use whirlwright_workshop::measuring::{MeasuringBody, Windows, look_over};
use whirlwright_workshop::part::record::{LotLine, LotRecord, SetRecord, SetState, Trace, Written};
use whirlwright_workshop::part::{Answer, Kind, LotPart, Verdict};

use super::reading::{self, Reading, Taken};
use super::record::{self, PROGRAM};
use crate::error::Trouble;
use crate::keep;
use crate::read::table::{Finding, Row, table_of_parts, to_csv, to_xlsx};

/// Every lot of the record, in the order they began.
///
/// # Errors
/// There is no record, or it cannot be read.
pub async fn list(ledger: &Path) -> Result<Vec<LotLine>, Trouble> {
    Ok(record::open(ledger).await?.lots().await?)
}

/// A lot as the record knows it, and how its masses spread.
#[derive(Debug, Clone, Serialize)]
pub struct LotSight {
    /// What the record holds.
    #[serde(flatten)]
    pub record: LotRecord,
    /// How the masses spread by kind and origin, and what should be weighed again.
    pub measuring: Answer<MeasuringBody>,
}

/// One lot.
///
/// # Errors
/// No such lot.
pub async fn show(ledger: &Ledger, name: &str, windows: &Windows) -> Result<LotSight, Trouble> {
    let record = ledger.lot(name).await?;
    let parts = every_part(ledger, &record).await?;
    let mut measuring = look_over(&parts, windows);
    let good = |set: &&SetRecord| matches!(set.state, SetState::Good);
    let standing = record.sets.iter().filter(good).count();
    // A look at the masses cannot know that the lot has been paired already.
    if standing > 0 && measuring.verdict == Verdict::Good {
        measuring.next = vec![format!(
            "print the pick list of the {standing} recorded sets"
        )];
    }
    Ok(LotSight { measuring, record })
}

async fn every_part(ledger: &Ledger, record: &LotRecord) -> Result<Vec<LotPart>, Trouble> {
    let mut parts = Vec::new();
    for kind in &record.kinds {
        parts.extend(ledger.parts(&record.lot, kind.kind).await?);
    }
    Ok(parts)
}

/// Files to bring into a lot.
#[derive(Debug, Clone, Default)]
pub struct Incoming {
    /// Each file with the kind of part it lists.
    pub files: Vec<(Kind, PathBuf)>,
    /// These are new weighings of parts that may be in the lot already.
    pub again: bool,
    /// How to read them.
    pub reading: Reading,
}

/// What came of bringing files in.
#[derive(Debug, Clone, Serialize)]
pub struct Imported {
    /// One receipt a file, in the order they were named.
    pub receipts: Vec<ImportReceipt>,
    /// How the files were understood.
    pub remarks: Vec<String>,
    /// Readings that were taken and should be looked at.
    pub flags: Vec<Finding>,
    /// Rows that were left out because the person said so.
    pub refused: Vec<Finding>,
}

/// Brings files into a lot: all of a file or nothing of it.
///
/// # Errors
/// A file was refused, or contradicts what the lot holds.
pub async fn import(
    ledger: &Path,
    name: &str,
    incoming: &Incoming,
    windows: &Windows,
) -> Result<Imported, Trouble> {
    let read = |(kind, path): &(Kind, PathBuf)| incoming.reading.file(path, *kind, windows);
    // All files are read before the record is touched, so a fault in the second stops the first.
    let taken = reading::all(incoming.files.iter().map(read).collect())?;
    let ledger = record::open_or_begin(ledger).await?;
    let imported = bring(&ledger, name, taken, incoming.again).await;
    ledger.close().await;
    imported
}

/// Brings files that were read into a lot.
///
/// # Errors
/// A file contradicts what the lot holds, or the record cannot be written.
pub async fn bring(
    ledger: &Ledger,
    name: &str,
    taken: Vec<Taken>,
    again: bool,
) -> Result<Imported, Trouble> {
    let mut imported = Imported {
        receipts: Vec::new(),
        remarks: Vec::new(),
        flags: Vec::new(),
        refused: Vec::new(),
    };
    for Taken { file, bytes } in taken {
        let import = Import {
            lot: name.to_owned(),
            kind: file.kind,
            file_name: file.file,
            raw_bytes: bytes,
            rows: file
                .parts
                .into_iter()
                .zip(file.rows)
                .map(import_row)
                .collect::<Result<_, _>>()?,
            again,
            at: record::now(),
            program: PROGRAM.to_owned(),
        };
        imported.receipts.push(ledger.import(&import).await?);
        imported.remarks.extend(file.remarks);
        imported.flags.extend(file.flags);
        imported.refused.extend(file.refused);
    }
    Ok(imported)
}

fn import_row((part, row): (LotPart, Row)) -> Result<ImportRow, Trouble> {
    let reading = |r: crate::read::table::Reading| {
        Ok(LedgerReading {
            quantity: r
                .quantity
                .parse()
                .map_err(|e| Trouble::Ours(format!("{e}")))?,
            text: r.text,
            value: r.value,
            unit: r.unit,
            instrument: r.instrument,
        })
    };
    Ok(ImportRow {
        line: u32::try_from(row.line).unwrap_or(u32::MAX),
        raw_text: row.raw_text,
        part,
        readings: row
            .readings
            .into_iter()
            .map(reading)
            .collect::<Result<_, Trouble>>()?,
        operator: row.operator,
        noted_at: row.weighed_at,
    })
}

/// Everything the record knows of one part.
///
/// # Errors
/// No such part, or it stands in several lots.
pub async fn trace(ledger: &Path, serial: &str, lot: Option<&str>) -> Result<Trace, Trouble> {
    Ok(record::open(ledger).await?.trace(serial, lot).await?)
}

/// Gives a set up: its parts are free again, its number is never used again.
///
/// # Errors
/// No such set, or it is void already.
pub async fn void(ledger: &Path, lot: &str, set: u32, reason: &str) -> Result<Written, Trouble> {
    if reason.trim().is_empty() {
        return Err(Trouble::Input(
            "a set is given up for a reason: say it with --reason".to_owned(),
        ));
    }
    let ledger = record::open(ledger).await?;
    Ok(ledger
        .void_set(lot, set, reason.trim(), PROGRAM, &record::now())
        .await?)
}

/// Writes the parts of a lot with their latest readings, one file a kind; each can be read back in.
///
/// # Errors
/// No such lot or no such parts in it, a file name that is neither CSV nor XLSX, or a file that
/// cannot be written.
pub async fn export(
    ledger: &Path,
    lot: &str,
    files: &[(Kind, PathBuf)],
) -> Result<Vec<PathBuf>, Trouble> {
    let ledger = record::open(ledger).await?;
    let mut written = Vec::new();
    for (kind, path) in files {
        let parts = ledger.parts(lot, *kind).await?;
        if parts.is_empty() {
            let kind = whirlwright_paper::words::kinds(*kind);
            return Err(Trouble::NotFound(format!(
                "there are no {kind} in lot {lot}"
            )));
        }
        let table = table_of_parts(*kind, &parts);
        let ending = path.extension().map(|e| e.to_string_lossy().to_lowercase());
        let bytes = match ending.as_deref() {
            Some("csv") => to_csv(&table),
            Some("xlsx") => to_xlsx(&table, "parts"),
            _ => {
                let read = path.display();
                return Err(Trouble::Input(format!(
                    "{read}: the name ends in neither .csv nor .xlsx"
                )));
            }
        };
        let bytes = bytes.map_err(|why| Trouble::Ours(why.to_string()))?;
        written.push(keep::write(path, &bytes)?);
    }
    Ok(written)
}
