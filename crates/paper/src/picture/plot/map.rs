//! Levels over a field of cells, light where high, with the ramp that tells which is which.

use kurbo::{BezPath, Rect};

use super::frame::{Frame, Scale};
use crate::ink::{Drawing, Stroke, Style};
use crate::palette::{INK, PENCIL, RULE, ramp};
use crate::picture::axis::Axis;
use crate::picture::{LABEL, WIDTH};
use crate::rounding;

/// Levels in columns across and rows up.
#[derive(Debug, Clone, PartialEq)]
pub struct LevelMap {
    /// What runs across, over all columns.
    pub across: Scale,
    /// What runs up, over all rows.
    pub up: Scale,
    /// How many columns.
    pub columns: usize,
    /// How many rows.
    pub rows: usize,
    /// The levels, column after column, each from the lowest row up; what is no number stays empty.
    pub levels: Vec<f64>,
    /// What the levels are, with their unit.
    pub level_label: String,
}

/// How many shades are told apart; more make a larger file and are not seen.
const SHADES: usize = 32;
/// Width of the ramp with its figures at the right.
pub const RAMP: f64 = 92.0;
/// Cells overlap by this, so that no seam of paper shows between them.
const SEAM: f64 = 0.8;

impl LevelMap {
    /// Draws the map into a room and gives its field, for lines that are drawn over it.
    pub fn draw_in(&self, drawing: &mut Drawing, room: Rect) -> Frame {
        let field = Rect::new(room.x0, room.y0, room.x1 - RAMP, room.y1);
        let frame = Frame::draw(drawing, field, &self.across, &self.up);
        let scale = Scale::over(&self.level_label, self.levels.iter().copied());
        let axis = Axis::new(scale.from, scale.to, frame.rect.y1, frame.rect.y0);
        for (n, path) in self.cells(&frame, &axis).into_iter().enumerate() {
            if !path.elements().is_empty() {
                let share = ((n / 2) as f64 + 0.5) / SHADES as f64;
                drawing.path(path, Some((ramp(share), 1.0)), None);
            }
        }
        frame.close(drawing);
        self.draw_ramp(drawing, &axis, frame.rect.x1 + 14.0);
        frame
    }

    /// The map alone as a picture of the usual width.
    #[must_use]
    pub fn drawing(&self, title: &str, description: &str, height: f64) -> Drawing {
        const HEAD: f64 = 40.0;
        let mut drawing = Drawing::new(WIDTH, HEAD + height + 8.0, title, description);
        drawing.text(12.0, 26.0, Style::bold(LABEL + 2.0, INK), title);
        self.draw_in(&mut drawing, Rect::new(0.0, HEAD, WIDTH, HEAD + height));
        drawing
    }

    /// Two outlines a shade, of even and of odd columns, because columns overlap and what overlaps
    /// in one outline would be a hole; neighbours of one shade in a column are one rectangle.
    fn cells(&self, frame: &Frame, axis: &Axis) -> Vec<BezPath> {
        let mut shades = vec![BezPath::new(); 2 * SHADES];
        let rect = frame.rect;
        let wide = rect.width() / self.columns.max(1) as f64;
        let tall = rect.height() / self.rows.max(1) as f64;
        let columns = self.levels.chunks(self.rows.max(1)).take(self.columns);
        for (column, levels) in columns.enumerate() {
            let left = rect.x0 + column as f64 * wide;
            let mut row = 0;
            for run in levels.chunk_by(|a, b| shade(*a, axis) == shade(*b, axis)) {
                let (from, to) = (row, row + run.len());
                row = to;
                let Some(shade) = run.first().and_then(|level| shade(*level, axis)) else {
                    continue;
                };
                let cell = Rect::new(
                    left,
                    (rect.y1 - to as f64 * tall - SEAM).max(rect.y0),
                    (left + wide + SEAM).min(rect.x1),
                    rect.y1 - from as f64 * tall,
                );
                add(&mut shades[2 * shade + column % 2], cell);
            }
        }
        shades
    }

    fn draw_ramp(&self, drawing: &mut Drawing, axis: &Axis, left: f64) {
        const BROAD: f64 = 16.0;
        let tall = (axis.start - axis.end) / SHADES as f64;
        for shade in 0..SHADES {
            let foot = axis.start - shade as f64 * tall;
            let step = Rect::new(left, (foot - tall - SEAM).max(axis.end), left + BROAD, foot);
            drawing.fill(step, ramp((shade as f64 + 0.5) / SHADES as f64), 1.0);
        }
        let frame = Rect::new(left, axis.end, left + BROAD, axis.start);
        drawing.frame(frame, Stroke::line(RULE, 1.0));
        let style = Style::plain(LABEL - 1.0, PENCIL);
        let (ticks, places) = axis.ticks(4);
        for tick in ticks {
            let label = rounding::number(tick, places);
            drawing.text(left + BROAD + 5.0, axis.at(tick) + 5.0, style, &label);
        }
        let middle = axis.end.midpoint(axis.start);
        drawing.upward(left + RAMP - 18.0, middle, style, &self.level_label);
    }
}

/// Which shade a level has; none for what is no number.
fn shade(level: f64, axis: &Axis) -> Option<usize> {
    let share = (level - axis.from) / (axis.to - axis.from);
    let shade = (share.clamp(0.0, 1.0) * SHADES as f64) as usize;
    level.is_finite().then_some(shade.min(SHADES - 1))
}

fn add(path: &mut BezPath, cell: Rect) {
    path.move_to((cell.x0, cell.y0));
    path.line_to((cell.x1, cell.y0));
    path.line_to((cell.x1, cell.y1));
    path.line_to((cell.x0, cell.y1));
    path.close_path();
}
