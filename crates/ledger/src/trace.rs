//! Everything that is known of one part.

use std::collections::hash_map::Entry;
use std::collections::{HashMap, HashSet};

use serde_json::Value;
use sqlx::SqliteConnection;
use whirlwright_workshop::part::Measure;
use whirlwright_workshop::part::record::{ReadingRecord, Trace};

use crate::parts::{Wanted, decimal, held};
use crate::set_records::{Of, decisions, sets};
use crate::words::{known_lot, nearest, small, unreadable, written};
use crate::write_rows::Lines;
use crate::{Error, Ledger};

impl Ledger {
    /// Everything the ledger knows of one part: readings with their source, sets, decisions.
    ///
    /// A serial is unique in its lot; where several lots hold it, say which one is meant.
    ///
    /// # Errors
    /// [`Error::NoSuchPart`] with the nearest serial, [`Error::SeveralLots`],
    /// [`Error::NoSuchLot`], and those of the disk.
    pub async fn trace(&self, serial: &str, lot: Option<&str>) -> Result<Trace, Error> {
        let mut tx = self.pool.begin().await?;
        let (part, lot, name) = find(&mut tx, serial, lot).await?;
        let wanted = Wanted {
            part: Some(part),
            ..Wanted::default()
        };
        let held = held(&mut tx, lot, wanted).await?.pop();
        let of = Of {
            lot,
            part: Some(part),
        };
        Ok(Trace {
            lot: name,
            part: held
                .ok_or_else(|| unreadable("a part", "it has no row"))?
                .part,
            readings: readings(&mut tx, part).await?,
            sets: sets(&mut tx, of).await?,
            decisions: decisions(&mut tx, of).await?,
        })
    }

    /// The bytes of a file that came in, by the SHA-256 that trace and lot show.
    ///
    /// # Errors
    /// [`Error::Refused`] if no such file came in, and those of the disk.
    pub async fn file_content(&self, sha256: &str) -> Result<Vec<u8>, Error> {
        let content = sqlx::query_scalar("SELECT content FROM files WHERE sha256 = ? LIMIT 1")
            .bind(sha256)
            .fetch_optional(&self.pool)
            .await?;
        content.ok_or_else(|| Error::Refused(format!("no file with SHA-256 {sha256} came in")))
    }

    /// The whole answer behind a decision, by the decision's counter.
    ///
    /// # Errors
    /// [`Error::Refused`] if there is no such decision.
    pub async fn decision_answer(&self, counter: u64) -> Result<Value, Error> {
        let answer: Option<String> =
            sqlx::query_scalar("SELECT answer FROM decisions WHERE entry = ?")
                .bind(counter.cast_signed())
                .fetch_optional(&self.pool)
                .await?;
        let answer = answer.ok_or_else(|| Error::Refused(format!("no decision {counter}")))?;
        serde_json::from_str(&answer).map_err(|why| unreadable("an answer", why))
    }
}

async fn find(
    tx: &mut SqliteConnection,
    serial: &str,
    lot: Option<&str>,
) -> Result<(i64, i64, String), Error> {
    let lot = match lot {
        Some(lot) => Some(known_lot(tx, lot).await?),
        None => None,
    };
    let mut found: Vec<(i64, i64, String)> = sqlx::query_as(
        "SELECT p.id, l.id, l.name FROM parts p JOIN lots l ON l.id = p.lot
         WHERE p.serial = ?1 AND (?2 IS NULL OR p.lot = ?2) ORDER BY p.id",
    )
    .bind(serial)
    .bind(lot)
    .fetch_all(&mut *tx)
    .await?;
    match (found.pop(), found.is_empty()) {
        (Some(only), true) => Ok(only),
        (Some(last), false) => {
            let lots = found
                .into_iter()
                .chain([last])
                .map(|(_, _, name)| name)
                .collect();
            Err(Error::SeveralLots {
                serial: serial.to_owned(),
                lots,
            })
        }
        (None, _) => {
            let serials: Vec<String> =
                sqlx::query_scalar("SELECT serial FROM parts WHERE ?1 IS NULL OR lot = ?1")
                    .bind(lot)
                    .fetch_all(tx)
                    .await?;
            let near = nearest(serial, &serials);
            Err(Error::NoSuchPart {
                serial: serial.to_owned(),
                near,
            })
        }
    }
}

#[derive(sqlx::FromRow)]
struct Row {
    quantity: String,
    text: String,
    unit: String,
    value_units: i64,
    value_places: i64,
    instrument: Option<String>,
    operator: Option<String>,
    noted_at: Option<String>,
    line: i64,
    raw_text: Option<String>,
    file: i64,
    counter: i64,
    time: String,
    clock_doubtful: bool,
}

/// A file's name, SHA-256 and bytes.
type Source = (String, String, Vec<u8>);

async fn readings(tx: &mut SqliteConnection, part: i64) -> Result<Vec<ReadingRecord>, Error> {
    let rows: Vec<Row> = sqlx::query_as(
        "SELECT r.quantity, r.text, r.unit, r.value_units, r.value_places, r.instrument,
                f.operator, f.noted_at, f.line, f.raw_text, f.file,
                e.counter, e.time, e.clock_doubtful
         FROM file_rows f JOIN readings r ON r.file_row = f.id
         JOIN files i ON i.id = f.file JOIN entries e ON e.counter = i.entry
         WHERE f.part = ? ORDER BY r.counter",
    )
    .bind(part)
    .fetch_all(&mut *tx)
    .await?;
    let mut sources: HashMap<i64, Source> = HashMap::new();
    for row in &rows {
        if let Entry::Vacant(place) = sources.entry(row.file) {
            let source = sqlx::query_as("SELECT name, sha256, content FROM files WHERE id = ?");
            place.insert(source.bind(row.file).fetch_one(&mut *tx).await?);
        }
    }
    let mut later: HashSet<Measure> = HashSet::new();
    let mut records = Vec::with_capacity(rows.len());
    for row in rows.into_iter().rev() {
        let mut record = record(row, &sources)?;
        record.superseded = !later.insert(record.quantity);
        records.push(record);
    }
    records.reverse();
    Ok(records)
}

fn record(row: Row, sources: &HashMap<i64, Source>) -> Result<ReadingRecord, Error> {
    let line = small(row.line)?;
    let source = sources.get(&row.file);
    let (name, sha256, content) = source.ok_or_else(|| unreadable("a reading", "no file"))?;
    let raw_text = match row.raw_text {
        Some(text) => text,
        None => Lines::of(content).get(line).unwrap_or_default().to_owned(),
    };
    Ok(ReadingRecord {
        quantity: row
            .quantity
            .parse()
            .map_err(|why| unreadable("a quantity", why))?,
        text: row.text,
        unit: row.unit,
        value: decimal(row.value_units, row.value_places)?,
        instrument: row.instrument,
        operator: row.operator,
        noted_at: row.noted_at,
        file: name.clone(),
        file_sha256: sha256.clone(),
        line,
        raw_text,
        superseded: false,
        written: written(row.counter, row.time, row.clock_doubtful)?,
    })
}
