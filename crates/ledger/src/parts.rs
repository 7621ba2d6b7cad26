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

/// Part, serial, kind, row, origin, colour, tray, doubts, readings. The readings of a row come
/// as one text, so that a large lot is read in as many rows as it has parts.
type Row = (
    i64,
    String,
    String,
    i64,
    Option<String>,
    Option<String>,
    Option<String>,
    Option<String>,
    Option<String>,
);

/// The parts of a lot in the order they came in, each with the latest of its readings.
pub(crate) async fn held(
    connection: &mut SqliteConnection,
    lot: i64,
    wanted: Wanted,
) -> Result<Vec<Held>, Error> {
    let rows: Vec<Row> = sqlx::query_as(
        "SELECT p.id, p.serial, p.kind, f.id, f.origin, f.colour, f.tray, f.doubts,
                (SELECT group_concat(r.quantity || ' ' || r.value_units || ' ' || r.value_places)
                 FROM readings r WHERE r.file_row = f.id)
         FROM parts p
         JOIN file_rows f ON f.part = p.id
         WHERE p.lot = ?1 AND (?2 IS NULL OR p.kind = ?2) AND (?3 IS NULL OR p.id = ?3)
           AND NOT (?4 AND EXISTS (
               SELECT 1 FROM set_members m WHERE m.part = p.id
               AND NOT EXISTS (SELECT 1 FROM voids v WHERE v.set_id = m.set_id)))
         ORDER BY p.id, f.id",
    )
    .bind(lot)
    .bind(wanted.kind.map(kind_word))
    .bind(wanted.part)
    .bind(wanted.free)
    .fetch_all(connection)
    .await?;
    let mut parts: Vec<Held> = Vec::new();
    for (id, serial, kind, row, origin, colour, tray, doubts, readings) in rows {
        if parts.last().is_none_or(|part| part.id != id) {
            parts.push(Held::new(id, LotPart::new(serial, kind_of(&kind)?)));
        }
        if let Some(held) = parts.last_mut() {
            held.take_words(row, [origin, colour, tray], doubts)?;
            held.take_readings(row, readings.as_deref().unwrap_or_default())?;
        }
    }
    parts.iter_mut().for_each(Held::weigh_doubts);
    Ok(parts)
}

impl Held {
    fn new(id: i64, part: LotPart) -> Self {
        let (latest, doubts) = ([None; Measure::ALL.len()], Vec::new());
        Self {
            id,
            part,
            latest,
            doubts,
            last_row: 0,
        }
    }

    /// Rows come in rising order, so what comes later takes the place; a blank takes none.
    fn take_words(
        &mut self,
        row: i64,
        words: [Option<String>; 3],
        doubts: Option<String>,
    ) -> Result<(), Error> {
        self.last_row = row;
        let places = [
            &mut self.part.origin,
            &mut self.part.colour,
            &mut self.part.tray,
        ];
        for (place, word) in places.into_iter().zip(words) {
            *place = word.or(place.take());
        }
        if let Some(list) = doubts {
            let list = serde_json::from_str(&list).map_err(|why| unreadable("doubts", why))?;
            self.doubts.push((row, list));
        }
        Ok(())
    }

    /// `mass_g 1083 2,fit_mm 48089 3`: a quantity stands once in a row, so their order is free.
    fn take_readings(&mut self, row: i64, readings: &str) -> Result<(), Error> {
        for reading in readings.split(',').filter(|reading| !reading.is_empty()) {
            let mut words = reading.split(' ');
            let (key, units, places) = (words.next(), words.next(), words.next());
            let number = |word: Option<&str>| word.and_then(|word| word.parse().ok());
            let (Some(key), Some(units), Some(places)) = (key, number(units), number(places))
            else {
                return Err(unreadable("a reading", reading));
            };
            let measure: Measure = key.parse().map_err(|why| unreadable("a quantity", why))?;
            measure.set(&mut self.part, decimal(units, places)?);
            self.latest[measure as usize] = Some(row);
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
