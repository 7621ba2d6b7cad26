//! What is handed to the ledger, and what it hands back.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use whirlwright_workshop::part::record::{Member, Written};
use whirlwright_workshop::part::{Decimal, Kind, LotPart, Measure};

use crate::Moment;

/// A file of parts that is to come in: all of it or nothing.
#[derive(Debug, Clone)]
pub struct Import {
    /// The lot; it is made if it is new.
    pub lot: String,
    /// The kind of part the file lists; every row must be of it.
    pub kind: Kind,
    /// The file's name, without its folder.
    pub file_name: String,
    /// The file's bytes as they are; they are kept.
    pub raw_bytes: Vec<u8>,
    /// The rows that are to come in.
    pub rows: Vec<ImportRow>,
    /// These are new weighings of parts that may be in the lot already: their readings are added
    /// and the latest counts. Without it a part with another reading is refused.
    pub again: bool,
    /// What the clock says.
    pub at: Moment,
    /// The version of the program that read the file.
    pub program: String,
}

/// One row of the file.
#[derive(Debug, Clone)]
pub struct ImportRow {
    /// Its line (of a sheet: its row) in the file, from 1.
    pub line: u32,
    /// The whole line as it stands in the file.
    pub raw_text: String,
    /// The part with its words (origin, colour, tray, doubts); its readings stand in `readings`.
    pub part: LotPart,
    /// What was read on it; a blank cell is no reading.
    pub readings: Vec<Reading>,
    /// Who read it.
    pub operator: Option<String>,
    /// The time noted in the row, as it was written.
    pub noted_at: Option<String>,
}

/// One reading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reading {
    /// What was measured.
    pub quantity: Measure,
    /// The text as it was read.
    pub text: String,
    /// The value, in the unit of the quantity's key.
    pub value: Decimal,
    /// The unit of the text.
    pub unit: String,
    /// The instrument.
    pub instrument: Option<String>,
}

impl ImportRow {
    /// A row whose readings are the numbers on the part, in the units of their keys.
    #[must_use]
    pub fn from_part(line: u32, raw_text: impl Into<String>, part: LotPart) -> Self {
        let reading = |quantity: Measure| {
            let value = quantity.of(&part)?;
            let (text, unit) = (value.to_string(), quantity.unit().to_owned());
            Some(Reading {
                quantity,
                text,
                value,
                unit,
                instrument: None,
            })
        };
        let readings = Measure::ALL.into_iter().filter_map(reading).collect();
        Self {
            line,
            raw_text: raw_text.into(),
            part,
            readings,
            operator: None,
            noted_at: None,
        }
    }
}

/// What came of an import.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ImportReceipt {
    /// The lot.
    pub lot: String,
    /// The kind of part.
    pub kind: Kind,
    /// The file's name.
    pub file_name: String,
    /// Parts that were not in the lot before.
    pub new_parts: u64,
    /// Parts that were in the lot and got readings.
    pub parts_measured_again: u64,
    /// Rows that said nothing new.
    pub unchanged_rows: u64,
    /// Readings that were added.
    pub new_readings: u64,
    /// When it came in; for a file that was in already, when it came in first.
    pub written: Written,
    /// The very same bytes came in before; nothing was added.
    pub already_in: bool,
    /// Sets that stand and whose parts were measured again: they need new measures.
    pub broken_sets: Vec<u32>,
    /// Other lots that hold the very same file.
    pub also_in_lots: Vec<String>,
}

/// Sets that are to be recorded together, with the decision behind them.
#[derive(Debug, Clone)]
pub struct Sets {
    /// The lot.
    pub lot: String,
    /// What was decided, in a word of the trade such as `pair`.
    pub what: String,
    /// The whole answer.
    pub answer: Value,
    /// The limits and wishes it was asked with.
    pub options: Value,
    /// The version of the program that answered.
    pub program: String,
    /// What the clock says.
    pub at: Moment,
    /// `read_at` of the lot record the answer rests on: if a part was measured since, nothing
    /// is recorded. `None` asks for no such check.
    pub read_at: Option<u64>,
    /// The sets, in the order of their numbers.
    pub sets: Vec<NewSet>,
}

/// One set that is to be recorded.
#[derive(Debug, Clone, PartialEq)]
pub struct NewSet {
    /// The number it shall bear; `None` takes the next free one.
    pub number: Option<u32>,
    /// The parts.
    pub members: Vec<Member>,
    /// The cost the pairing gave it.
    pub cost: f64,
    /// The differences between left and right, by key with unit.
    pub differences: Map<String, Value>,
}

/// What came of recording sets.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Recorded {
    /// The lot.
    pub lot: String,
    /// When it was recorded; the counter names the decision.
    pub written: Written,
    /// The numbers of the sets, in the order they were handed in.
    pub numbers: Vec<u32>,
}
