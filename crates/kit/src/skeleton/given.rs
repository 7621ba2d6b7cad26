//! What a middle line is asked with.

use crate::mesh::MeshError;

/// How fine the line shall be, and which side lines are walls.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wanted {
    /// Length of a piece of the cut outline, above 0; a fifth of the thinnest wall or less.
    pub step_mm: f64,
    /// A side line is kept when it reaches out of the junction by more than this many times its own mean width; the
    /// corner of two sides that meet at an angle has 1 over the tangent of half of it: a square corner 1.
    pub slender_ratio: f64,
    /// And when it reaches out by more than this share of the junction's radius.
    pub reach_ratio: f64,
    /// Or when it reaches out by more than this many of the junction's radii, however stout; the corner of two sides has
    /// 1 over the sine of half its angle, less 1: a square corner 0.41, one of 60 degrees 1.
    pub long_ratio: f64,
}

impl Wanted {
    /// A line of the given step, with the usual pruning: corners down to 60 degrees are no walls.
    #[must_use]
    pub const fn of_step_mm(step_mm: f64) -> Self {
        Self {
            step_mm,
            slender_ratio: 1.8,
            reach_ratio: 0.5,
            long_ratio: 1.3,
        }
    }
}

/// Why there is no middle line.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SkeletonError {
    /// A wish is no number it could be.
    #[error("{what} is {read}; a number above 0 is expected")]
    Wish {
        /// Which wish.
        what: &'static str,
        /// What was read.
        read: f64,
    },
    /// The outline cannot be triangulated.
    #[error(transparent)]
    Outline(#[from] MeshError),
    /// The outline has no inside.
    #[error("the outline encloses nothing that has a middle line")]
    Empty,
}

/// Whether the question can be asked at all.
pub fn check(wanted: &Wanted) -> Result<(), SkeletonError> {
    let wishes = [
        ("the step along the outline in mm", wanted.step_mm),
        ("the slenderness of a side line", wanted.slender_ratio),
        ("the reach of a side line", wanted.reach_ratio),
        ("the length of a side line", wanted.long_ratio),
    ];
    for (what, read) in wishes {
        if !(read.is_finite() && read > 0.0) {
            return Err(SkeletonError::Wish { what, read });
        }
    }
    Ok(())
}
