//! Why the ledger refused, and what to do.

use std::path::PathBuf;

use serde::{Deserialize, Serialize};

/// A part of a file that stands in the lot with another reading or another word.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Clash {
    /// The part's serial.
    pub serial: String,
    /// What differs, such as `mass_g` or `origin`.
    pub what: String,
    /// What the lot holds.
    pub held: String,
    /// What the new file says.
    pub read: String,
    /// The line of the new file.
    pub line: u32,
}

/// A part that sits in a set already.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct TakenPart {
    /// The part's serial.
    pub serial: String,
    /// The set it sits in.
    pub set: u32,
}

/// Why the ledger did not do what was asked. Nothing was written.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum Error {
    /// The file is not there.
    #[error("there is no ledger at {}: check the folder, or import a lot to begin one", path.display())]
    NotThere {
        /// The path asked for.
        path: PathBuf,
    },
    /// The file cannot be opened or made.
    #[error("cannot open the ledger {}: {why}: check that the folder exists and may be written", path.display())]
    CannotOpen {
        /// The path asked for.
        path: PathBuf,
        /// What the system said.
        why: String,
    },
    /// The file is something else.
    #[error("{} is not a ledger ({why}): name another file with --ledger", path.display())]
    NotALedger {
        /// The path asked for.
        path: PathBuf,
        /// What it is instead.
        why: String,
    },
    /// A newer program wrote the file.
    #[error("the ledger {} has format {found}, this program knows up to {known}: use Whirlwright {program} or newer; nothing was changed", path.display())]
    Newer {
        /// The path asked for.
        path: PathBuf,
        /// The format of the file.
        found: i64,
        /// The newest format this program knows.
        known: i64,
        /// The version of the program that wrote last.
        program: String,
    },
    /// The file is damaged. It is never mended by itself.
    #[error("the ledger {} is damaged: check `{check}` says: {found}. Nothing was changed. {}", path.display(), offer(copies))]
    Damaged {
        /// The path asked for.
        path: PathBuf,
        /// The check that failed.
        check: String,
        /// What it found.
        found: String,
        /// Copies that stand beside it and pass the check, newest first.
        copies: Vec<PathBuf>,
    },
    /// The ledger is open for reading only.
    #[error(
        "the ledger can only be read here: check that the file and its folder may be written by you and that the disk is not write-protected"
    )]
    ReadOnly,
    /// No room.
    #[error("no room on the disk: nothing was written; free some space, then do it again")]
    DiskFull,
    /// Another program is writing.
    #[error(
        "another program has been writing to this ledger for {waited_s} s: nothing was written; wait for it or close it, then do it again"
    )]
    Busy {
        /// How long we waited, in seconds.
        waited_s: u64,
    },
    /// The database said something else.
    #[error(
        "the ledger's database failed: {why}: nothing was written; do it again, and if it stays, keep the file and report it"
    )]
    Database {
        /// What it said.
        why: String,
    },
    /// A text of the ledger cannot be understood.
    #[error("the ledger holds {what} that this program does not understand: {why}")]
    Unreadable {
        /// Which value.
        what: String,
        /// Why.
        why: String,
    },
    /// Not a time with an offset.
    #[error(
        "`{read}` is not a time with its offset from UTC such as 2026-03-03T08:00:04+01:00: {why}"
    )]
    Time {
        /// The text.
        read: String,
        /// Why.
        why: String,
    },
    /// The lot is not known.
    #[error("no lot `{lot}` in this ledger{}", meant(near.as_deref()))]
    NoSuchLot {
        /// The name asked for.
        lot: String,
        /// A lot with nearly that name.
        near: Option<String>,
    },
    /// The serial is not known.
    #[error("no part `{serial}` in this ledger{}", meant(near.as_deref()))]
    NoSuchPart {
        /// The serial asked for.
        serial: String,
        /// A serial that is nearly that one.
        near: Option<String>,
    },
    /// The serial stands in several lots.
    #[error("part `{serial}` stands in lots {}: say which lot is meant", lots.join(", "))]
    SeveralLots {
        /// The serial asked for.
        serial: String,
        /// The lots that hold it.
        lots: Vec<String>,
    },
    /// The set is not known.
    #[error("no set {number} in lot `{lot}`")]
    NoSuchSet {
        /// The lot.
        lot: String,
        /// The number asked for.
        number: u32,
    },
    /// The set is void already.
    #[error("set {number} of lot `{lot}` is void already: {reason}")]
    AlreadyVoid {
        /// The lot.
        lot: String,
        /// The number.
        number: u32,
        /// Why it was given up.
        reason: String,
    },
    /// The request contradicts itself.
    #[error("{0}")]
    Refused(String),
    /// The same serial twice in one file.
    #[error(
        "serial `{serial}` stands twice in the file, in lines {first_line} and {second_line}: correct the label, or bring the second weighing in a file of its own; nothing came in"
    )]
    TwiceInFile {
        /// The serial.
        serial: String,
        /// Its first line.
        first_line: u32,
        /// Its second line.
        second_line: u32,
    },
    /// Parts stand in the lot with other readings.
    #[error("{}", clash_words(clashes))]
    Clashes {
        /// All of them.
        clashes: Vec<Clash>,
    },
    /// Parts sit in sets already.
    #[error("{}", taken_words(taken))]
    Taken {
        /// All of them.
        taken: Vec<TakenPart>,
    },
    /// Parts were measured since the answer was made.
    #[error(
        "{} measured again since this pairing was made: pair again; nothing was recorded",
        listed(serials, "part was", "parts were")
    )]
    MeasuredSince {
        /// The serials.
        serials: Vec<String>,
    },
    /// The set number was used before.
    #[error(
        "set number {number} was used before in lot `{lot}`: the next free number is {next}; nothing was recorded"
    )]
    NumberUsed {
        /// The lot.
        lot: String,
        /// The number asked for.
        number: u32,
        /// The next free number.
        next: u32,
    },
}

/// How many items an error lists before it only counts the rest.
const MOST_LISTED: usize = 20;

fn offer(copies: &[PathBuf]) -> String {
    match copies.first() {
        Some(copy) => format!(
            "The last good copy is {}: put it in the place of the file, or open the damaged one for reading only",
            copy.display()
        ),
        None => {
            "There is no good copy beside it: open it for reading only and save what can be read"
                .to_owned()
        }
    }
}

fn meant(near: Option<&str>) -> String {
    near.map_or_else(String::new, |near| format!(": did you mean `{near}`?"))
}

fn rest(count: usize) -> String {
    match count.saturating_sub(MOST_LISTED) {
        0 => String::new(),
        more => format!(" … and {more} more"),
    }
}

fn listed(serials: &[String], one: &str, several: &str) -> String {
    let shown: Vec<&str> = serials
        .iter()
        .take(MOST_LISTED)
        .map(String::as_str)
        .collect();
    let noun = if serials.len() == 1 { one } else { several };
    format!(
        "{} {noun} ({}{})",
        serials.len(),
        shown.join(", "),
        rest(serials.len())
    )
}

fn clash_words(clashes: &[Clash]) -> String {
    let one = |clash: &Clash| {
        let Clash {
            serial,
            what,
            held,
            read,
            line,
        } = clash;
        format!("\n  {serial}: {what} is {held} in the lot, line {line} of the file says {read}")
    };
    let list: String = clashes.iter().take(MOST_LISTED).map(one).collect();
    let count = clashes.len();
    format!(
        "{count} readings differ from those in the lot:{list}{}\nIf the parts were measured again, say so (--again): both readings are kept and the later counts. If a label is wrong, correct it. Nothing came in",
        rest(count)
    )
}

fn taken_words(taken: &[TakenPart]) -> String {
    let one = |part: &TakenPart| format!("{} (set {})", part.serial, part.set);
    let list: Vec<String> = taken.iter().take(MOST_LISTED).map(one).collect();
    format!(
        "{} parts sit in sets already: {}{}: void those sets first, or pair what is free; nothing was recorded",
        taken.len(),
        list.join(", "),
        rest(taken.len())
    )
}

/// The primary result codes of SQLite this crate tells apart (its public documentation,
/// "Result and Error Codes"; an extended code keeps the primary one in its low byte).
mod code {
    pub const BUSY: i64 = 5;
    pub const LOCKED: i64 = 6;
    pub const READONLY: i64 = 8;
    pub const CORRUPT: i64 = 11;
    pub const FULL: i64 = 13;
    pub const NOTADB: i64 = 26;
}

/// How long a writer waits for another one, in seconds.
pub(crate) const BUSY_WAIT_S: u64 = 10;

impl From<sqlx::Error> for Error {
    fn from(error: sqlx::Error) -> Self {
        match primary_code(&error) {
            Some(code::BUSY | code::LOCKED) => Self::Busy {
                waited_s: BUSY_WAIT_S,
            },
            Some(code::READONLY) => Self::ReadOnly,
            Some(code::FULL) => Self::DiskFull,
            _ => Self::Database {
                why: error.to_string(),
            },
        }
    }
}

fn primary_code(error: &sqlx::Error) -> Option<i64> {
    let extended: i64 = error.as_database_error()?.code()?.parse().ok()?;
    Some(extended & 0xff)
}

/// Whether the database says that its file is damaged.
pub(crate) fn says_damaged(error: &sqlx::Error) -> bool {
    primary_code(error) == Some(code::CORRUPT)
}

/// Whether the database says that the file is no database.
pub(crate) fn says_no_database(error: &sqlx::Error) -> bool {
    primary_code(error) == Some(code::NOTADB)
}

/// Whether the database says that it may not write.
pub(crate) fn says_read_only(error: &sqlx::Error) -> bool {
    primary_code(error) == Some(code::READONLY)
}
