//! The one form every station answers in; command, page, sheet and ledger render it.

use serde::{Deserialize, Serialize};

/// The version of the serialised form; it rises when a key changes its meaning.
pub const ANSWER_FORMAT: u32 = 1;

/// What a station says: first the verdict, then what decided it, then the numbers.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Answer<B> {
    /// Version of this serialised form, [`ANSWER_FORMAT`].
    pub whirlwright: u32,
    /// The station that answers, in one word.
    pub station: String,
    /// Yes, look, or no.
    pub verdict: Verdict,
    /// One sentence a maker would say.
    pub headline: String,
    /// The one number or condition that decided the verdict, in words with its unit.
    pub decided_by: String,
    /// The station's own numbers.
    #[serde(flatten)]
    pub body: B,
    /// How far each number is to be trusted.
    pub trust: Vec<Trust>,
    /// What can hurt somebody, shown where the number is shown.
    pub cautions: Vec<String>,
    /// What to do next, the first thing first.
    pub next: Vec<String>,
}

/// The answer to the question that was asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Inside every limit.
    Good,
    /// Usable, but somebody should look first.
    Look,
    /// Outside a limit.
    Stop,
}

/// Where a number comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// Read from an instrument.
    Measured,
    /// Reckoned from other numbers.
    Computed,
    /// Taken for granted.
    Assumed,
}

/// How far one number (or one kind of numbers) is to be trusted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Trust {
    /// Which number, by its key.
    pub number: String,
    /// Where it comes from.
    pub basis: Basis,
    /// Its uncertainty and the reason, in words with units; `from memory` is said here.
    pub why: String,
}
