//! A drawing as SVG. Everything that came from outside is escaped here and nowhere else.

use std::fmt::Write as _;

use kurbo::{BezPath, PathEl, Point};

use super::{Anchor, Drawing, Mark, Shape, Text};
use crate::font::{FAMILY_CSS, Weight, width};
use crate::palette::PAPER;

/// Writes the whole document.
pub(super) fn write(drawing: &Drawing) -> String {
    let mut out = String::with_capacity(256 + drawing.marks.len() * 120);
    let (w, h) = (short(drawing.width), short(drawing.height));
    put(
        &mut out,
        format_args!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {w} {h}\" width=\"{w}\" \
             height=\"{h}\" role=\"img\" fill-rule=\"evenodd\" font-family=\"{FAMILY_CSS}\">\n"
        ),
    );
    put(
        &mut out,
        format_args!("<title>{}</title>\n", escaped(&drawing.title)),
    );
    put(
        &mut out,
        format_args!("<desc>{}</desc>\n", escaped(&drawing.description)),
    );
    put(
        &mut out,
        format_args!("<path d=\"M0 0H{w}V{h}H0Z\" fill=\"{}\"/>\n", PAPER.hex()),
    );
    for mark in &drawing.marks {
        match mark {
            Mark::Text(text) => write_text(&mut out, text),
            Mark::Shape(shape) => write_shape(&mut out, shape),
        }
    }
    out.push_str("</svg>\n");
    out
}

fn write_text(out: &mut String, text: &Text) {
    if text.text.is_empty() {
        return;
    }
    let (x, y) = (short(text.at.x), short(text.at.y));
    put(
        out,
        format_args!(
            "<text x=\"{x}\" y=\"{y}\" font-size=\"{}\"",
            short(text.size)
        ),
    );
    put(out, format_args!(" fill=\"{}\"", text.colour.hex()));
    if text.weight == Weight::Bold {
        out.push_str(" font-weight=\"700\"");
    }
    match text.anchor {
        Anchor::Start => {}
        Anchor::Middle => out.push_str(" text-anchor=\"middle\""),
        Anchor::End => out.push_str(" text-anchor=\"end\""),
    }
    if text.upward {
        put(out, format_args!(" transform=\"rotate(-90 {x} {y})\""));
    }
    // Another face on another machine must not run over its neighbours: the width is told.
    let wide = width(&text.text, text.size, text.weight);
    put(
        out,
        format_args!(
            " textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\"",
            short(wide)
        ),
    );
    put(out, format_args!(">{}</text>\n", escaped(&text.text)));
}

fn write_shape(out: &mut String, shape: &Shape) {
    put(out, format_args!("<path d=\"{}\"", path_data(&shape.path)));
    match shape.fill {
        None => out.push_str(" fill=\"none\""),
        Some((colour, opacity)) => {
            put(out, format_args!(" fill=\"{}\"", colour.hex()));
            if opacity < 1.0 {
                put(out, format_args!(" fill-opacity=\"{}\"", short(opacity)));
            }
        }
    }
    if let Some(stroke) = shape.stroke {
        let (colour, width) = (stroke.colour.hex(), short(stroke.width));
        put(
            out,
            format_args!(" stroke=\"{colour}\" stroke-width=\"{width}\""),
        );
        if let Some((dash, gap)) = stroke.dash {
            put(
                out,
                format_args!(" stroke-dasharray=\"{} {}\"", short(dash), short(gap)),
            );
        }
    }
    match &shape.note {
        None => out.push_str("/>\n"),
        Some(note) => put(
            out,
            format_args!("><title>{}</title></path>\n", escaped(note)),
        ),
    }
}

fn path_data(path: &BezPath) -> String {
    let mut out = String::new();
    let point = |out: &mut String, p: Point| {
        put(out, format_args!("{} {}", short(p.x), short(p.y)));
    };
    for element in path.elements() {
        let (letter, points): (char, &[Point]) = match element {
            PathEl::MoveTo(a) => ('M', &[*a]),
            PathEl::LineTo(a) => ('L', &[*a]),
            PathEl::QuadTo(a, b) => ('Q', &[*a, *b]),
            PathEl::CurveTo(a, b, c) => ('C', &[*a, *b, *c]),
            PathEl::ClosePath => ('Z', &[]),
        };
        out.push(letter);
        for (n, p) in points.iter().enumerate() {
            if n > 0 {
                out.push(' ');
            }
            point(&mut out, *p);
        }
    }
    out
}

/// A coordinate with at most two figures behind the point and no idle noughts.
fn short(value: f64) -> String {
    if !value.is_finite() {
        return "0".to_owned();
    }
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

/// The five signs that mean something in XML, and what XML cannot hold at all.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\u{fffe}' | '\u{ffff}' => out.push('\u{fffd}'),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

fn put(out: &mut String, text: std::fmt::Arguments<'_>) {
    // Writing to a string cannot fail.
    out.write_fmt(text).unwrap_or_default();
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ink::{Drawing, Stroke, Style};
    use crate::palette::INK;

    #[test]
    fn law_nothing_from_outside_becomes_markup() {
        let hostile = "<script>alert('1')</script>\"&\u{0}\u{ffff}";
        let mut drawing = Drawing::new(100.0, 50.0, hostile, hostile);
        drawing.text(1.0, 2.0, Style::plain(12.0, INK), hostile);
        drawing.line((0.0, 0.0), (1.0, 1.0), Stroke::line(INK, 1.0));
        drawing.note(hostile);
        let svg = drawing.to_svg();
        assert!(!svg.contains("<script") && !svg.contains('\u{0}') && !svg.contains('\u{ffff}'));
        assert_eq!(svg.matches("&lt;script&gt;").count(), 4);
    }

    #[test]
    fn law_coordinates_are_short_and_finite() {
        for (value, shown) in [
            (1.0, "1"),
            (1.50, "1.5"),
            (-0.001, "0"),
            (0.126, "0.13"),
            (f64::NAN, "0"),
            (100.0, "100"),
        ] {
            assert_eq!(short(value), shown);
        }
    }
}
