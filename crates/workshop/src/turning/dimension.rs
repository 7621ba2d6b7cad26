//! The turned dimensions of a section: its straight runs, each with the broken edges beside it.

use whirlwright_kit::revolve::{Point, Segment, Shift, shift};

use super::given::Given;
use crate::part::job::Side;

/// A slanted or curved stretch no larger than this, both ways, is a broken edge: it goes with the
/// face and with the cylinder it stands between, and nobody turns it to a size of its own.
const EDGE_MM: f64 = 1.0;

/// Places closer than this are one surface: a tenth of a micrometre.
const SAME_MM: f64 = 1e-4;

/// What kind of surface.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Surface {
    /// A cylinder that faces outward.
    Outside,
    /// A cylinder that faces the axle.
    Bore,
    /// A face square to the axle.
    Face,
    /// A slanted surface larger than a broken edge.
    Taper,
}

/// One dimension that the piece is turned to.
#[derive(Debug, Clone, PartialEq)]
pub struct Dimension {
    /// Its name: the surface and where it stands, such as `face 21.5` or `outside 58`.
    pub name: String,
    /// What kind of surface.
    pub surface: Surface,
    /// The size: the diameter, or the distance of a face from the datum face; none of a taper and of
    /// the datum itself.
    pub size_mm: Option<f64>,
    /// Whether the other faces are measured from this one.
    pub datum: bool,
    /// Whether it is the fit on the half.
    pub fit: bool,
    /// The direction the border goes when the size grows (for a bore, the material shrinks).
    pub grows: Point,
    /// How far the border goes for 1 mm of the size: a half for diameters.
    pub border_per_mm: f64,
    /// Its stretches of border.
    pub stretches: Vec<Vec<Segment>>,
}

impl Dimension {
    /// What 1 mm of the size does to the solid's integrals.
    #[must_use]
    pub fn shift(&self) -> Shift {
        let along = self.grows * self.border_per_mm;
        let each = self.stretches.iter().map(|s| shift(s, along));
        each.fold(Shift::default(), Shift::with)
    }

    /// Farthest radius of the surface.
    #[must_use]
    pub fn radius_mm(&self) -> f64 {
        let ends = self.stretches.iter().flatten();
        ends.fold(0.0, |most, s| most.max(s.start().y).max(s.end().y))
    }
}

/// Every dimension, faces from the datum on, then cylinders from the outside in.
pub(super) fn dimensions(given: &Given) -> Vec<Dimension> {
    let mut found: Vec<Dimension> = Vec::new();
    for border in &given.loops {
        for at in 0..border.len() {
            let Some(mut next) = straight(border, at) else {
                continue;
            };
            let same = |d: &&mut Dimension| d.name == next.name && d.grows == next.grows;
            match found.iter_mut().find(same) {
                Some(known) => known.stretches.append(&mut next.stretches),
                None => found.push(next),
            }
        }
    }
    measure_faces(given, &mut found);
    mark_fit(&mut found);
    name_apart(&mut found);
    found.sort_by(|a, b| order(a).total_cmp(&order(b)));
    found
}

/// Faces first, datum before all, then outsides, bores from large to small, tapers last.
fn order(d: &Dimension) -> f64 {
    /// Farther than any size.
    const ROOM: f64 = 1e7;
    let size = d.size_mm.unwrap_or(0.0);
    match d.surface {
        Surface::Face if d.datum => -ROOM,
        Surface::Face => size,
        Surface::Outside => 2.0 * ROOM - size,
        Surface::Bore => 4.0 * ROOM - size,
        Surface::Taper => 6.0 * ROOM,
    }
}

/// The dimension of a straight segment with the broken edges beside it; none of an edge itself.
fn straight(border: &[Segment], at: usize) -> Option<Dimension> {
    let Segment::Line(a, b) = border[at] else {
        return None;
    };
    let way = b - a;
    let length = way.x.hypot(way.y);
    let normal = Point::new(way.y / length, -way.x / length);
    let (surface, place, grows) = if level(&border[at]) {
        let outward = normal.y > 0.0;
        let surface = if outward {
            Surface::Outside
        } else {
            Surface::Bore
        };
        (surface, 2.0 * a.y, Point::new(0.0, 1.0))
    } else if upright(&border[at]) {
        (Surface::Face, a.x, Point::new(normal.x.signum(), 0.0))
    } else if small(&border[at]) {
        return None;
    } else {
        (Surface::Taper, 0.5 * (a.x + b.x), normal)
    };
    if a.y.max(b.y) <= 0.0 {
        // The axle itself: a solid has no surface there.
        return None;
    }
    let word = match surface {
        Surface::Outside => "outside",
        Surface::Bore => "bore",
        Surface::Face => "face",
        Surface::Taper => "taper",
    };
    let diameter = matches!(surface, Surface::Outside | Surface::Bore);
    Some(Dimension {
        name: format!("{word} {}", short(place)),
        surface,
        size_mm: diameter.then_some(place),
        datum: false,
        fit: false,
        grows,
        border_per_mm: if diameter { 0.5 } else { 1.0 },
        stretches: vec![with_edges(border, at)],
    })
}

/// The segment with the broken edge before and behind it.
fn with_edges(border: &[Segment], at: usize) -> Vec<Segment> {
    let count = border.len();
    let on = |step: usize| &border[(at + step) % count];
    let square =
        |s: &Segment| (level(s) && upright(&border[at])) || (upright(s) && level(&border[at]));
    let is_edge = |edge: &Segment, beyond: &Segment| {
        !level(edge) && !upright(edge) && small(edge) && square(beyond)
    };
    let mut out = Vec::with_capacity(3);
    if is_edge(on(count - 1), on(count.saturating_sub(2))) {
        out.push(*on(count - 1));
    }
    out.push(border[at]);
    if is_edge(on(1), on(2)) {
        out.push(*on(1));
    }
    out
}

fn level(s: &Segment) -> bool {
    matches!(s, Segment::Line(a, b) if (a.y - b.y).abs() < SAME_MM)
}

fn upright(s: &Segment) -> bool {
    matches!(s, Segment::Line(a, b) if (a.x - b.x).abs() < SAME_MM)
}

fn small(s: &Segment) -> bool {
    let bounds = s.bounds();
    bounds.high.x - bounds.low.x <= EDGE_MM && bounds.high.y - bounds.low.y <= EDGE_MM
}

/// A number for a name: a tenth of a micrometre is enough, and no minus before a nought.
fn short(value: f64) -> f64 {
    (value / SAME_MM).round() / (1.0 / SAME_MM) + 0.0
}

/// Chooses the datum (the largest face that looks to the middle) and measures the others from it.
fn measure_faces(given: &Given, found: &mut [Dimension]) {
    let toward = if given.side == Side::Left { 1.0 } else { -1.0 };
    let area = |d: &Dimension| d.shift().volume;
    let faces = || 0..found.len();
    let looks = |n: &usize| found[*n].surface == Surface::Face && found[*n].grows.x == toward;
    let is_face = |n: &usize| found[*n].surface == Surface::Face;
    let larger = |a: &usize, b: &usize| area(&found[*a]).total_cmp(&area(&found[*b]));
    let datum = faces().filter(looks).max_by(larger);
    let Some(datum) = datum.or_else(|| faces().filter(is_face).max_by(larger)) else {
        return;
    };
    let place = |d: &Dimension| {
        d.stretches[0]
            .iter()
            .find(|s| upright(s))
            .map(|s| s.start().x)
    };
    let from = place(&found[datum]).unwrap_or(0.0);
    for (n, d) in found.iter_mut().enumerate() {
        if d.surface != Surface::Face {
            continue;
        }
        d.datum = n == datum;
        if !d.datum {
            d.size_mm = place(d).map(|x| (x - from).abs());
        }
    }
}

/// The smallest bore is the fit on the half.
fn mark_fit(found: &mut [Dimension]) {
    let bores = found.iter_mut().filter(|d| d.surface == Surface::Bore);
    let size = |d: &Dimension| d.size_mm.unwrap_or(f64::INFINITY);
    if let Some(fit) = bores.min_by(|a, b| size(a).total_cmp(&size(b))) {
        fit.fit = true;
    }
}

/// Two surfaces at one place that look apart get names apart.
fn name_apart(found: &mut [Dimension]) {
    for n in 0..found.len() {
        let before = found[..n].iter().filter(|d| d.name == found[n].name);
        let count = before.count();
        if count > 0 {
            found[n].name = format!("{} ({})", found[n].name, count + 1);
        }
    }
}
