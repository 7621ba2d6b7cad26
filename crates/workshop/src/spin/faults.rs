//! Why a spin cannot be foretold.

/// What was asked cannot be, with what was read, what was expected, and what to do.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{what}; {next}")]
pub struct Refusal {
    /// What was read and what was expected.
    pub what: String,
    /// What to do.
    pub next: String,
}

impl Refusal {
    /// A refusal of these words.
    #[must_use]
    pub fn new(what: impl Into<String>, next: impl Into<String>) -> Self {
        Self {
            what: what.into(),
            next: next.into(),
        }
    }
}
