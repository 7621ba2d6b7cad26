//! Parts put together from the rows and readings of the record.

use sqlx::SqliteConnection;
use whirlwright_workshop::part::{Decimal, Kind, LotPart, Measure};

use crate::Error;
use crate::words::{kind_of, kind_word, unreadable};

/// A part as the record has it, with where its words and readings came from.
#[derive(Debug, Clone)]
pub(crate) struct Held {
    pub(crate) id: i64,
    pub(crate) part: LotPart,
    /// The row whose reading counts, by quantity.
    latest: [Option<i64>; Measure::ALL.len()],
    /// The doubts of each row that has some.
    doubts: Vec<(i64, Vec<String>)>,
    last_row: i64,
}

/// Which parts of a lot.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Wanted {
    pub(crate) kind: Option<Kind>,
    pub(crate) part: Option<i64>,
    /// Only parts that sit in no standing set.
    pub(crate) free: bool,
}

#[derive(sqlx::FromRow)]
struct Row {
    id: i64,
    serial: String,
    kind: String,
    row_id: i64,
    origin: Option<String>,
    colour: Option<String>,
    tray: Option<String>,
    doubts: Option<String>,
    quantity: Option<String>,
    value_units: Option<i64>,
    value_places: Option<i64>,
}

/// The parts of a lot in the order they came in, each with the latest of its readings.
pub(crate) async fn held(
    connection: &mut SqliteConnection,
    lot: i64,
    wanted: Wanted,
) -> Result<Vec<Held>, Error> {
    let rows: Vec<Row> = sqlx::query_as(
        "SELECT p.id, p.serial, p.kind, f.id AS row_id, f.origin, f.colour, f.tray, f.doubts,
                r.quantity, r.value_units, r.value_places
         FROM parts p
         JOIN file_rows f ON f.part = p.id
         LEFT JOIN readings r ON r.file_row = f.id
         WHERE p.lot = ?1 AND (?2 IS NULL OR p.kind = ?2) AND (?3 IS NULL OR p.id = ?3)
           AND NOT (?4 AND EXISTS (
               SELECT 1 FROM set_members m WHERE m.part = p.id
               AND NOT EXISTS (SELECT 1 FROM voids v WHERE v.set_id = m.set_id)))
         ORDER BY p.id, f.id, r.counter",
    )
    .bind(lot)
    .bind(wanted.kind.map(kind_word))
    .bind(wanted.part)
    .bind(wanted.free)
    .fetch_all(connection)
    .await?;
    let mut parts: Vec<Held> = Vec::new();
    for row in rows {
        match parts.last_mut() {
            Some(part) if part.id == row.id => part.take(row)?,
            _ => {
                let mut part = Held::new(&row)?;
                part.take(row)?;
                parts.push(part);
            }
        }
    }
    parts.iter_mut().for_each(Held::weigh_doubts);
    Ok(parts)
}

impl Held {
    fn new(row: &Row) -> Result<Self, Error> {
        let part = LotPart::new(row.serial.clone(), kind_of(&row.kind)?);
        let (latest, doubts) = ([None; Measure::ALL.len()], Vec::new());
        Ok(Self {
            id: row.id,
            part,
            latest,
            doubts,
            last_row: 0,
        })
    }

    /// Rows and readings come in rising order, so what comes later takes the place.
    fn take(&mut self, row: Row) -> Result<(), Error> {
        if row.row_id != self.last_row {
            self.last_row = row.row_id;
            self.part.origin = row.origin.or(self.part.origin.take());
            self.part.colour = row.colour.or(self.part.colour.take());
            self.part.tray = row.tray.or(self.part.tray.take());
            if let Some(list) = row.doubts {
                let list = serde_json::from_str(&list).map_err(|why| unreadable("doubts", why))?;
                self.doubts.push((row.row_id, list));
            }
        }
        if let (Some(key), Some(units), Some(places)) =
            (row.quantity, row.value_units, row.value_places)
        {
            let measure: Measure = key.parse().map_err(|why| unreadable("a quantity", why))?;
            measure.set(&mut self.part, decimal(units, places)?);
            self.latest[measure as usize] = Some(row.row_id);
        }
        Ok(())
    }

    /// A doubt stands as long as a reading of its row counts, or no row came after it.
    fn weigh_doubts(&mut self) {
        let stands = |row: i64| row == self.last_row || self.latest.contains(&Some(row));
        let standing = self.doubts.iter().filter(|(row, _)| stands(*row));
        self.part.doubts = standing.flat_map(|(_, list)| list.clone()).collect();
    }
}

/// A value of the tables.
pub(crate) fn decimal(units: i64, places: i64) -> Result<Decimal, Error> {
    let places = u8::try_from(places).map_err(|why| unreadable("a value", why))?;
    Ok(Decimal { units, places })
}
