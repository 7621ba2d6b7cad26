//! The section that is moulded, as the design draws it.

use whirlwright_kit::revolve::{Bounds, Point, Segment, moments, oriented, runs};

use super::card;
use super::faults::Refusal;
use crate::design;
use crate::part::job::Piece;

/// The moulded piece's section, as it is drawn and as the cavity is cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// The drawing's loops, the material on their left; x along the axle, y from it.
    pub drawn: Vec<Vec<Segment>>,
    /// The cavity's loops: the drawing's, larger by what the resin shrinks.
    pub loops: Vec<Vec<Segment>>,
    /// The shrinkage the cavity is cut for, as a share of its own size.
    pub cut_for_share: f64,
    /// Whether another piece is pressed on it.
    pub is_pressed_on: bool,
}

/// The nearest place of a section to another place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Nearest {
    pub off_mm: f64,
    pub place: Point,
}

impl Section {
    /// The section of a design's piece, cut for the shrinkage the job says, or the usual one of its resin.
    ///
    /// # Errors
    /// A piece that is not there, a resin the press does not know.
    pub fn of_design(design: &design::Given, piece: &str) -> Result<Self, Refusal> {
        let job = design.job();
        let found = job.pieces.iter().find(|p| p.name == piece);
        let found = found.ok_or_else(|| Refusal::NoPiece {
            name: piece.to_owned(),
        })?;
        let said = job.mould.as_ref().and_then(|m| m.cut_for_share);
        let share = match said {
            Some(share) => share,
            None => card::resin(job, found)?.handling.shrinkage_share.likely,
        };
        Ok(Self::of_piece(found, &job.pieces, share))
    }

    pub(super) fn of_piece(piece: &Piece, all: &[Piece], cut_for_share: f64) -> Self {
        let loops = piece.outline.loops.iter().map(|l| l.segments.clone());
        let drawn = oriented(&loops.collect::<Vec<_>>());
        let by = 1.0 / (1.0 - cut_for_share);
        let presses = all.iter().flat_map(|p| &p.presses_on);
        Self {
            loops: drawn
                .iter()
                .map(|l| l.iter().map(|s| s.scaled(by)).collect())
                .collect(),
            drawn,
            cut_for_share,
            is_pressed_on: presses.into_iter().any(|p| p.piece == piece.name),
        }
    }

    /// The box around the drawing.
    pub(super) fn bounds(&self) -> Option<Bounds> {
        let pieces = self.drawn.iter().flatten();
        pieces.map(Segment::bounds).reduce(Bounds::with)
    }

    /// Volume of the drawn half.
    #[must_use]
    pub fn drawn_mm3(&self) -> f64 {
        moments(&self.drawn.concat()).volume
    }

    /// How much larger than the drawing every length of the cavity is.
    #[must_use]
    pub fn larger_ratio(&self) -> f64 {
        1.0 / (1.0 - self.cut_for_share)
    }

    /// The drawing's place farthest from the axle; of several, the middle of the first and the last.
    pub(super) fn outermost(&self) -> Point {
        /// Looks along each piece of outline.
        const LOOKS: u32 = 64;
        let looks = |s: &Segment| {
            (0..=LOOKS)
                .map(|k| s.at(f64::from(k) / f64::from(LOOKS)))
                .collect::<Vec<_>>()
        };
        let all: Vec<Point> = self.drawn.iter().flatten().flat_map(looks).collect();
        let most = all.iter().map(|p| p.y).fold(0.0, f64::max);
        // Places level to a thousandth of the radius are one face.
        let mut level = all.iter().filter(|p| p.y >= most * 0.999);
        let first = level.next().copied().unwrap_or_default();
        level.fold(first, |a, b| a.toward(*b, 0.5))
    }

    /// How far a place is from the drawn section, 0 inside it, and the nearest place of the outline.
    pub(super) fn nearest(&self, place: Point) -> Nearest {
        /// Looks along each piece of outline; between them the nearest place is looked for again.
        const LOOKS: u32 = 64;
        let mut best = Nearest {
            off_mm: f64::INFINITY,
            place,
        };
        for segment in self.drawn.iter().flatten() {
            let far = |t: f64| segment.at(t).distance(place);
            let ways = (0..=LOOKS).map(|k| f64::from(k) / f64::from(LOOKS));
            let at = ways
                .min_by(|a, b| far(*a).total_cmp(&far(*b)))
                .unwrap_or(0.0);
            let step = 1.0 / f64::from(LOOKS);
            let (mut low, mut high) = ((at - step).max(0.0), (at + step).min(1.0));
            // Thirds: each look takes a third away, and 60 of them leave nothing.
            for _ in 0..60 {
                let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
                if far(a) < far(b) {
                    high = b;
                } else {
                    low = a;
                }
            }
            let t = 0.5 * (low + high);
            if far(t) < best.off_mm {
                best = Nearest {
                    off_mm: far(t),
                    place: segment.at(t),
                };
            }
        }
        if whirlwright_kit::revolve::inside(&runs(&self.drawn), place) {
            best.off_mm = 0.0;
        }
        best
    }
}
