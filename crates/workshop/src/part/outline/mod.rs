//! The outline of a piece: an SVG path in mm, read without loss.

mod cursor;
mod path;

use whirlwright_kit::revolve::Segment;

/// The section of a piece: one or more closed loops, x along the axle, y the radius, in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    /// The path as it was written.
    pub text: String,
    /// The loops, in the order of the path.
    pub loops: Vec<Loop>,
    /// The same path with absolute commands, for pictures (rounded to a millionth of a mm).
    pub path: String,
    /// That path in a mirror standing at `x = 0`.
    pub mirrored_path: String,
}

/// One closed loop of an outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Loop {
    /// Its segments, end to start, closed.
    pub segments: Vec<Segment>,
    /// Where in the text each segment is written, in bytes from its start.
    pub places: Vec<usize>,
}

/// Why a text is not an outline.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{what}")]
pub struct NotAnOutline {
    /// Where in the path, in bytes from its start.
    pub at: usize,
    /// What was read and what was expected.
    pub what: String,
}

impl Outline {
    /// Reads the data of an SVG path (W3C *SVG 1.1*, chapter 8): `M L H V C S Q T A Z`, absolute
    /// and relative, numbers in mm. Arcs keep to the rules of its appendix F.6: a radius of 0 is a
    /// line, radii too small are scaled up.
    ///
    /// # Errors
    /// The first place where the text is no path; or the loop that is not closed.
    pub fn read(text: &str) -> Result<Self, NotAnOutline> {
        path::read(text)
    }

    /// How far it reaches along the axle, in mm: least and largest x.
    #[must_use]
    pub fn reach_mm(&self) -> (f64, f64) {
        let boxes = self.loops.iter().flat_map(|l| &l.segments).map(Segment::bounds);
        let all = boxes.reduce(whirlwright_kit::revolve::Bounds::with);
        all.map_or((0.0, 0.0), |b| (b.low.x, b.high.x))
    }
}
