//! The outline of a piece: an SVG path in mm, read without loss.

use whirlwright_kit::revolve::Segment;

/// The section of a piece: one or more closed loops, x along the axle, y the radius, in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    /// The path as it was written.
    pub text: String,
    /// The loops, in the order of the path.
    pub loops: Vec<Loop>,
}

/// One closed loop of an outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Loop {
    /// Its segments, end to start, closed.
    pub segments: Vec<Segment>,
    /// Where in the text each segment's command is written, in bytes from its start.
    pub places: Vec<usize>,
}

/// Why a text is not an outline.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{what}")]
pub struct NotAnOutline {
    /// Where in the path, in bytes from its start.
    pub at: usize,
    /// What was read and what was expected.
    pub what: String,
}
