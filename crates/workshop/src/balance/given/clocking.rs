//! Parts that can be turned against each other.

use crate::part::{AngleSense, Unbalance};

/// One part with its own unbalance, as it was measured alone.
#[derive(Debug, Clone, PartialEq)]
pub struct ClockPart {
    /// What it is called.
    pub name: String,
    /// Where its unbalance acts along the axle, from the middle of the gap.
    pub x_mm: f64,
    /// Its unbalance, from its own mark.
    pub unbalance: Unbalance,
    /// Which way that angle is counted when the part sits in the piece.
    pub sense: AngleSense,
}

/// What a joint lets the bench choose.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClockJoint {
    /// Any angle.
    Free,
    /// One of so many marks, equally spaced.
    Marks(u32),
}

/// Which part may be turned on which: the first stands still, and every other one, with all that is
/// joined onto it, can be turned on the part named.
#[derive(Debug, Clone, PartialEq)]
pub struct ClockGiven {
    /// The parts.
    pub parts: Vec<ClockPart>,
    /// For every part but the first: the number of the part it sits on, and the joint.
    pub joints: Vec<(usize, ClockJoint)>,
    /// Weight of the rim's wobble against the seat's orbit, both in µm.
    pub wobble_weight: f64,
}
