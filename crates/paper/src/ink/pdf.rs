//! Drawings as the pages of a PDF. No clock is read and nothing is drawn at random: the same pages
//! give the same bytes.

use krilla::color::rgb;
use krilla::geom::{Path, PathBuilder, Point, Transform};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, Stroke as PdfStroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use krilla::{Data, Document};
use kurbo::{BezPath, PathEl};

use super::{Anchor, Drawing, Mark, Shape, Text};
use crate::font::{self, Weight};
use crate::palette::Colour;

/// Why a sheet could not be made; never the fault of what was read.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PaperError {
    /// A page without a size.
    #[error(
        "page {page} is {width} × {height} points: a page needs a width and a height above zero"
    )]
    Size {
        /// Which page, from 1.
        page: usize,
        /// Its width in points.
        width: f64,
        /// Its height in points.
        height: f64,
    },
    /// The bundled type could not be read.
    #[error("the bundled font cannot be read: the program file is damaged, install it again")]
    Font,
    /// The PDF writer refused.
    #[error("the sheet cannot be written as PDF: {0}")]
    Writer(String),
}

/// Writes pages as one PDF document.
///
/// # Errors
/// A page without a size; a damaged program file.
pub fn write(title: &str, pages: &[Drawing]) -> Result<Vec<u8>, PaperError> {
    let fonts = Fonts::new()?;
    let mut document = Document::new();
    document.set_metadata(
        Metadata::new()
            .title(title.to_owned())
            .creator("Whirlwright".to_owned())
            .language("en-GB".to_owned()),
    );
    for (n, drawing) in pages.iter().enumerate() {
        let (width, height) = (drawing.width, drawing.height);
        let settings =
            PageSettings::from_wh(width as f32, height as f32).ok_or(PaperError::Size {
                page: n + 1,
                width,
                height,
            })?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        for mark in &drawing.marks {
            match mark {
                Mark::Text(text) => draw_text(&mut surface, &fonts, text),
                Mark::Shape(shape) => draw_shape(&mut surface, shape),
            }
        }
        surface.finish();
        page.finish();
    }
    document
        .finish()
        .map_err(|why| PaperError::Writer(format!("{why:?}")))
}

struct Fonts {
    regular: Font,
    bold: Font,
}

impl Fonts {
    fn new() -> Result<Self, PaperError> {
        let read = |weight: Weight| Font::new(Data::from(weight.file()), 0).ok_or(PaperError::Font);
        Ok(Self {
            regular: read(Weight::Regular)?,
            bold: read(Weight::Bold)?,
        })
    }

    fn of(&self, weight: Weight) -> Font {
        match weight {
            Weight::Regular => self.regular.clone(),
            Weight::Bold => self.bold.clone(),
        }
    }
}

fn draw_text(surface: &mut Surface<'_>, fonts: &Fonts, text: &Text) {
    if text.text.is_empty() {
        return;
    }
    let glyphs: Vec<KrillaGlyph> = text
        .text
        .char_indices()
        .map(|(at, letter)| {
            let glyph = font::glyph(letter, text.weight);
            let range = at..at + letter.len_utf8();
            KrillaGlyph::new(
                GlyphId::new(glyph.id),
                glyph.advance_em,
                0.0,
                0.0,
                0.0,
                range,
                None,
            )
        })
        .collect();
    let wide = font::width(&text.text, text.size, text.weight);
    let back = match text.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => wide / 2.0,
        Anchor::End => wide,
    };
    surface.set_stroke(None);
    surface.set_fill(Some(fill(text.colour, 1.0)));
    let (x, y) = (text.at.x as f32, text.at.y as f32);
    if text.upward {
        surface.push_transform(&Transform::from_rotate_at(-90.0, x, y));
    }
    let start = Point::from_xy(x - back as f32, y);
    surface.draw_glyphs(
        start,
        &glyphs,
        fonts.of(text.weight),
        &text.text,
        text.size as f32,
        false,
    );
    if text.upward {
        surface.pop();
    }
}

fn draw_shape(surface: &mut Surface<'_>, shape: &Shape) {
    let Some(path) = outline(&shape.path) else {
        return;
    };
    surface.set_fill(shape.fill.map(|(colour, opacity)| fill(colour, opacity)));
    surface.set_stroke(shape.stroke.map(|stroke| PdfStroke {
        paint: paint(stroke.colour).into(),
        width: stroke.width as f32,
        line_cap: LineCap::Butt,
        dash: stroke.dash.map(|(dash, gap)| StrokeDash {
            array: vec![dash as f32, gap as f32],
            offset: 0.0,
        }),
        ..PdfStroke::default()
    }));
    if shape.fill.is_some() || shape.stroke.is_some() {
        surface.draw_path(&path);
    }
}

fn paint(colour: Colour) -> rgb::Color {
    rgb::Color::new(colour.0, colour.1, colour.2)
}

fn fill(colour: Colour, opacity: f64) -> Fill {
    let opacity = NormalizedF32::new(opacity.clamp(0.0, 1.0) as f32).unwrap_or(NormalizedF32::ONE);
    Fill {
        paint: paint(colour).into(),
        opacity,
        rule: FillRule::EvenOdd,
    }
}

/// None for an empty outline, and for one with a coordinate that is no number.
fn outline(path: &BezPath) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for element in path.elements() {
        let f = |p: &kurbo::Point| (p.x as f32, p.y as f32);
        match element {
            PathEl::MoveTo(a) => builder.move_to(f(a).0, f(a).1),
            PathEl::LineTo(a) => builder.line_to(f(a).0, f(a).1),
            PathEl::QuadTo(a, b) => builder.quad_to(f(a).0, f(a).1, f(b).0, f(b).1),
            PathEl::CurveTo(a, b, c) => {
                builder.cubic_to(f(a).0, f(a).1, f(b).0, f(b).1, f(c).0, f(c).1);
            }
            PathEl::ClosePath => builder.close(),
        }
    }
    builder.finish()
}
