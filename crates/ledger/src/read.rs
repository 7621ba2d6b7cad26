//! What the ledger knows of lots and their parts.

use sqlx::SqliteConnection;
use whirlwright_workshop::part::record::{FileRecord, KindCount, LotLine, LotRecord, PartDoubt};
use whirlwright_workshop::part::{Kind, LotPart};

use crate::parts::{Wanted, held};
use crate::set_records::{Of, decisions, sets};
use crate::sets::next_number;
use crate::words::{count, kind_of, kind_word, known_lot, written};
use crate::{Error, Ledger};

#[derive(sqlx::FromRow)]
struct LineRow {
    name: String,
    parts: i64,
    sets: i64,
    first: i64,
    first_time: String,
    first_doubtful: bool,
    last: i64,
    last_time: String,
    last_doubtful: bool,
}

impl Ledger {
    /// Every lot, in the order they began.
    ///
    /// # Errors
    /// Those of the disk.
    pub async fn lots(&self) -> Result<Vec<LotLine>, Error> {
        let rows: Vec<LineRow> = sqlx::query_as(
            "WITH written AS (
                 SELECT lot, entry FROM files
                 UNION ALL SELECT lot, entry FROM decisions
                 UNION ALL SELECT s.lot, v.entry FROM voids v JOIN sets s ON s.id = v.set_id)
             SELECT l.name,
                 (SELECT count(*) FROM parts p WHERE p.lot = l.id) AS parts,
                 (SELECT count(*) FROM sets s WHERE s.lot = l.id
                  AND NOT EXISTS (SELECT 1 FROM voids v WHERE v.set_id = s.id)) AS sets,
                 a.counter AS first, a.time AS first_time, a.clock_doubtful AS first_doubtful,
                 z.counter AS last, z.time AS last_time, z.clock_doubtful AS last_doubtful
             FROM lots l JOIN entries a ON a.counter = l.entry
             JOIN entries z ON z.counter = (SELECT max(w.entry) FROM written w WHERE w.lot = l.id)
             ORDER BY l.id",
        )
        .fetch_all(&self.pool)
        .await?;
        let line = |row: LineRow| {
            Ok(LotLine {
                lot: row.name,
                parts: count(row.parts)?,
                sets: count(row.sets)?,
                first: written(row.first, row.first_time, row.first_doubtful)?,
                last: written(row.last, row.last_time, row.last_doubtful)?,
            })
        };
        rows.into_iter().map(line).collect()
    }

    /// A whole lot: counts, files, doubts, sets and decisions, all of one moment.
    ///
    /// # Errors
    /// [`Error::NoSuchLot`] with the nearest name, and those of the disk.
    pub async fn lot(&self, lot: &str) -> Result<LotRecord, Error> {
        let mut tx = self.pool.begin().await?;
        let id = known_lot(&mut tx, lot).await?;
        let parts: Vec<LotPart> = held(&mut tx, id, Wanted::default())
            .await?
            .into_iter()
            .map(|held| held.part)
            .collect();
        let read_at: i64 = sqlx::query_scalar("SELECT max(counter) FROM entries")
            .fetch_one(&mut *tx)
            .await?;
        let of = Of {
            lot: id,
            part: None,
        };
        Ok(LotRecord {
            lot: lot.to_owned(),
            read_at: count(read_at)?,
            next_set_number: next_number(&mut tx, id).await?,
            kinds: kinds(&mut tx, id, &parts).await?,
            files: files(&mut tx, id).await?,
            doubts: doubts(&parts),
            sets: sets(&mut tx, of).await?,
            decisions: decisions(&mut tx, of).await?,
        })
    }

    /// The parts of one kind with their latest readings, in the order they came in.
    ///
    /// # Errors
    /// [`Error::NoSuchLot`] with the nearest name, and those of the disk.
    pub async fn parts(&self, lot: &str, kind: Kind) -> Result<Vec<LotPart>, Error> {
        self.wanted(
            lot,
            Wanted {
                kind: Some(kind),
                ..Wanted::default()
            },
        )
        .await
    }

    /// The same, without the parts that sit in a set which is not void.
    ///
    /// # Errors
    /// [`Error::NoSuchLot`] with the nearest name, and those of the disk.
    pub async fn free_parts(&self, lot: &str, kind: Kind) -> Result<Vec<LotPart>, Error> {
        self.wanted(
            lot,
            Wanted {
                kind: Some(kind),
                free: true,
                ..Wanted::default()
            },
        )
        .await
    }

    async fn wanted(&self, lot: &str, wanted: Wanted) -> Result<Vec<LotPart>, Error> {
        let mut tx = self.pool.begin().await?;
        let id = known_lot(&mut tx, lot).await?;
        Ok(held(&mut tx, id, wanted)
            .await?
            .into_iter()
            .map(|held| held.part)
            .collect())
    }
}

async fn kinds(
    tx: &mut SqliteConnection,
    lot: i64,
    parts: &[LotPart],
) -> Result<Vec<KindCount>, Error> {
    let seated: Vec<(String, i64)> = sqlx::query_as(
        "SELECT p.kind, count(*) FROM sets s
         JOIN set_members m ON m.set_id = s.id JOIN parts p ON p.id = m.part
         WHERE s.lot = ? AND NOT EXISTS (SELECT 1 FROM voids v WHERE v.set_id = s.id)
         GROUP BY p.kind",
    )
    .bind(lot)
    .fetch_all(tx)
    .await?;
    let mut kinds = Vec::new();
    for kind in [Kind::Half, Kind::Rim, Kind::Dressed, Kind::Other] {
        let of_kind = || parts.iter().filter(move |part| part.kind == kind);
        if of_kind().next().is_none() {
            continue;
        }
        let in_sets = seated.iter().find(|(word, _)| word == kind_word(kind));
        kinds.push(KindCount {
            kind,
            parts: of_kind().count() as u64,
            weighed: of_kind().filter(|part| part.mass_g.is_some()).count() as u64,
            in_doubt: of_kind().filter(|part| !part.doubts.is_empty()).count() as u64,
            in_sets: count(in_sets.map_or(0, |(_, parts)| *parts))?,
        });
    }
    Ok(kinds)
}

fn doubts(parts: &[LotPart]) -> Vec<PartDoubt> {
    let doubt = |part: &LotPart| PartDoubt {
        serial: part.serial.clone(),
        kind: part.kind,
        doubts: part.doubts.clone(),
    };
    parts
        .iter()
        .filter(|part| !part.doubts.is_empty())
        .map(doubt)
        .collect()
}

#[derive(sqlx::FromRow)]
struct FileRow {
    name: String,
    kind: String,
    sha256: String,
    bytes: i64,
    taken: i64,
    counter: i64,
    time: String,
    clock_doubtful: bool,
}

async fn files(tx: &mut SqliteConnection, lot: i64) -> Result<Vec<FileRecord>, Error> {
    let rows: Vec<FileRow> = sqlx::query_as(
        "SELECT f.name, f.kind, f.sha256, f.bytes, f.taken, e.counter, e.time, e.clock_doubtful
         FROM files f JOIN entries e ON e.counter = f.entry WHERE f.lot = ? ORDER BY f.id",
    )
    .bind(lot)
    .fetch_all(tx)
    .await?;
    let record = |row: FileRow| {
        Ok(FileRecord {
            name: row.name,
            kind: kind_of(&row.kind)?,
            sha256: row.sha256,
            bytes: count(row.bytes)?,
            rows: count(row.taken)?,
            written: written(row.counter, row.time, row.clock_doubtful)?,
        })
    };
    rows.into_iter().map(record).collect()
}
