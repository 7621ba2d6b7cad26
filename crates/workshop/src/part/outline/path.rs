//! From the commands of an SVG path to closed loops.

use std::fmt::Write;

use whirlwright_kit::revolve::{Arc, Point, Segment};

use super::cursor::Cursor;
use super::{Loop, NotAnOutline, Outline};

/// Ends closer than this, in mm, are one place: sums of relative steps round, drawings do not
/// mean a nanometre.
const SAME_PLACE_MM: f64 = 1e-9;

/// Most segments of one outline: far more than a drawing has, few enough to check every pair.
const MOST_SEGMENTS: usize = 5_000;

/// Reads a path; see [`Outline::read`].
pub(super) fn read(text: &str) -> Result<Outline, NotAnOutline> {
    let mut cursor = Cursor::new(text);
    let mut pen = Pen::default();
    while !cursor.done() {
        let at = cursor.at;
        let Some(letter) = cursor.letter() else {
            let what = format!(
                "{} was read where a command was expected (M L H V C S Q T A Z)",
                cursor.here()
            );
            return Err(NotAnOutline { at, what });
        };
        command(&mut cursor, &mut pen, letter, at)?;
    }
    pen.finish_open_loop(text.len())?;
    if pen.loops.is_empty() {
        let what = "the outline is empty; a closed path such as `M 3 2 L 3 9 L 8 2 Z` was expected";
        return Err(NotAnOutline {
            at: 0,
            what: what.to_owned(),
        });
    }
    let (path, mirrored_path) = (pen.path.trim().to_owned(), pen.mirrored.trim().to_owned());
    Ok(Outline {
        text: text.to_owned(),
        loops: pen.loops,
        path,
        mirrored_path,
    })
}

/// One command with all its repetitions.
fn command(
    cursor: &mut Cursor<'_>,
    pen: &mut Pen,
    letter: u8,
    at: usize,
) -> Result<(), NotAnOutline> {
    let mut upper = letter.to_ascii_uppercase();
    let relative = letter.is_ascii_lowercase();
    if upper != b'M' && pen.start.is_none() {
        let what = format!(
            "the path starts with `{}`; `M x y` was expected first",
            char::from(letter)
        );
        return Err(NotAnOutline { at, what });
    }
    if upper == b'Z' {
        return pen.close(at);
    }
    let mut at = at;
    loop {
        match upper {
            b'M' => {
                pen.finish_open_loop(at)?;
                let to = point(cursor, pen, relative)?;
                pen.begin(to, at);
            }
            b'L' | b'H' | b'V' => {
                let to = straight_end(cursor, pen, upper, relative)?;
                pen.line(to, at);
            }
            b'C' | b'S' => {
                let first = if upper == b'C' {
                    point(cursor, pen, relative)?
                } else {
                    pen.reflected(b'C')
                };
                let (second, to) = (point(cursor, pen, relative)?, point(cursor, pen, relative)?);
                pen.cubic(first, second, to, at);
            }
            b'Q' | b'T' => {
                let control = if upper == b'Q' {
                    point(cursor, pen, relative)?
                } else {
                    pen.reflected(b'Q')
                };
                let to = point(cursor, pen, relative)?;
                pen.quad(control, to, at);
            }
            b'A' => arc(cursor, pen, relative, at)?,
            _ => {
                let what = format!(
                    "`{}` is no path command; M L H V C S Q T A Z (or small letters) were expected",
                    char::from(letter)
                );
                return Err(NotAnOutline { at, what });
            }
        }
        if pen.count > MOST_SEGMENTS {
            let what =
                format!("the outline has more than {MOST_SEGMENTS} segments; draw it with arcs");
            return Err(NotAnOutline { at, what });
        }
        if !cursor.number_follows() {
            return Ok(());
        }
        at = cursor.at;
        if upper == b'M' {
            upper = b'L';
        }
    }
}

fn point(cursor: &mut Cursor<'_>, pen: &Pen, relative: bool) -> Result<Point, NotAnOutline> {
    let at = cursor.at;
    let (x, y) = (cursor.number("x in mm")?, cursor.number("y in mm")?);
    let place = if relative {
        pen.here + Point::new(x, y)
    } else {
        Point::new(x, y)
    };
    reachable(place, at)
}

/// Places past a thousand kilometres are slips, and their powers leave the range of floats.
fn reachable(place: Point, at: usize) -> Result<Point, NotAnOutline> {
    const FARTHEST_MM: f64 = 1e9;
    if place.x.abs() <= FARTHEST_MM && place.y.abs() <= FARTHEST_MM {
        return Ok(place);
    }
    let what = format!("({}, {}) mm is too far away to draw", place.x, place.y);
    Err(NotAnOutline { at, what })
}

fn straight_end(
    cursor: &mut Cursor<'_>,
    pen: &Pen,
    upper: u8,
    relative: bool,
) -> Result<Point, NotAnOutline> {
    let (base, at) = (pen.here, cursor.at);
    let place = match upper {
        b'H' => {
            let x = cursor.number("x in mm")?;
            Point::new(if relative { base.x + x } else { x }, base.y)
        }
        b'V' => {
            let y = cursor.number("y in mm")?;
            Point::new(base.x, if relative { base.y + y } else { y })
        }
        _ => return point(cursor, pen, relative),
    };
    reachable(place, at)
}

fn arc(
    cursor: &mut Cursor<'_>,
    pen: &mut Pen,
    relative: bool,
    at: usize,
) -> Result<(), NotAnOutline> {
    let radii_at = cursor.at;
    let (rx, ry) = (
        cursor.number("the first radius")?,
        cursor.number("the second radius")?,
    );
    reachable(Point::new(rx, ry), radii_at)?;
    let degrees = cursor.number("the rotation in degrees")? % 360.0;
    let large = cursor.flag("the large-arc flag")?;
    let positive = cursor.flag("the sweep flag")?;
    let to = point(cursor, pen, relative)?;
    let made = Arc::from_ends(
        pen.here,
        to,
        (rx, ry),
        degrees.to_radians(),
        large,
        positive,
    );
    match made {
        Some(arc) => {
            let flags = (u8::from(large), u8::from(positive), u8::from(!positive));
            let (x, y) = (short(to.x), short(to.y));
            let _ = write!(
                pen.path,
                "A {rx} {ry} {degrees} {} {} {x} {y} ",
                flags.0, flags.1
            );
            let mirrored_x = short(-to.x);
            let _ = write!(
                pen.mirrored,
                "A {rx} {ry} {} {} {} {mirrored_x} {y} ",
                0.0 - degrees,
                flags.0,
                flags.2
            );
            pen.push(Segment::Arc(arc), at);
        }
        None => pen.line(to, at),
    }
    Ok(())
}

/// A number for a picture: six digits behind the point, and no minus before a nought.
fn short(value: f64) -> f64 {
    const MILLION: f64 = 1e6;
    (value * MILLION).round() / MILLION + 0.0
}

/// What has been drawn so far.
#[derive(Default)]
struct Pen {
    loops: Vec<Loop>,
    segments: Vec<Segment>,
    places: Vec<usize>,
    count: usize,
    start: Option<Point>,
    begun_at: usize,
    here: Point,
    control: Option<(u8, Point)>,
    path: String,
    mirrored: String,
}

impl Pen {
    fn begin(&mut self, to: Point, at: usize) {
        (self.start, self.here, self.begun_at, self.control) = (Some(to), to, at, None);
        self.write("M", &[to]);
    }

    fn write(&mut self, letter: &str, points: &[Point]) {
        self.path.push_str(letter);
        self.mirrored.push_str(letter);
        for p in points {
            let _ = write!(self.path, " {} {}", short(p.x), short(p.y));
            let _ = write!(self.mirrored, " {} {}", short(-p.x), short(p.y));
        }
        self.path.push(' ');
        self.mirrored.push(' ');
    }

    fn push(&mut self, segment: Segment, at: usize) {
        self.count += 1;
        (self.here, self.control) = (segment.end(), None);
        self.segments.push(segment);
        self.places.push(at);
    }

    fn line(&mut self, to: Point, at: usize) {
        self.control = None;
        if to != self.here {
            self.write("L", &[to]);
            self.push(Segment::Line(self.here, to), at);
        }
    }

    fn quad(&mut self, control: Point, to: Point, at: usize) {
        if control != self.here || to != self.here {
            self.write("Q", &[control, to]);
            self.push(Segment::Quad(self.here, control, to), at);
        }
        self.control = Some((b'Q', control));
    }

    fn cubic(&mut self, first: Point, second: Point, to: Point, at: usize) {
        if first != self.here || second != self.here || to != self.here {
            self.write("C", &[first, second, to]);
            self.push(Segment::Cubic(self.here, first, second, to), at);
        }
        self.control = Some((b'C', second));
    }

    /// The control a smooth curve starts with: the last one mirrored in the place reached, if the
    /// curve before was of the same kind.
    fn reflected(&self, kind: u8) -> Point {
        match self.control {
            Some((last, control)) if last == kind => self.here * 2.0 - control,
            _ => self.here,
        }
    }

    fn close(&mut self, at: usize) -> Result<(), NotAnOutline> {
        let start = self.start.unwrap_or(self.here);
        if self.here.distance(start) > SAME_PLACE_MM {
            self.count += 1;
            self.segments.push(Segment::Line(self.here, start));
            self.places.push(at);
        }
        self.end_loop(start)
    }

    fn finish_open_loop(&mut self, at: usize) -> Result<(), NotAnOutline> {
        let (Some(start), false) = (self.start, self.segments.is_empty()) else {
            return Ok(());
        };
        let gap = self.here.distance(start);
        if gap > SAME_PLACE_MM {
            let (x, y, x0, y0) = (
                short(self.here.x),
                short(self.here.y),
                short(start.x),
                short(start.y),
            );
            let what = format!(
                "the outline is open: it ends at ({x}, {y}), {:.3} mm from its start ({x0}, {y0}); \
                 a closed path was expected, so end it with Z",
                gap
            );
            return Err(NotAnOutline {
                at: at.saturating_sub(1),
                what,
            });
        }
        self.end_loop(start)
    }

    /// Takes the loop in, its last end put exactly on its start.
    fn end_loop(&mut self, start: Point) -> Result<(), NotAnOutline> {
        if self.segments.is_empty() {
            let what = "a loop without any segment was closed; lines, arcs or curves were expected";
            return Err(NotAnOutline {
                at: self.begun_at,
                what: what.to_owned(),
            });
        }
        if let Some(last) = self.segments.last_mut() {
            match last {
                Segment::Line(_, end) | Segment::Quad(.., end) | Segment::Cubic(.., end) => {
                    *end = start
                }
                Segment::Arc(arc) => arc.to = start,
            }
        }
        self.path.push_str("Z ");
        self.mirrored.push_str("Z ");
        let segments = std::mem::take(&mut self.segments);
        self.loops.push(Loop {
            segments,
            places: std::mem::take(&mut self.places),
        });
        (self.here, self.control) = (start, None);
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn segments(text: &str) -> Vec<Segment> {
        read(text)
            .unwrap()
            .loops
            .into_iter()
            .flat_map(|l| l.segments)
            .collect()
    }

    #[test]
    fn law_relative_and_absolute_commands_draw_the_same() {
        let absolute = "M 2 3 L 6 3 H 9 V 8 Q 8 12 6 8 T 4 8 C 4 7 3 7 3 6 S 1 5 2 3 Z";
        let relative = "m2,3l4 0h3v5q-1 4-3 0t-2 0c0-1-1-1-1-2s-2-1-1-3z";
        assert_eq!(segments(absolute), segments(relative));
        assert_eq!(segments("M2 3 6 3 6 5Z"), segments("M2 3L6 3L6 5Z"));
    }

    #[test]
    fn law_the_flags_of_an_arc_need_no_space() {
        assert_eq!(
            segments("M2 3a1 1 0 012 0z"),
            segments("M 2 3 A 1 1 0 0 1 4 3 Z")
        );
    }

    #[test]
    fn law_a_path_that_is_none_is_refused_at_its_place() {
        let cases = [
            ("", 0, "empty"),
            ("L 2 3", 0, "`M x y` was expected first"),
            ("M 2", 3, "the end of the path"),
            ("M 2 3 L 4 x", 10, "`x` was read"),
            ("M 2 3 L 4 5 X", 12, "no path command"),
            ("M 2 3 L 4 5 L 6 3", 16, "the outline is open"),
            (
                "M 2 3 L 4 5 L 6 3 M 0 0 L 1 1 L 1 0 Z",
                17,
                "the outline is open",
            ),
            ("M 2 3 A 1 1 0 2 0 4 3 Z", 14, "0 or 1"),
            ("M 2 3 L 1e400 3 Z", 8, "too large"),
            ("M 2 3 L 1e12 3 Z", 7, "too far"),
            ("M 2 3 Z", 0, "without any segment"),
            ("M NaN 3 Z", 2, "`N` was read"),
            ("M 2 3 L 4 5 Z 7", 14, "a command was expected"),
            ("M 2 3 L é 5 Z", 8, "`é`"),
        ];
        for (text, at, said) in cases {
            let error = read(text).unwrap_err();
            assert!(error.what.contains(said), "{text}: {}", error.what);
            assert_eq!(error.at, at, "{text}: {}", error.what);
        }
    }

    #[test]
    fn law_the_mirrored_path_is_the_mirror_of_the_path() {
        let outline = read("M 2 3 L 4 3 A 2 1 30 0 1 6 5 Q 4 9 2 5 C 1 4 1 4 2 3 Z").unwrap();
        let mirrored = read(&outline.mirrored_path).unwrap();
        for (ours, other) in outline.loops[0]
            .segments
            .iter()
            .zip(&mirrored.loops[0].segments)
        {
            for t in [0.0, 0.25, 0.5, 0.75, 1.0] {
                // The path of the picture is rounded to a millionth of a mm.
                assert!(ours.at(t).mirrored().distance(other.at(t)) < 2e-6);
            }
        }
    }
}
