//! What a slip of a person with a table is, in words.

use serde::{Deserialize, Serialize};

/// How much a slip weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Weight {
    /// The reading cannot be taken.
    Refuse,
    /// The reading is taken, and the part is weighed again before it is paired.
    Doubt,
}

/// One slip.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Slip {
    /// Which of the parts handed in, counted from 0; none when it concerns the whole column.
    pub part: Option<usize>,
    /// Refused, or taken with a doubt.
    pub weight: Weight,
    /// Which reading: `mass_g`, `fit_mm` or `origin`.
    pub quantity: String,
    /// What was read, with its unit.
    pub read: String,
    /// What was expected, with its unit.
    pub expected: String,
    /// What to do.
    pub advice: String,
}
