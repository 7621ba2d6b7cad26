//! What the ledger tells about lots, parts and sets, so that every front can show it.
//!
//! Everything is ordered by `counter`, a number that only rises; the clock is shown beside it
//! and may be wrong.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::{Decimal, Kind, LotPart};

/// What was measured on a part; the unit of the stored value is in the key.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Measure {
    /// Mass in grams.
    MassG,
    /// Static unbalance, size, in g·mm.
    UnbalanceGMm,
    /// Angle of the unbalance from the part's own mark, in degrees.
    UnbalanceAngleDeg,
    /// Axial offset of the centre of mass, in mm.
    OffsetMm,
    /// The diameter that fits the partner, in mm.
    FitMm,
}

/// The text names no quantity of the ledger.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "`{0}` is no quantity of the ledger: expected one of mass_g, unbalance_g_mm, unbalance_angle_deg, offset_mm, fit_mm"
)]
pub struct NoSuchMeasure(pub String);

impl Measure {
    /// Every quantity, in the order of the columns.
    pub const ALL: [Self; 5] = [
        Self::MassG,
        Self::UnbalanceGMm,
        Self::UnbalanceAngleDeg,
        Self::OffsetMm,
        Self::FitMm,
    ];

    /// The key, with its unit.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::MassG => "mass_g",
            Self::UnbalanceGMm => "unbalance_g_mm",
            Self::UnbalanceAngleDeg => "unbalance_angle_deg",
            Self::OffsetMm => "offset_mm",
            Self::FitMm => "fit_mm",
        }
    }

    /// The unit of the stored value.
    #[must_use]
    pub fn unit(self) -> &'static str {
        match self {
            Self::MassG => "g",
            Self::UnbalanceGMm => "g·mm",
            Self::UnbalanceAngleDeg => "deg",
            Self::OffsetMm | Self::FitMm => "mm",
        }
    }

    /// The value of this quantity on a part, in its own unit; none if it was not measured.
    #[must_use]
    pub fn of(self, part: &LotPart) -> Option<Decimal> {
        match self {
            Self::MassG => part.mass_g,
            Self::UnbalanceGMm => part.unbalance_g_mm,
            Self::UnbalanceAngleDeg => part.unbalance_angle_deg,
            Self::OffsetMm => part.offset_mm,
            Self::FitMm => part.fit_mm,
        }
    }

    /// Writes the value of this quantity on a part.
    pub fn set(self, part: &mut LotPart, value: Decimal) {
        let place = match self {
            Self::MassG => &mut part.mass_g,
            Self::UnbalanceGMm => &mut part.unbalance_g_mm,
            Self::UnbalanceAngleDeg => &mut part.unbalance_angle_deg,
            Self::OffsetMm => &mut part.offset_mm,
            Self::FitMm => &mut part.fit_mm,
        };
        *place = Some(value);
    }
}

impl fmt::Display for Measure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.key())
    }
}

impl FromStr for Measure {
    type Err = NoSuchMeasure;
    fn from_str(text: &str) -> Result<Self, NoSuchMeasure> {
        let found = Self::ALL
            .into_iter()
            .find(|quantity| quantity.key() == text);
        found.ok_or_else(|| NoSuchMeasure(text.to_owned()))
    }
}

/// What a part is in a set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Role {
    /// The half of the left side.
    LeftHalf,
    /// The rim of the left side.
    LeftRim,
    /// The half of the right side.
    RightHalf,
    /// The rim of the right side.
    RightRim,
    /// The whole left side, of parts that are matched two by two.
    Left,
    /// The whole right side, of parts that are matched two by two.
    Right,
}

/// The text names no role in a set.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "`{0}` is no role in a set: expected left_half, left_rim, right_half, right_rim, left or right"
)]
pub struct NoSuchRole(pub String);

impl Role {
    /// Every role.
    pub const ALL: [Self; 6] = [
        Self::LeftHalf,
        Self::LeftRim,
        Self::RightHalf,
        Self::RightRim,
        Self::Left,
        Self::Right,
    ];

    /// The key.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::LeftHalf => "left_half",
            Self::LeftRim => "left_rim",
            Self::RightHalf => "right_half",
            Self::RightRim => "right_rim",
            Self::Left => "left",
            Self::Right => "right",
        }
    }
}

impl FromStr for Role {
    type Err = NoSuchRole;
    fn from_str(text: &str) -> Result<Self, NoSuchRole> {
        let found = Self::ALL.into_iter().find(|role| role.key() == text);
        found.ok_or_else(|| NoSuchRole(text.to_owned()))
    }
}

/// When something was written: the counter orders, the clock only tells.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Written {
    /// Rises with every entry of the ledger and is never used twice.
    pub counter: u64,
    /// What the clock said, with its offset from UTC.
    pub time: String,
    /// The clock went back, or leapt more than a day, against the entry before.
    pub clock_doubtful: bool,
}

/// One line of the list of lots.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct LotLine {
    /// The lot's name.
    pub lot: String,
    /// How many parts are in it.
    pub parts: u64,
    /// How many sets are recorded and not void.
    pub sets: u64,
    /// The first entry of the lot.
    pub first: Written,
    /// The last entry of the lot.
    pub last: Written,
}

/// A whole lot as the ledger knows it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LotRecord {
    /// The lot's name.
    pub lot: String,
    /// The last entry of the whole ledger; hand it back with the sets, so that sets resting on
    /// readings which changed meanwhile are refused.
    pub read_at: u64,
    /// The number the next set will bear.
    pub next_set_number: u32,
    /// Counts by kind of part.
    pub kinds: Vec<KindCount>,
    /// The files that came in, in order.
    pub files: Vec<FileRecord>,
    /// Parts in doubt, with the doubts in words.
    pub doubts: Vec<PartDoubt>,
    /// Sets that are recorded, void ones included, by number.
    pub sets: Vec<SetRecord>,
    /// What was decided, in order.
    pub decisions: Vec<DecisionRecord>,
}

/// How many parts of one kind a lot holds.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KindCount {
    /// The kind of part.
    pub kind: Kind,
    /// How many parts.
    pub parts: u64,
    /// How many of them have a mass.
    pub weighed: u64,
    /// How many of them are in doubt.
    pub in_doubt: u64,
    /// How many of them sit in a set that is not void.
    pub in_sets: u64,
}

/// A file that came in; its bytes are kept.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct FileRecord {
    /// The file's name, without its folder.
    pub name: String,
    /// The kind of part it lists.
    pub kind: Kind,
    /// SHA-256 of its bytes, in hexadecimal.
    pub sha256: String,
    /// How many bytes.
    pub bytes: u64,
    /// How many rows were taken in.
    pub rows: u64,
    /// When it came in.
    pub written: Written,
}

/// The doubts about one part.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PartDoubt {
    /// The serial.
    pub serial: String,
    /// The kind of part.
    pub kind: Kind,
    /// The doubts, in words.
    pub doubts: Vec<String>,
}

/// One part in a set.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Member {
    /// What the part is in the set.
    pub role: Role,
    /// The part's serial.
    pub serial: String,
}

/// Parts that were chosen to become one piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SetRecord {
    /// The lot.
    pub lot: String,
    /// The number of the set in its lot; never used again, not even when the set is void.
    pub number: u32,
    /// The parts.
    pub members: Vec<Member>,
    /// The cost the pairing gave it.
    pub cost: f64,
    /// The differences between left and right, by key with unit.
    pub differences: serde_json::Map<String, serde_json::Value>,
    /// The counter of the decision that made it.
    pub decision: u64,
    /// When it was recorded.
    pub written: Written,
    /// Whether it stands.
    pub state: SetState,
}

/// Whether a set stands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "is", rename_all = "snake_case")]
pub enum SetState {
    /// It stands.
    Good,
    /// A part of it was measured again after the set was made: it needs new measures.
    Broken {
        /// The serials of the parts that were measured again.
        measured_again: Vec<String>,
    },
    /// It was given up; its parts are free again.
    Void {
        /// Why.
        reason: String,
        /// When.
        written: Written,
    },
}

impl SetState {
    /// The state in words, as a label would bear it.
    #[must_use]
    pub fn label(&self) -> String {
        match self {
            Self::Good => "good".to_owned(),
            Self::Broken { measured_again } => {
                format!(
                    "broken: needs new measures ({} measured again)",
                    measured_again.join(", ")
                )
            }
            Self::Void { reason, .. } => format!("void: {reason}"),
        }
    }
}

/// Something that was decided, with the answer it rests on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DecisionRecord {
    /// The lot.
    pub lot: String,
    /// What was decided, in a word of the trade such as `pair`.
    pub what: String,
    /// The version of the program that answered.
    pub program: String,
    /// The limits and wishes the answer was asked with.
    pub options: serde_json::Value,
    /// How many sets it recorded.
    pub sets: u64,
    /// When it was recorded.
    pub written: Written,
}

/// One reading of a part, as it was shown.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ReadingRecord {
    /// What was measured.
    pub quantity: Measure,
    /// The text as it was read.
    pub text: String,
    /// The unit of the text.
    pub unit: String,
    /// The value, in the unit of the quantity's key.
    pub value: Decimal,
    /// The instrument.
    pub instrument: Option<String>,
    /// Who read it.
    pub operator: Option<String>,
    /// The time noted beside the reading, as it was written.
    pub noted_at: Option<String>,
    /// The file it came from.
    pub file: String,
    /// SHA-256 of that file, in hexadecimal.
    pub file_sha256: String,
    /// The line (of a sheet: the row) in that file, from 1.
    pub line: u32,
    /// The whole line as it stands in the file.
    pub raw_text: String,
    /// Whether a later reading of the same quantity took its place.
    pub superseded: bool,
    /// When it came in.
    pub written: Written,
}

/// Everything the ledger knows of one part.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Trace {
    /// The lot.
    pub lot: String,
    /// The part with its latest readings.
    pub part: LotPart,
    /// Every reading, in order.
    pub readings: Vec<ReadingRecord>,
    /// Every set it is or was in, with its partners, in order.
    pub sets: Vec<SetRecord>,
    /// The decisions that made those sets, in order.
    pub decisions: Vec<DecisionRecord>,
}
