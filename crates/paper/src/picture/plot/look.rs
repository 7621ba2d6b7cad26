//! How the n-th series is told apart: by colour, by dash and by mark, so that any one would do.

use kurbo::{BezPath, Circle, Rect, Shape as _};

use crate::ink::{Drawing, Stroke};
use crate::palette::{Colour, PAPER, category};

/// Line width of a series.
const WIDTH: f64 = 2.2;
/// Half the size of a mark.
const MARK: f64 = 4.6;

/// The look of one series.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Look(pub usize);

impl Look {
    /// Its colour.
    #[must_use]
    pub fn colour(self) -> Colour {
        category(self.0)
    }

    /// Its line.
    #[must_use]
    pub fn stroke(self) -> Stroke {
        const DASHES: [Option<(f64, f64)>; 4] =
            [None, Some((9.0, 4.0)), Some((2.5, 3.0)), Some((16.0, 4.0))];
        Stroke {
            colour: self.colour(),
            width: WIDTH,
            dash: DASHES[self.0 % DASHES.len()],
        }
    }

    /// Draws its mark: disc, square, triangle, diamond, ring, or square frame.
    pub fn mark(self, drawing: &mut Drawing, at: (f64, f64)) {
        self.mark_of(drawing, at, MARK);
    }

    /// Draws its mark small, for readings of which there are many.
    pub fn dot(self, drawing: &mut Drawing, at: (f64, f64)) {
        self.mark_of(drawing, at, MARK * 0.55);
    }

    fn mark_of(self, drawing: &mut Drawing, (x, y): (f64, f64), r: f64) {
        let polygon = |corners: &[(f64, f64)]| {
            let mut path = BezPath::new();
            for (n, (dx, dy)) in corners.iter().enumerate() {
                let corner = (x + dx * r, y + dy * r);
                if n == 0 {
                    path.move_to(corner);
                } else {
                    path.line_to(corner);
                }
            }
            path.close_path();
            path
        };
        let square = || Rect::new(x - r * 0.9, y - r * 0.9, x + r * 0.9, y + r * 0.9).to_path(0.1);
        let disc = || Circle::new((x, y), r).to_path(0.01);
        let (path, open) = match self.0 % 6 {
            0 => (disc(), false),
            1 => (square(), false),
            2 => (polygon(&[(0.0, -1.2), (1.1, 0.9), (-1.1, 0.9)]), false),
            3 => (
                polygon(&[(0.0, -1.3), (1.3, 0.0), (0.0, 1.3), (-1.3, 0.0)]),
                false,
            ),
            4 => (disc(), true),
            _ => (square(), true),
        };
        let (fill, edge) = if open {
            (PAPER, Stroke::line(self.colour(), 1.6))
        } else {
            (self.colour(), Stroke::line(PAPER, 0.8))
        };
        drawing.path(path, Some((fill, 1.0)), Some(edge));
    }
}
