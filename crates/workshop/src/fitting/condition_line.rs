//! One condition a fit must keep.

use serde::{Deserialize, Serialize};

/// One condition, brought to the interference at which it is just kept.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ConditionLine {
    /// What it is about, such as `holds cold after 5 years`.
    pub name: String,
    /// Interference needed on the diameter, where it is a condition of holding.
    pub at_least_um: Option<f64>,
    /// Interference allowed on the diameter, where it is a condition of not breaking.
    pub at_most_um: Option<f64>,
    /// What the limits give.
    pub found_um: f64,
    /// How far inside (negative: outside).
    pub margin_um: f64,
    /// Whether it is kept.
    pub kept: bool,
    /// The same in words.
    pub words: String,
}
