//! Sets are recorded and given up.

use std::collections::{HashMap, HashSet};

use serde_json::Value;
use sqlx::SqliteConnection;
use whirlwright_workshop::part::record::Written;

use crate::words::{enter, known_lot, nearest, small};
use crate::{Error, Ledger, Moment, NewSet, Recorded, Sets, TakenPart, check_input};

impl Ledger {
    /// Records a decision with its sets, all of them or none, and returns when it is on the disk.
    ///
    /// # Errors
    /// [`Error::Taken`] if parts sit in sets already, [`Error::MeasuredSince`],
    /// [`Error::NumberUsed`], [`Error::NoSuchLot`], [`Error::NoSuchPart`], [`Error::Refused`],
    /// and those of the disk; nothing was recorded.
    pub async fn record_sets(&self, sets: &Sets) -> Result<Recorded, Error> {
        check_input::sets(sets)?;
        let mut writing = self.write().await?;
        let tx = &mut *writing.tx;
        let lot = known_lot(tx, &sets.lot).await?;
        let ids = part_ids(tx, lot, sets).await?;
        refuse_taken(tx, lot, &ids).await?;
        if let Some(read_at) = sets.read_at {
            refuse_measured_since(tx, lot, &ids, read_at).await?;
        }
        let numbers = numbers(tx, lot, sets).await?;
        let written = enter(tx, "decision", &sets.at, &sets.program).await?;
        write_decision(tx, lot, sets, &written).await?;
        for (set, number) in sets.sets.iter().zip(&numbers) {
            write_set(tx, lot, set, *number, &written, &ids).await?;
        }
        writing.tx.commit().await?;
        Ok(Recorded {
            lot: sets.lot.clone(),
            written,
            numbers,
        })
    }

    /// Gives a set up: its parts are free again, its number is never used again.
    ///
    /// # Errors
    /// [`Error::NoSuchLot`], [`Error::NoSuchSet`], [`Error::AlreadyVoid`], [`Error::Refused`]
    /// without a reason, and those of the disk; nothing was written.
    pub async fn void_set(
        &self,
        lot: &str,
        number: u32,
        reason: &str,
        program: &str,
        at: &Moment,
    ) -> Result<Written, Error> {
        if reason.trim().is_empty() {
            let text = "say why the set is given up: the label and the trace will bear it";
            return Err(Error::Refused(text.to_owned()));
        }
        let mut writing = self.write().await?;
        let tx = &mut *writing.tx;
        let lot_id = known_lot(tx, lot).await?;
        let found: Option<(i64, Option<String>)> = sqlx::query_as(
            "SELECT s.id, v.reason FROM sets s LEFT JOIN voids v ON v.set_id = s.id
             WHERE s.lot = ? AND s.number = ?",
        )
        .bind(lot_id)
        .bind(i64::from(number))
        .fetch_optional(&mut *tx)
        .await?;
        let set = match found {
            None => {
                return Err(Error::NoSuchSet {
                    lot: lot.to_owned(),
                    number,
                });
            }
            Some((_, Some(reason))) => {
                return Err(Error::AlreadyVoid {
                    lot: lot.to_owned(),
                    number,
                    reason,
                });
            }
            Some((set, None)) => set,
        };
        let written = enter(tx, "void", at, program).await?;
        sqlx::query("INSERT INTO voids (set_id, entry, reason) VALUES (?, ?, ?)")
            .bind(set)
            .bind(written.counter.cast_signed())
            .bind(reason.trim())
            .execute(&mut *tx)
            .await?;
        writing.tx.commit().await?;
        Ok(written)
    }
}

/// The sets of a lot that stand and of which a part was measured in this entry.
pub(crate) async fn broken_by(
    tx: &mut SqliteConnection,
    lot: i64,
    entry: u64,
) -> Result<Vec<u32>, Error> {
    let numbers: Vec<i64> = sqlx::query_scalar(
        "SELECT DISTINCT s.number FROM files i
         JOIN file_rows f ON f.file = i.id JOIN readings r ON r.file_row = f.id
         JOIN set_members m ON m.part = f.part JOIN sets s ON s.id = m.set_id
         WHERE i.lot = ? AND i.entry = ?
           AND NOT EXISTS (SELECT 1 FROM voids v WHERE v.set_id = s.id)
         ORDER BY s.number",
    )
    .bind(lot)
    .bind(entry.cast_signed())
    .fetch_all(tx)
    .await?;
    numbers.into_iter().map(small).collect()
}

/// The number the next set of a lot will bear.
pub(crate) async fn next_number(tx: &mut SqliteConnection, lot: i64) -> Result<u32, Error> {
    let next = sqlx::query_scalar("SELECT coalesce(max(number), 0) + 1 FROM sets WHERE lot = ?");
    small(next.bind(lot).fetch_one(tx).await?)
}

/// The id of every member, by serial.
type Ids<'a> = HashMap<&'a str, i64>;

async fn part_ids<'a>(
    tx: &mut SqliteConnection,
    lot: i64,
    sets: &'a Sets,
) -> Result<Ids<'a>, Error> {
    let rows: Vec<(String, i64)> =
        sqlx::query_as("SELECT serial, id FROM parts WHERE lot = ? ORDER BY id")
            .bind(lot)
            .fetch_all(tx)
            .await?;
    let known: HashMap<&str, i64> = rows
        .iter()
        .map(|(serial, id)| (serial.as_str(), *id))
        .collect();
    let mut ids = Ids::new();
    for member in sets.sets.iter().flat_map(|set| &set.members) {
        let Some(id) = known.get(member.serial.as_str()) else {
            let names: Vec<String> = rows.iter().map(|(serial, _)| serial.clone()).collect();
            let near = nearest(&member.serial, &names);
            return Err(Error::NoSuchPart {
                serial: member.serial.clone(),
                near,
            });
        };
        ids.insert(&member.serial, *id);
    }
    Ok(ids)
}

async fn refuse_taken(tx: &mut SqliteConnection, lot: i64, ids: &Ids<'_>) -> Result<(), Error> {
    let seated: Vec<(String, i64)> = sqlx::query_as(
        "SELECT p.serial, s.number FROM sets s
         JOIN set_members m ON m.set_id = s.id JOIN parts p ON p.id = m.part
         WHERE s.lot = ? AND NOT EXISTS (SELECT 1 FROM voids v WHERE v.set_id = s.id)
         ORDER BY s.number, m.rowid",
    )
    .bind(lot)
    .fetch_all(tx)
    .await?;
    let mut taken = Vec::new();
    for (serial, number) in seated {
        if ids.contains_key(serial.as_str()) {
            taken.push(TakenPart {
                serial,
                set: small(number)?,
            });
        }
    }
    if taken.is_empty() {
        Ok(())
    } else {
        Err(Error::Taken { taken })
    }
}

async fn refuse_measured_since(
    tx: &mut SqliteConnection,
    lot: i64,
    ids: &Ids<'_>,
    read_at: u64,
) -> Result<(), Error> {
    let measured: Vec<String> = sqlx::query_scalar(
        "SELECT DISTINCT p.serial FROM files i
         JOIN file_rows f ON f.file = i.id JOIN readings r ON r.file_row = f.id
         JOIN parts p ON p.id = f.part
         WHERE i.lot = ? AND i.entry > ? ORDER BY p.id",
    )
    .bind(lot)
    .bind(read_at.cast_signed())
    .fetch_all(tx)
    .await?;
    let serials: Vec<String> = measured
        .into_iter()
        .filter(|serial| ids.contains_key(serial.as_str()))
        .collect();
    if serials.is_empty() {
        Ok(())
    } else {
        Err(Error::MeasuredSince { serials })
    }
}

/// The number of every set: the one asked for, if it was never used, or the next free one.
async fn numbers(tx: &mut SqliteConnection, lot: i64, sets: &Sets) -> Result<Vec<u32>, Error> {
    let used: Vec<i64> = sqlx::query_scalar("SELECT number FROM sets WHERE lot = ?")
        .bind(lot)
        .fetch_all(&mut *tx)
        .await?;
    let used: HashSet<i64> = used.into_iter().collect();
    let mut next = next_number(tx, lot).await?;
    let asked: Vec<u32> = sets.sets.iter().filter_map(|set| set.number).collect();
    if let Some(number) = asked
        .iter()
        .find(|number| used.contains(&i64::from(**number)))
    {
        return Err(Error::NumberUsed {
            lot: sets.lot.clone(),
            number: *number,
            next,
        });
    }
    next = asked
        .iter()
        .map(|number| number.saturating_add(1))
        .fold(next, u32::max);
    let give = |set: &NewSet| {
        set.number.unwrap_or_else(|| {
            next += 1;
            next - 1
        })
    };
    Ok(sets.sets.iter().map(give).collect())
}

async fn write_decision(
    tx: &mut SqliteConnection,
    lot: i64,
    sets: &Sets,
    written: &Written,
) -> Result<(), Error> {
    sqlx::query("INSERT INTO decisions (entry, lot, what, options, answer) VALUES (?, ?, ?, ?, ?)")
        .bind(written.counter.cast_signed())
        .bind(lot)
        .bind(&sets.what)
        .bind(sets.options.to_string())
        .bind(sets.answer.to_string())
        .execute(tx)
        .await?;
    Ok(())
}

async fn write_set(
    tx: &mut SqliteConnection,
    lot: i64,
    set: &NewSet,
    number: u32,
    written: &Written,
    ids: &Ids<'_>,
) -> Result<(), Error> {
    let id: i64 = sqlx::query_scalar(
        "INSERT INTO sets (lot, number, decision, cost, differences) VALUES (?, ?, ?, ?, ?)
         RETURNING id",
    )
    .bind(lot)
    .bind(i64::from(number))
    .bind(written.counter.cast_signed())
    .bind(set.cost)
    .bind(Value::Object(set.differences.clone()).to_string())
    .fetch_one(&mut *tx)
    .await?;
    for member in &set.members {
        sqlx::query("INSERT INTO set_members (set_id, role, part) VALUES (?, ?, ?)")
            .bind(id)
            .bind(member.role.key())
            .bind(ids.get(member.serial.as_str()))
            .execute(&mut *tx)
            .await?;
    }
    Ok(())
}
