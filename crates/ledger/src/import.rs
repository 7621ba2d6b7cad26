//! Files of parts come in: all of one or nothing.

use std::collections::HashMap;

use sha2::{Digest, Sha256};
use sqlx::SqliteConnection;
use whirlwright_workshop::part::record::Written;

use crate::compare::{Verdict, compare};
use crate::parts::{Held, Wanted, held};
use crate::words::{enter, kind_of, kind_word, lot_id, written};
use crate::write_rows::{Batch, write_batch};
use crate::{Error, Import, ImportReceipt, Ledger, check_input, sets};

impl Ledger {
    /// Takes a file in, all of it or nothing, and returns when it is on the disk.
    ///
    /// The very same bytes are recognised and add nothing. A row that says nothing new adds
    /// nothing. A part that has another reading or word already is refused, all such parts
    /// listed, unless [`Import::again`] says that these are new weighings.
    ///
    /// # Errors
    /// [`Error::Refused`], [`Error::TwiceInFile`], [`Error::Clashes`], [`Error::DiskFull`],
    /// [`Error::Busy`], [`Error::ReadOnly`]; nothing came in.
    pub async fn import(&self, import: &Import) -> Result<ImportReceipt, Error> {
        check_input::import(import)?;
        let sha256 = hex(&Sha256::digest(&import.raw_bytes));
        let mut writing = self.write().await?;
        let tx = &mut *writing.tx;
        let lot = lot_id(tx, &import.lot).await?;
        let mut receipt = blank(import, others(tx, import, &sha256).await?);
        if let Some(lot) = lot
            && let Some(first) = already_in(tx, lot, import, &sha256).await?
        {
            return Ok(ImportReceipt {
                written: first,
                already_in: true,
                ..receipt
            });
        }
        let known = match lot {
            Some(lot) => known_parts(tx, lot).await?,
            None => HashMap::new(),
        };
        let mut batch = sort_rows(import, &known, &mut receipt)?;
        receipt.written = enter(tx, "import", &import.at, &import.program).await?;
        let entry = receipt.written.counter;
        let lot = match lot {
            Some(lot) => lot,
            None => new_lot(tx, &import.lot, entry).await?,
        };
        batch.file = new_file(tx, lot, import, &sha256, entry, batch.rows.len()).await?;
        write_batch(tx, lot, import, &batch).await?;
        if receipt.parts_measured_again > 0 {
            receipt.broken_sets = sets::broken_by(tx, lot, entry).await?;
        }
        writing.tx.commit().await?;
        Ok(receipt)
    }
}

fn blank(import: &Import, also_in_lots: Vec<String>) -> ImportReceipt {
    ImportReceipt {
        lot: import.lot.clone(),
        kind: import.kind,
        file_name: import.file_name.clone(),
        new_parts: 0,
        parts_measured_again: 0,
        unchanged_rows: 0,
        new_readings: 0,
        written: Written {
            counter: 0,
            time: String::new(),
            clock_doubtful: false,
        },
        already_in: false,
        broken_sets: Vec::new(),
        also_in_lots,
    }
}

/// Other lots that hold the very same file.
async fn others(
    tx: &mut SqliteConnection,
    import: &Import,
    sha256: &str,
) -> Result<Vec<String>, Error> {
    let names = sqlx::query_scalar(
        "SELECT l.name FROM files f JOIN lots l ON l.id = f.lot
         WHERE f.sha256 = ? AND l.name <> ? ORDER BY f.entry",
    );
    Ok(names.bind(sha256).bind(&import.lot).fetch_all(tx).await?)
}

/// When the very same bytes came into this lot; none if they did not.
async fn already_in(
    tx: &mut SqliteConnection,
    lot: i64,
    import: &Import,
    sha256: &str,
) -> Result<Option<Written>, Error> {
    let found: Option<(String, i64, String, bool)> = sqlx::query_as(
        "SELECT f.kind, e.counter, e.time, e.clock_doubtful
         FROM files f JOIN entries e ON e.counter = f.entry WHERE f.lot = ? AND f.sha256 = ?",
    )
    .bind(lot)
    .bind(sha256)
    .fetch_optional(tx)
    .await?;
    let Some((kind, counter, time, doubtful)) = found else {
        return Ok(None);
    };
    if kind_of(&kind)? != import.kind {
        return Err(Error::Refused(format!(
            "the file `{}` is in lot `{}` already (entry {counter}, {time}) as a file of {kind} \
             parts, and now it is handed in as {}: check which file is meant; nothing came in",
            import.file_name,
            import.lot,
            kind_word(import.kind)
        )));
    }
    written(counter, time, doubtful).map(Some)
}

async fn known_parts(tx: &mut SqliteConnection, lot: i64) -> Result<HashMap<String, Held>, Error> {
    let parts = held(tx, lot, Wanted::default()).await?;
    Ok(parts
        .into_iter()
        .map(|held| (held.part.serial.clone(), held))
        .collect())
}

/// Sorts the rows into new parts, new readings, nothing new, and clashes.
fn sort_rows(
    import: &Import,
    known: &HashMap<String, Held>,
    receipt: &mut ImportReceipt,
) -> Result<Batch, Error> {
    let mut batch = Batch::default();
    let mut clashes = Vec::new();
    for (index, row) in import.rows.iter().enumerate() {
        let Some(held) = known.get(&row.part.serial) else {
            receipt.new_parts += 1;
            receipt.new_readings += row.readings.len() as u64;
            batch.add(index, None, (0..row.readings.len()).collect());
            continue;
        };
        match compare(row, &held.part, import.again) {
            Verdict::NothingNew => receipt.unchanged_rows += 1,
            Verdict::Adds(readings) => {
                receipt.parts_measured_again += u64::from(!readings.is_empty());
                receipt.new_readings += readings.len() as u64;
                batch.add(index, Some(held.id), readings);
            }
            Verdict::Clashes(found) => clashes.extend(found),
        }
    }
    if clashes.is_empty() {
        Ok(batch)
    } else {
        Err(Error::Clashes { clashes })
    }
}

async fn new_lot(tx: &mut SqliteConnection, lot: &str, entry: u64) -> Result<i64, Error> {
    let id = sqlx::query_scalar("INSERT INTO lots (name, entry) VALUES (?, ?) RETURNING id");
    Ok(id.bind(lot).bind(entry.cast_signed()).fetch_one(tx).await?)
}

async fn new_file(
    tx: &mut SqliteConnection,
    lot: i64,
    import: &Import,
    sha256: &str,
    entry: u64,
    taken: usize,
) -> Result<i64, Error> {
    let id = sqlx::query_scalar(
        "INSERT INTO files (lot, entry, kind, name, sha256, taken, bytes, content)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?) RETURNING id",
    )
    .bind(lot)
    .bind(entry.cast_signed())
    .bind(kind_word(import.kind))
    .bind(&import.file_name)
    .bind(sha256)
    .bind(taken as i64)
    .bind(import.raw_bytes.len() as i64)
    .bind(import.raw_bytes.as_slice());
    Ok(id.fetch_one(tx).await?)
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
