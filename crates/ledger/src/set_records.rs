//! Sets and decisions read back from the record.

use std::collections::HashMap;

use sqlx::SqliteConnection;
use whirlwright_workshop::part::record::{DecisionRecord, Member, SetRecord, SetState};

use crate::Error;
use crate::words::{count, small, unreadable, written};

/// Which sets or decisions of a lot: all of them, or those a part is or was in.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Of {
    pub(crate) lot: i64,
    pub(crate) part: Option<i64>,
}

#[derive(sqlx::FromRow)]
struct SetRow {
    id: i64,
    lot: String,
    number: i64,
    cost: f64,
    differences: String,
    decision: i64,
    time: String,
    clock_doubtful: bool,
    void_entry: Option<i64>,
    void_time: Option<String>,
    void_doubtful: Option<bool>,
    void_reason: Option<String>,
}

/// The sets, by number.
pub(crate) async fn sets(tx: &mut SqliteConnection, of: Of) -> Result<Vec<SetRecord>, Error> {
    let rows: Vec<SetRow> = sqlx::query_as(
        "SELECT s.id, l.name AS lot, s.number, s.cost, s.differences, s.decision,
                e.time, e.clock_doubtful, v.entry AS void_entry, w.time AS void_time,
                w.clock_doubtful AS void_doubtful, v.reason AS void_reason
         FROM sets s JOIN lots l ON l.id = s.lot JOIN entries e ON e.counter = s.decision
         LEFT JOIN voids v ON v.set_id = s.id LEFT JOIN entries w ON w.counter = v.entry
         WHERE s.lot = ?1
           AND (?2 IS NULL OR s.id IN (SELECT set_id FROM set_members WHERE part = ?2))
         ORDER BY s.number",
    )
    .bind(of.lot)
    .bind(of.part)
    .fetch_all(&mut *tx)
    .await?;
    let mut members = members(tx, of).await?;
    rows.into_iter()
        .map(|row| {
            let parts = members.remove(&row.id).unwrap_or_default();
            record(row, parts)
        })
        .collect()
}

/// A member and whether it was measured after its set was made.
type Seated = (Member, bool);

async fn members(tx: &mut SqliteConnection, of: Of) -> Result<HashMap<i64, Vec<Seated>>, Error> {
    let rows: Vec<(i64, String, String, bool)> = sqlx::query_as(
        "SELECT s.id, m.role, p.serial, EXISTS (
             SELECT 1 FROM file_rows f JOIN files i ON i.id = f.file
             JOIN readings r ON r.file_row = f.id
             WHERE f.part = m.part AND i.entry > s.decision)
         FROM sets s JOIN set_members m ON m.set_id = s.id JOIN parts p ON p.id = m.part
         WHERE s.lot = ?1
           AND (?2 IS NULL OR s.id IN (SELECT set_id FROM set_members WHERE part = ?2))
         ORDER BY s.id, m.rowid",
    )
    .bind(of.lot)
    .bind(of.part)
    .fetch_all(tx)
    .await?;
    let mut members: HashMap<i64, Vec<Seated>> = HashMap::new();
    for (set, role, serial, again) in rows {
        let role = role.parse().map_err(|why| unreadable("a role", why))?;
        members
            .entry(set)
            .or_default()
            .push((Member { role, serial }, again));
    }
    Ok(members)
}

fn record(row: SetRow, members: Vec<Seated>) -> Result<SetRecord, Error> {
    let measured_again: Vec<String> = members
        .iter()
        .filter(|(_, again)| *again)
        .map(|(member, _)| member.serial.clone())
        .collect();
    let state = match (row.void_entry, row.void_time, row.void_reason) {
        (Some(entry), Some(time), Some(reason)) => SetState::Void {
            reason,
            written: written(entry, time, row.void_doubtful.unwrap_or_default())?,
        },
        _ if measured_again.is_empty() => SetState::Good,
        _ => SetState::Broken { measured_again },
    };
    Ok(SetRecord {
        lot: row.lot,
        number: small(row.number)?,
        members: members.into_iter().map(|(member, _)| member).collect(),
        cost: row.cost,
        differences: serde_json::from_str(&row.differences)
            .map_err(|why| unreadable("differences of a set", why))?,
        decision: count(row.decision)?,
        written: written(row.decision, row.time, row.clock_doubtful)?,
        state,
    })
}

#[derive(sqlx::FromRow)]
struct DecisionRow {
    lot: String,
    what: String,
    program: String,
    options: String,
    sets: i64,
    counter: i64,
    time: String,
    clock_doubtful: bool,
}

/// The decisions, in order.
pub(crate) async fn decisions(
    tx: &mut SqliteConnection,
    of: Of,
) -> Result<Vec<DecisionRecord>, Error> {
    let rows: Vec<DecisionRow> = sqlx::query_as(
        "SELECT l.name AS lot, d.what, e.program, d.options,
                (SELECT count(*) FROM sets s WHERE s.decision = d.entry) AS sets,
                e.counter, e.time, e.clock_doubtful
         FROM decisions d JOIN lots l ON l.id = d.lot JOIN entries e ON e.counter = d.entry
         WHERE d.lot = ?1 AND (?2 IS NULL OR d.entry IN (
             SELECT s.decision FROM sets s JOIN set_members m ON m.set_id = s.id
             WHERE m.part = ?2))
         ORDER BY d.entry",
    )
    .bind(of.lot)
    .bind(of.part)
    .fetch_all(tx)
    .await?;
    let record = |row: DecisionRow| {
        Ok(DecisionRecord {
            lot: row.lot,
            what: row.what,
            program: row.program,
            options: serde_json::from_str(&row.options)
                .map_err(|why| unreadable("options of a decision", why))?,
            sets: count(row.sets)?,
            written: written(row.counter, row.time, row.clock_doubtful)?,
        })
    };
    rows.into_iter().map(record).collect()
}
