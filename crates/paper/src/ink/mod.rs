//! A drawing as a list of marks, and its two ways out: SVG for screens, PDF for paper.
//!
//! x runs right, y runs down. Only two kinds of marks exist, text and shape, so that both ways out
//! stay small and show the same.

pub mod hatch;
pub mod pdf;
mod svg;

use kurbo::{Affine, BezPath, Circle, Line, Point, Rect, RoundedRect, Shape as _};

use crate::font::{self, Weight};
use crate::palette::Colour;

/// Curves are flattened or replaced to this, in the drawing's own unit: far below what is seen.
const FINE: f64 = 0.01;

/// A picture or a page.
#[derive(Debug, Clone)]
pub struct Drawing {
    /// Width in points.
    pub width: f64,
    /// Height in points.
    pub height: f64,
    /// What it shows, in a few words; read aloud by screen readers.
    pub title: String,
    /// What can be learnt from it, in a sentence or two.
    pub description: String,
    /// The marks, the first at the bottom.
    pub marks: Vec<Mark>,
}

/// One mark.
#[derive(Debug, Clone)]
pub enum Mark {
    /// A line of text.
    Text(Text),
    /// A filled or stroked shape.
    Shape(Shape),
}

/// Which point of a text stands at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Its left end.
    Start,
    /// Its middle.
    Middle,
    /// Its right end.
    End,
}

/// One line of text.
#[derive(Debug, Clone)]
pub struct Text {
    /// Where its anchor stands, on the base line.
    pub at: Point,
    /// What it says.
    pub text: String,
    /// Type size in points.
    pub size: f64,
    /// How heavy.
    pub weight: Weight,
    /// Which point stands at `at`.
    pub anchor: Anchor,
    /// Its colour.
    pub colour: Colour,
    /// Turned a quarter to read upward.
    pub upward: bool,
}

/// A filled or stroked shape.
#[derive(Debug, Clone)]
pub struct Shape {
    /// Its outline; a loop inside a loop is a hole (even-odd rule).
    pub path: BezPath,
    /// Its filling and how opaque that is, 0 to 1.
    pub fill: Option<(Colour, f64)>,
    /// Its line.
    pub stroke: Option<Stroke>,
    /// What a pointer resting on it is told.
    pub note: Option<String>,
}

/// A line.
#[derive(Debug, Clone, Copy)]
pub struct Stroke {
    /// Its colour.
    pub colour: Colour,
    /// Its width in points.
    pub width: f64,
    /// Length of dash and gap in points; none for a whole line.
    pub dash: Option<(f64, f64)>,
}

impl Stroke {
    /// A whole line.
    #[must_use]
    pub fn line(colour: Colour, width: f64) -> Self {
        Self {
            colour,
            width,
            dash: None,
        }
    }

    /// A dashed line.
    #[must_use]
    pub fn dashed(colour: Colour, width: f64, dash: f64, gap: f64) -> Self {
        Self {
            colour,
            width,
            dash: Some((dash, gap)),
        }
    }
}

/// How a text is set.
#[derive(Debug, Clone, Copy)]
pub struct Style {
    /// Type size in points.
    pub size: f64,
    /// How heavy.
    pub weight: Weight,
    /// Its colour.
    pub colour: Colour,
}

impl Style {
    /// Plain text.
    #[must_use]
    pub const fn plain(size: f64, colour: Colour) -> Self {
        Self {
            size,
            weight: Weight::Regular,
            colour,
        }
    }

    /// Bold text.
    #[must_use]
    pub const fn bold(size: f64, colour: Colour) -> Self {
        Self {
            size,
            weight: Weight::Bold,
            colour,
        }
    }

    /// How wide a text runs.
    #[must_use]
    pub fn width(self, text: &str) -> f64 {
        font::width(text, self.size, self.weight)
    }
}

impl Drawing {
    /// An empty sheet.
    #[must_use]
    pub fn new(width: f64, height: f64, title: &str, description: &str) -> Self {
        let (title, description) = (title.to_owned(), description.to_owned());
        Self {
            width,
            height,
            title,
            description,
            marks: Vec::new(),
        }
    }

    /// Writes a line of text from its left end.
    pub fn text(&mut self, x: f64, y: f64, style: Style, text: &str) {
        self.anchored(x, y, style, Anchor::Start, text);
    }

    /// Writes a line of text by the given point of it.
    pub fn anchored(&mut self, x: f64, y: f64, style: Style, anchor: Anchor, text: &str) {
        self.marks.push(Mark::Text(Text {
            at: Point::new(x, y),
            text: one_line(text),
            size: style.size,
            weight: style.weight,
            anchor,
            colour: style.colour,
            upward: false,
        }));
    }

    /// Writes a line of text that reads upward, by its middle.
    pub fn upward(&mut self, x: f64, y: f64, style: Style, text: &str) {
        self.anchored(x, y, style, Anchor::Middle, text);
        if let Some(Mark::Text(last)) = self.marks.last_mut() {
            last.upward = true;
        }
    }

    /// Writes a text in as many lines as it takes and gives the base line after the last.
    pub fn paragraph(&mut self, x: f64, y: f64, width: f64, style: Style, text: &str) -> f64 {
        let leading = style.size * 1.35;
        let lines = font::wrap(text, style.size, style.weight, width);
        for (n, line) in lines.iter().enumerate() {
            self.text(x, y + n as f64 * leading, style, line);
        }
        y + lines.len() as f64 * leading
    }

    /// Draws a straight line.
    pub fn line(&mut self, from: (f64, f64), to: (f64, f64), stroke: Stroke) {
        self.path(Line::new(from, to).to_path(FINE), None, Some(stroke));
    }

    /// Fills a rectangle.
    pub fn fill(&mut self, rect: Rect, colour: Colour, opacity: f64) {
        self.path(rect.to_path(FINE), Some((colour, opacity)), None);
    }

    /// Draws the frame of a rectangle with slightly rounded corners.
    pub fn frame(&mut self, rect: Rect, stroke: Stroke) {
        self.path(
            RoundedRect::from_rect(rect, 1.5).to_path(FINE),
            None,
            Some(stroke),
        );
    }

    /// Draws a disc or ring.
    pub fn disc(
        &mut self,
        centre: (f64, f64),
        radius: f64,
        fill: Option<(Colour, f64)>,
        stroke: Option<Stroke>,
    ) {
        self.path(Circle::new(centre, radius).to_path(FINE), fill, stroke);
    }

    /// Draws any outline.
    pub fn path(&mut self, path: BezPath, fill: Option<(Colour, f64)>, stroke: Option<Stroke>) {
        self.marks.push(Mark::Shape(Shape {
            path,
            fill,
            stroke,
            note: None,
        }));
    }

    /// Gives the last shape a note for the pointer that rests on it.
    pub fn note(&mut self, note: &str) {
        if let Some(Mark::Shape(shape)) = self.marks.last_mut() {
            shape.note = Some(one_line(note));
        }
    }

    /// Puts another drawing into this one, its upper left corner at a place, scaled to a width.
    ///
    /// Gives the height it takes.
    pub fn put(&mut self, x: f64, y: f64, width: f64, picture: &Self) -> f64 {
        let scale = width / picture.width;
        let affine = Affine::translate((x, y)) * Affine::scale(scale);
        self.marks
            .extend(picture.marks.iter().map(|mark| mark.moved(affine, scale)));
        picture.height * scale
    }

    /// The drawing as an SVG document that can stand in a page or in a file of its own.
    #[must_use]
    pub fn to_svg(&self) -> String {
        svg::write(self)
    }
}

impl Mark {
    fn moved(&self, affine: Affine, scale: f64) -> Self {
        match self {
            Self::Text(text) => Self::Text(Text {
                at: affine * text.at,
                size: text.size * scale,
                ..text.clone()
            }),
            Self::Shape(shape) => Self::Shape(Shape {
                path: affine * &shape.path,
                stroke: shape.stroke.map(|s| Stroke {
                    width: s.width * scale,
                    dash: s.dash.map(|(dash, gap)| (dash * scale, gap * scale)),
                    ..s
                }),
                ..shape.clone()
            }),
        }
    }
}

/// Line ends and other control signs become spaces: a mark is one line.
fn one_line(text: &str) -> String {
    text.chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect()
}
