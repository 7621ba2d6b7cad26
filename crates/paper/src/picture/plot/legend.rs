//! The words under a plot, each beside what it stands for.

use kurbo::{Rect, Shape as _};

use super::look::Look;
use crate::ink::hatch::{self, Hatch};
use crate::ink::{Drawing, Stroke, Style};
use crate::palette::{Colour, INK};
use crate::picture::LABEL;

/// One entry.
enum Swatch {
    Line(Look),
    Dots(Look),
    Limit(Stroke),
    Band(Colour),
    Area(Look),
}

/// The entries of a legend, in their order.
#[derive(Default)]
pub struct Legend {
    entries: Vec<(Swatch, String)>,
}

const LEADING: f64 = 24.0;
const SWATCH: f64 = 34.0;

impl Legend {
    /// A line with its mark.
    pub fn line(&mut self, look: Look, words: &str) {
        self.entries.push((Swatch::Line(look), words.to_owned()));
    }

    /// Readings, as small marks.
    pub fn dots(&mut self, look: Look, words: &str) {
        self.entries.push((Swatch::Dots(look), words.to_owned()));
    }

    /// A limit or another straight line with a meaning.
    pub fn limit(&mut self, stroke: Stroke, words: &str) {
        self.entries.push((Swatch::Limit(stroke), words.to_owned()));
    }

    /// A range as a faint band.
    pub fn band(&mut self, colour: Colour, words: &str) {
        self.entries.push((Swatch::Band(colour), words.to_owned()));
    }

    /// A hatched area.
    pub fn area(&mut self, look: Look, words: &str) {
        self.entries.push((Swatch::Area(look), words.to_owned()));
    }

    /// How high it will be at this width.
    #[must_use]
    pub fn height(&self, width: f64) -> f64 {
        self.placed(width).last().map_or(0.0, |(_, y)| y + LEADING)
    }

    /// Draws it from its upper left corner.
    pub fn draw(&self, drawing: &mut Drawing, left: f64, top: f64, width: f64) {
        for ((swatch, words), (x, y)) in self.entries.iter().zip(self.placed(width)) {
            let (x, y) = (left + x, top + y + LEADING * 0.7);
            draw_swatch(drawing, swatch, (x, y - 5.0));
            drawing.text(x + SWATCH + 7.0, y, style(), words);
        }
    }

    fn placed(&self, width: f64) -> Vec<(f64, f64)> {
        let (mut x, mut y) = (0.0, 0.0);
        let mut places = Vec::new();
        for (_, words) in &self.entries {
            let wide = SWATCH + 7.0 + style().width(words);
            if x > 0.0 && x + wide > width {
                (x, y) = (0.0, y + LEADING);
            }
            places.push((x, y));
            x += wide + 24.0;
        }
        places
    }
}

fn style() -> Style {
    Style::plain(LABEL - 1.0, INK)
}

fn draw_swatch(drawing: &mut Drawing, swatch: &Swatch, (x, y): (f64, f64)) {
    let box_of = Rect::new(x, y - 7.0, x + SWATCH, y + 7.0);
    match swatch {
        Swatch::Line(look) => {
            drawing.line((x, y), (x + SWATCH, y), look.stroke());
            look.mark(drawing, (x + SWATCH / 2.0, y));
        }
        Swatch::Dots(look) => {
            for share in [0.2, 0.5, 0.8] {
                look.dot(drawing, (x + SWATCH * share, y));
            }
        }
        Swatch::Limit(stroke) => drawing.line((x, y), (x + SWATCH, y), *stroke),
        Swatch::Band(colour) => drawing.fill(box_of, *colour, BAND),
        Swatch::Area(look) => area(drawing, box_of.to_path(0.1), *look),
    }
}

/// How opaque a band is.
pub(super) const BAND: f64 = 0.18;

/// Draws an area with the colour and the hatching of its layer.
pub(super) fn area(drawing: &mut Drawing, outline: kurbo::BezPath, look: Look) {
    const ANGLES: [Option<f64>; 6] = [None, Some(45.0), Some(135.0), Some(0.0), Some(90.0), None];
    let lines = ANGLES[look.0 % ANGLES.len()].map(|angle_deg| {
        let spacing = 8.0;
        hatch::lines(&outline, Hatch { angle_deg, spacing })
    });
    drawing.path(
        outline,
        Some((look.colour(), 0.45)),
        Some(Stroke::line(INK, 0.9)),
    );
    if let Some(lines) = lines {
        drawing.path(lines, None, Some(Stroke::line(look.colour(), 1.2)));
    }
}
