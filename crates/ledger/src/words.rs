//! How the record writes kinds, entries and lists, and reads them back.

use sqlx::SqliteConnection;
use whirlwright_workshop::part::Kind;
use whirlwright_workshop::part::record::Written;

use crate::{Error, Moment};

/// The word for a kind of part, as it stands in the tables.
pub(crate) fn kind_word(kind: Kind) -> &'static str {
    match kind {
        Kind::Half => "half",
        Kind::Rim => "rim",
        Kind::Dressed => "dressed",
        Kind::Other => "other",
    }
}

/// The kind of part behind a word of the tables.
pub(crate) fn kind_of(word: &str) -> Result<Kind, Error> {
    let kinds = [Kind::Half, Kind::Rim, Kind::Dressed, Kind::Other];
    let found = kinds.into_iter().find(|kind| kind_word(*kind) == word);
    found.ok_or_else(|| unreadable("a kind of part", format!("`{word}`")))
}

pub(crate) fn unreadable(what: &str, why: impl ToString) -> Error {
    Error::Unreadable {
        what: what.to_owned(),
        why: why.to_string(),
    }
}

/// A count or counter of the tables, where it is never negative.
pub(crate) fn count(value: i64) -> Result<u64, Error> {
    u64::try_from(value).map_err(|why| unreadable("a count", why))
}

/// A small count, line or set number.
pub(crate) fn small(value: i64) -> Result<u32, Error> {
    u32::try_from(value).map_err(|why| unreadable("a line or set number", why))
}

/// The entry behind three columns of the tables.
pub(crate) fn written(counter: i64, time: String, doubtful: bool) -> Result<Written, Error> {
    Ok(Written {
        counter: count(counter)?,
        time,
        clock_doubtful: doubtful,
    })
}

/// Adds an entry: everything that is written with it bears its counter.
pub(crate) async fn enter(
    connection: &mut SqliteConnection,
    what: &str,
    at: &Moment,
    program: &str,
) -> Result<Written, Error> {
    let before: Option<String> =
        sqlx::query_scalar("SELECT time FROM entries ORDER BY counter DESC LIMIT 1")
            .fetch_optional(&mut *connection)
            .await?;
    let doubtful = match before {
        Some(text) => at.doubtful_after(&Moment::parse(&text)?),
        None => false,
    };
    let counter: i64 = sqlx::query_scalar(
        "INSERT INTO entries (what, time, clock_doubtful, program) VALUES (?, ?, ?, ?)
         RETURNING counter",
    )
    .bind(what)
    .bind(at.as_str())
    .bind(doubtful)
    .bind(program)
    .fetch_one(&mut *connection)
    .await?;
    written(counter, at.as_str().to_owned(), doubtful)
}

/// The lot's id; none if the ledger has no such lot.
pub(crate) async fn lot_id(
    connection: &mut SqliteConnection,
    lot: &str,
) -> Result<Option<i64>, Error> {
    let id = sqlx::query_scalar("SELECT id FROM lots WHERE name = ?").bind(lot);
    Ok(id.fetch_optional(connection).await?)
}

/// The lot's id, or the refusal with the nearest name.
pub(crate) async fn known_lot(connection: &mut SqliteConnection, lot: &str) -> Result<i64, Error> {
    if let Some(id) = lot_id(connection, lot).await? {
        return Ok(id);
    }
    let names: Vec<String> = sqlx::query_scalar("SELECT name FROM lots ORDER BY id")
        .fetch_all(connection)
        .await?;
    Err(Error::NoSuchLot {
        lot: lot.to_owned(),
        near: nearest(lot, &names),
    })
}

/// The name that is most like the one asked for; none if none is much like it.
pub(crate) fn nearest(asked: &str, names: &[String]) -> Option<String> {
    /// Two slips of the finger; three make another serial.
    const MOST_SLIPS: usize = 2;
    let asked = asked.to_lowercase();
    let slips = |name: &String| strsim::damerau_levenshtein(&asked, &name.to_lowercase());
    let near = names
        .iter()
        .map(|name| (slips(name), name))
        .min_by_key(|(slips, _)| *slips)?;
    (near.0 <= MOST_SLIPS && near.0 < asked.chars().count()).then(|| near.1.clone())
}
