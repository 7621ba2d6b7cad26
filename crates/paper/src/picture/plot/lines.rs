//! Lines and dots over two scales, with bands for ranges and dashes for limits.

use kurbo::Rect;

use super::frame::{Frame, Scale};
use super::legend::{BAND, Legend};
use super::look::Look;
use crate::ink::{Drawing, Stroke, Style};
use crate::palette::{INK, PAPER, PENCIL};
use crate::picture::{LABEL, WIDTH};

/// Points over the two scales.
#[derive(Debug, Clone, PartialEq)]
pub struct Series {
    /// What they are, for the legend.
    pub name: String,
    /// The points, ascending across.
    pub points: Vec<(f64, f64)>,
    /// How they are told apart from the others.
    pub look: Look,
    /// Readings are drawn as dots without a line between them.
    pub dots: bool,
}

impl Series {
    /// A line.
    #[must_use]
    pub fn line(name: &str, look: usize, points: Vec<(f64, f64)>) -> Self {
        let (name, look) = (name.to_owned(), Look(look));
        Self {
            name,
            points,
            look,
            dots: false,
        }
    }

    /// Readings.
    #[must_use]
    pub fn dots(name: &str, look: usize, points: Vec<(f64, f64)>) -> Self {
        Self {
            dots: true,
            ..Self::line(name, look, points)
        }
    }
}

/// A range that belongs to a series.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// What it is, for the legend.
    pub name: String,
    /// Its lower edge.
    pub low: Vec<(f64, f64)>,
    /// Its upper edge.
    pub high: Vec<(f64, f64)>,
    /// It takes the colour of this look.
    pub look: Look,
}

/// A straight line with a meaning.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// What it means, with its number and unit; written beside it.
    pub words: String,
    /// Its value.
    pub at: f64,
    /// Whether it stands upright at a place of the scale across, or lies level at one of the scale up.
    pub upright: bool,
}

/// A plot of lines, dots, bands and limits.
#[derive(Debug, Clone, PartialEq)]
pub struct LinePlot {
    /// The heading; also read aloud.
    pub title: String,
    /// What can be learnt from it, for those who cannot see it.
    pub description: String,
    /// The scale across.
    pub across: Scale,
    /// The scale up.
    pub up: Scale,
    /// Ranges, drawn under the series.
    pub bands: Vec<Band>,
    /// The series.
    pub series: Vec<Series>,
    /// Straight lines with a meaning.
    pub limits: Vec<Limit>,
    /// Height of the field with its labels, in points.
    pub height: f64,
}

/// Height of a plot's field with its labels where nobody asks for another.
pub const HEIGHT: f64 = 330.0;
/// Height of the heading.
const HEAD: f64 = 40.0;
/// From one mark of a line to the next.
const MARK_EVERY: f64 = 96.0;

impl LinePlot {
    /// A plot of nothing yet.
    #[must_use]
    pub fn new(title: &str, across: Scale, up: Scale) -> Self {
        Self {
            title: title.to_owned(),
            description: String::new(),
            across,
            up,
            bands: Vec::new(),
            series: Vec::new(),
            limits: Vec::new(),
            height: HEIGHT,
        }
    }

    /// The plot as a picture of the usual width, with heading and legend.
    #[must_use]
    pub fn drawing(&self) -> Drawing {
        let legend = self.legend();
        let width = WIDTH - 24.0;
        let height = HEAD + self.height + legend.height(width) + 10.0;
        let mut drawing = Drawing::new(WIDTH, height, &self.title, &self.description);
        drawing.text(12.0, 26.0, Style::bold(LABEL + 2.0, INK), &self.title);
        let foot = HEAD + self.height;
        self.draw_in(&mut drawing, Rect::new(0.0, HEAD, WIDTH, foot));
        legend.draw(&mut drawing, 12.0, foot, width);
        drawing
    }

    /// Draws the field with its labels into a room of another drawing.
    pub fn draw_in(&self, drawing: &mut Drawing, room: Rect) {
        let frame = Frame::draw(drawing, room, &self.across, &self.up);
        for band in &self.bands {
            let area = frame.area(&band.low, &band.high);
            drawing.path(area, Some((band.look.colour(), BAND)), None);
            drawing.note(&band.name);
        }
        for series in &self.series {
            draw_series(drawing, &frame, series);
        }
        let places: Vec<_> = self
            .limits
            .iter()
            .map(|l| draw_limit(drawing, &frame, l))
            .collect();
        for (limit, place) in self.limits.iter().zip(places) {
            if let (Some(place), false) = (place, limit.words.is_empty()) {
                write_limit(drawing, place, &limit.words);
            }
        }
        frame.close(drawing);
    }

    /// The words under it. A single series whose name the heading says already needs none.
    #[must_use]
    pub fn legend(&self) -> Legend {
        let mut legend = Legend::default();
        let named = |name: &str| !name.is_empty();
        for series in self.series.iter().filter(|s| named(&s.name)) {
            if series.dots {
                legend.dots(series.look, &series.name);
            } else {
                legend.line(series.look, &series.name);
            }
        }
        for band in self.bands.iter().filter(|b| named(&b.name)) {
            legend.band(band.look.colour(), &band.name);
        }
        legend
    }
}

fn draw_series(drawing: &mut Drawing, frame: &Frame, series: &Series) {
    if series.dots {
        draw_dots(drawing, frame, series);
        return;
    }
    drawing.path(frame.line(&series.points), None, Some(series.look.stroke()));
    drawing.note(&series.name);
    // Marks stand at different places for each series, so that lines that lie upon each other show.
    let shift = (series.look.0 % 6) as f64 / 6.0 * MARK_EVERY;
    let mut next = frame.rect.x0 + 14.0 + shift;
    let inside = series.points.iter().filter(|point| frame.holds(**point));
    let few = series.points.len() <= 12;
    for point in inside {
        let at = frame.at(*point);
        if few || at.0 >= next {
            series.look.mark(drawing, at);
            next = at.0 + MARK_EVERY;
        }
    }
}

/// Most dots of one series: more than are seen apart.
const MOST_DOTS: usize = 700;

fn draw_dots(drawing: &mut Drawing, frame: &Frame, series: &Series) {
    let every = series.points.len().div_ceil(MOST_DOTS).max(1);
    let shown = series.points.iter().step_by(every);
    for point in shown.filter(|point| frame.holds(**point)) {
        series.look.dot(drawing, frame.at(*point));
    }
}

/// The line of a limit; gives the place of its words.
fn draw_limit(drawing: &mut Drawing, frame: &Frame, limit: &Limit) -> Option<(f64, f64)> {
    let rect = frame.rect;
    let stroke = Stroke::dashed(INK, 1.3, 6.0, 4.0);
    let wide = LIMIT_WORDS.width(&limit.words);
    if limit.upright {
        let x = frame.across.at(limit.at);
        if !(x >= rect.x0 && x <= rect.x1) {
            return None;
        }
        drawing.line((x, rect.y0), (x, rect.y1), stroke);
        let left = x + 6.0 + wide > rect.x1;
        let beside = if left { x - 6.0 - wide } else { x + 6.0 };
        return Some((beside, rect.y0 + 18.0));
    }
    let y = frame.up.at(limit.at);
    if !(y >= rect.y0 && y <= rect.y1) {
        return None;
    }
    drawing.line((rect.x0, y), (rect.x1, y), stroke);
    let above = if y - 20.0 < rect.y0 {
        y + 18.0
    } else {
        y - 6.0
    };
    // What falls stands high at the left and low at the right: at the left end the words hide nothing.
    Some((rect.x0 + 8.0, above))
}

const LIMIT_WORDS: Style = Style::plain(LABEL - 1.0, PENCIL);

/// Writes the words on a scrap of paper, so that no line runs through them.
fn write_limit(drawing: &mut Drawing, (x, y): (f64, f64), words: &str) {
    let wide = LIMIT_WORDS.width(words);
    let scrap = Rect::new(x - 2.0, y - 13.0, x + wide + 2.0, y + 4.0);
    drawing.fill(scrap, PAPER, 0.85);
    drawing.text(x, y, LIMIT_WORDS, words);
}
