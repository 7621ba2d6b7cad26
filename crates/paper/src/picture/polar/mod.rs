//! Polar plots: vectors by size and angle from a mark, with the limit as a circle.
//!
//! Shape and word carry the meaning, colour repeats it: a solid arrow is what was found, a dashed
//! arrow what the correction does, a square what is left, a small ring a reading.

mod disc;
mod legend;

use super::{LABEL, WIDTH};
use crate::ink::{Drawing, Style};
use crate::palette::{INK, PENCIL};

/// Width of one plot with its angles.
const CELL: f64 = 350.0;
/// Radius of a plot.
const RADIUS: f64 = 122.0;
/// From the top of a cell to the middle of its plot.
const MIDDLE: f64 = 92.0 + RADIUS;
/// From the middle of a plot to the first line of its legend.
const BELOW: f64 = RADIUS + 76.0;

/// Readings told one by one, with their numbers; more are told as a number of them.
const MOST_READINGS: usize = 8;

/// Which way round, as seen on the picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turn {
    /// As the hands of a clock go.
    Clockwise,
    /// Against the hands of a clock.
    Counterclockwise,
}

impl Turn {
    /// The word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Clockwise => "clockwise",
            Self::Counterclockwise => "counter-clockwise",
        }
    }

    /// Where a direction points on the picture: across and down.
    pub(super) fn direction(self, angle_deg: f64) -> (f64, f64) {
        let (sine, cosine) = angle_deg.to_radians().sin_cos();
        match self {
            Self::Clockwise => (sine, -cosine),
            Self::Counterclockwise => (-sine, -cosine),
        }
    }
}

/// What a point of a polar plot stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stands {
    /// One reading.
    Reading,
    /// What was found.
    Found,
    /// What the correction does.
    Correction,
    /// What is left after it.
    Left,
}

/// One vector.
#[derive(Debug, Clone, PartialEq)]
pub struct Vector {
    /// What it stands for.
    pub stands: Stands,
    /// What it is, in words for the legend.
    pub label: String,
    /// Its size, in the plot's unit.
    pub size: f64,
    /// Its angle from the mark, in degrees.
    pub angle_deg: f64,
    /// Radius of the circle it lies in, in the plot's unit.
    pub within: Option<f64>,
}

/// One polar plot.
#[derive(Debug, Clone, PartialEq)]
pub struct Polar {
    /// What is plotted, such as the name of the plane.
    pub heading: String,
    /// From which end it is seen, in words.
    pub seen_from: String,
    /// What stands at 0°.
    pub mark: String,
    /// The unit of all sizes.
    pub unit: String,
    /// Which way the angles grow on the picture.
    pub grows: Turn,
    /// Which way the thing turns on the picture, where that is known.
    pub spins: Option<Turn>,
    /// The limit that what is left has to keep.
    pub limit: Option<f64>,
    /// The vectors.
    pub vectors: Vec<Vector>,
}

impl Polar {
    /// The largest size that has to be shown.
    fn reach(&self) -> f64 {
        let sizes = self
            .vectors
            .iter()
            .map(|v| v.size + v.within.unwrap_or(0.0));
        let most = sizes
            .chain(self.limit)
            .filter(|size| size.is_finite())
            .fold(0.0, f64::max);
        if most > 0.0 { most } else { 1.0 }
    }

    /// The same near the middle, where limit and remainder are too small to be told apart.
    fn close_up(&self) -> Option<Self> {
        /// A limit under a fifth of the plot is a dot of a few points.
        const TOO_SMALL: f64 = 5.0;
        let limit = self.limit.filter(|limit| *limit > 0.0)?;
        if self.reach() < TOO_SMALL * limit {
            return None;
        }
        let near = |vector: &&Vector| {
            vector.stands == Stands::Left && vector.size < TOO_SMALL / 2.0 * limit
        };
        let vectors: Vec<Vector> = self.vectors.iter().filter(near).cloned().collect();
        (!vectors.is_empty()).then(|| Self {
            heading: format!("{}, near the middle", self.heading),
            vectors,
            ..self.clone()
        })
    }

    /// What a screen reader says.
    fn description(&self) -> String {
        let mut said = vec![format!(
            "{}, {}, angles from the {} growing {}.",
            self.heading,
            self.seen_from,
            self.mark,
            self.grows.word()
        )];
        said.extend(
            legend::entries(self)
                .into_iter()
                .map(|(_, text)| format!("{text}.")),
        );
        said.join(" ")
    }
}

/// Polar plots side by side, each with its legend; those with a small limit with a close-up.
#[must_use]
pub fn polar_drawing(title: &str, plots: &[Polar]) -> Drawing {
    let description: Vec<String> = plots.iter().map(Polar::description).collect();
    let mut drawing = Drawing::new(WIDTH, 0.0, title, &description.join(" "));
    let cells: Vec<Polar> = plots
        .iter()
        .flat_map(|plot| [Some(plot.clone()), plot.close_up()])
        .flatten()
        .collect();
    let mut top = 0.0;
    if let [only] = cells.as_slice() {
        let low = cell(&mut drawing, only, 0.0, top);
        let beside = legend::draw(&mut drawing, only, CELL + 20.0, top + 92.0);
        drawing.height = low.max(beside) + 12.0;
        return drawing;
    }
    for row in cells.chunks(2) {
        let mut lowest = top;
        for (n, plot) in row.iter().enumerate() {
            let left = 5.0 + n as f64 * (CELL + 10.0);
            cell(&mut drawing, plot, left, top);
            let low = legend::draw(&mut drawing, plot, left + 12.0, top + MIDDLE + BELOW);
            lowest = f64::max(lowest, low);
        }
        top = lowest + 18.0;
    }
    drawing.height = top.max(40.0);
    drawing
}

/// Heading and plot; gives the lowest line used.
fn cell(drawing: &mut Drawing, plot: &Polar, left: f64, top: f64) -> f64 {
    let most = CELL - 24.0;
    let fitted = |text: &str, style: Style| crate::font::fit(text, style.size, style.weight, most);
    let bold = Style::bold(LABEL + 2.0, INK);
    drawing.text(left + 12.0, top + 24.0, bold, &fitted(&plot.heading, bold));
    let plain = Style::plain(LABEL - 1.0, PENCIL);
    let said = format!("in {}, {}", plot.unit, plot.seen_from);
    drawing.text(left + 12.0, top + 44.0, plain, &fitted(&said, plain));
    disc::draw(drawing, plot, (left + CELL / 2.0, top + MIDDLE));
    top + MIDDLE + BELOW - 20.0
}

#[cfg(test)]
mod tests;
