//! The outline of a piece: an SVG path in mm, read without loss.

mod cursor;
mod path;

pub use whirlwright_kit::revolve::{Arc, Point, Segment};
use whirlwright_kit::revolve::{Bounds, inside, oriented, runs};

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

/// One solid of revolution: an outer loop and the closed hollows in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Swept {
    /// The outer border, the material on its left.
    pub outer: Vec<Segment>,
    /// The borders of hollows, the material on their left.
    pub hollows: Vec<Vec<Segment>>,
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

    /// The solids it sweeps: each outer loop with the hollows in it, every loop with the material
    /// on its left. The outline must be free of faults.
    #[must_use]
    pub fn solids(&self) -> Vec<Swept> {
        let loops: Vec<_> = self.loops.iter().map(|l| l.segments.clone()).collect();
        let loops = oriented(&loops);
        let area = |l: &[Segment]| whirlwright_kit::revolve::moments(l).area;
        let (outer, hollow): (Vec<_>, Vec<_>) = loops.into_iter().partition(|l| area(l) > 0.0);
        let mut solids: Vec<Swept> = outer
            .into_iter()
            .map(|outer| Swept {
                outer,
                hollows: Vec::new(),
            })
            .collect();
        for hollow in hollow {
            let Some(probe) = hollow.first().map(|s| s.at(0.5)) else {
                continue;
            };
            let holds = |s: &&mut Swept| inside(&runs(std::slice::from_ref(&s.outer)), probe);
            // The smallest loop around a hollow is the one it is cut from.
            let around = solids.iter_mut().filter(holds);
            if let Some(solid) = around.min_by(|a, b| area(&a.outer).total_cmp(&area(&b.outer))) {
                solid.hollows.push(hollow);
            }
        }
        solids
    }

    /// How far it reaches along the axle, in mm: least and largest x.
    #[must_use]
    pub fn reach_mm(&self) -> (f64, f64) {
        let boxes = self
            .loops
            .iter()
            .flat_map(|l| &l.segments)
            .map(Segment::bounds);
        let all = boxes.reduce(Bounds::with);
        all.map_or((0.0, 0.0), |b| (b.low.x, b.high.x))
    }
}
