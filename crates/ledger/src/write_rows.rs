//! Many rows go into the tables with few statements.

use sqlx::{QueryBuilder, Sqlite, SqliteConnection};

use crate::words::kind_word;
use crate::{Error, Import, ImportRow};

/// What of a file is to be written.
#[derive(Debug, Default)]
pub(crate) struct Batch {
    /// The file's id.
    pub(crate) file: i64,
    pub(crate) rows: Vec<BatchRow>,
}

/// One row that is to be written.
#[derive(Debug)]
pub(crate) struct BatchRow {
    /// Its place in the import.
    index: usize,
    /// The part, if it is in the lot already.
    part: Option<i64>,
    /// Which of its readings are to be written.
    readings: Vec<usize>,
}

impl Batch {
    pub(crate) fn add(&mut self, index: usize, part: Option<i64>, readings: Vec<usize>) {
        self.rows.push(BatchRow {
            index,
            part,
            readings,
        });
    }
}

/// Rows in one statement: enough that the cost of a statement does not count, and with the
/// widest table far below the database's limit of 32,766 values.
const ROWS_A_STATEMENT: usize = 512;

/// Writes the parts, rows and readings of a file. Ids are given here, rising in the order of the
/// file: the writing transaction is the only one, so no other writer can take them.
pub(crate) async fn write_batch(
    tx: &mut SqliteConnection,
    lot: i64,
    import: &Import,
    batch: &Batch,
) -> Result<(), Error> {
    let ids = part_ids(tx, batch).await?;
    let first_row = next(tx, "SELECT coalesce(max(id), 0) + 1 FROM file_rows").await?;
    let first_reading = next(tx, "SELECT coalesce(max(counter), 0) + 1 FROM readings").await?;
    let row = |index: usize| &import.rows[index];

    let new: Vec<(i64, &str)> = (batch.rows.iter().zip(&ids))
        .filter(|(written, _)| written.part.is_none())
        .map(|(written, id)| (*id, row(written.index).part.serial.as_str()))
        .collect();
    write_parts(tx, lot, kind_word(import.kind), &new).await?;

    let rows: Vec<_> = (batch.rows.iter().zip(&ids).zip(first_row..))
        .map(|((written, part), id)| (id, *part, row(written.index)))
        .collect();
    write_file_rows(tx, batch.file, &import.raw_bytes, &rows).await?;

    let readings: Vec<_> = (batch.rows.iter().zip(first_row..))
        .flat_map(|(written, id)| {
            written
                .readings
                .iter()
                .map(move |r| (id, written.index, *r))
        })
        .collect();
    for (chunk, counter) in readings
        .chunks(ROWS_A_STATEMENT)
        .zip((first_reading..).step_by(ROWS_A_STATEMENT))
    {
        let mut sql = QueryBuilder::<Sqlite>::new(
            "INSERT INTO readings (counter, file_row, quantity, text, unit, value_units, \
             value_places, instrument) ",
        );
        sql.push_values(
            chunk.iter().zip(counter..),
            |mut to, ((id, index, place), counter)| {
                let reading = &row(*index).readings[*place];
                to.push_bind(counter)
                    .push_bind(*id)
                    .push_bind(reading.quantity.key())
                    .push_bind(reading.text.as_str())
                    .push_bind(reading.unit.as_str())
                    .push_bind(reading.value.units)
                    .push_bind(i64::from(reading.value.places))
                    .push_bind(reading.instrument.as_deref());
            },
        );
        sql.build().execute(&mut *tx).await?;
    }
    Ok(())
}

async fn part_ids(tx: &mut SqliteConnection, batch: &Batch) -> Result<Vec<i64>, Error> {
    let mut free = next(tx, "SELECT coalesce(max(id), 0) + 1 FROM parts").await?;
    let give = |row: &BatchRow| {
        row.part.unwrap_or_else(|| {
            free += 1;
            free - 1
        })
    };
    Ok(batch.rows.iter().map(give).collect())
}

async fn write_parts(
    tx: &mut SqliteConnection,
    lot: i64,
    kind: &str,
    parts: &[(i64, &str)],
) -> Result<(), Error> {
    for chunk in parts.chunks(ROWS_A_STATEMENT) {
        let mut sql = QueryBuilder::<Sqlite>::new("INSERT INTO parts (id, lot, serial, kind) ");
        sql.push_values(chunk, |mut to, (id, serial)| {
            to.push_bind(*id)
                .push_bind(lot)
                .push_bind(*serial)
                .push_bind(kind);
        });
        sql.build().execute(&mut *tx).await?;
    }
    Ok(())
}

async fn write_file_rows(
    tx: &mut SqliteConnection,
    file: i64,
    content: &[u8],
    rows: &[(i64, i64, &ImportRow)],
) -> Result<(), Error> {
    let lines = Lines::of(content);
    for chunk in rows.chunks(ROWS_A_STATEMENT) {
        let mut sql = QueryBuilder::<Sqlite>::new(
            "INSERT INTO file_rows (id, part, file, line, raw_text, operator, noted_at, origin, \
             colour, tray, doubts) ",
        );
        sql.push_values(chunk, |mut to, (id, part, row)| {
            let derived = lines.get(row.line) == Some(row.raw_text.as_str());
            let doubts = (!row.part.doubts.is_empty())
                .then(|| serde_json::Value::from(row.part.doubts.clone()).to_string());
            to.push_bind(*id)
                .push_bind(*part)
                .push_bind(file)
                .push_bind(i64::from(row.line))
                .push_bind((!derived).then_some(row.raw_text.as_str()))
                .push_bind(row.operator.as_deref())
                .push_bind(row.noted_at.as_deref())
                .push_bind(row.part.origin.as_deref())
                .push_bind(row.part.colour.as_deref())
                .push_bind(row.part.tray.as_deref())
                .push_bind(doubts);
        });
        sql.build().execute(&mut *tx).await?;
    }
    Ok(())
}

async fn next(tx: &mut SqliteConnection, sql: &'static str) -> Result<i64, Error> {
    Ok(sqlx::query_scalar(sql).fetch_one(tx).await?)
}

/// The lines of a file that is plain text; a sheet or another encoding has none.
pub(crate) struct Lines<'a>(Vec<&'a str>);

impl<'a> Lines<'a> {
    pub(crate) fn of(content: &'a [u8]) -> Self {
        let text = std::str::from_utf8(content).unwrap_or_default();
        Self(
            text.strip_prefix('\u{feff}')
                .unwrap_or(text)
                .lines()
                .collect(),
        )
    }

    /// A line by its number, from 1, without its line end.
    pub(crate) fn get(&self, line: u32) -> Option<&'a str> {
        self.0
            .get(usize::try_from(line).ok()?.checked_sub(1)?)
            .copied()
    }
}
