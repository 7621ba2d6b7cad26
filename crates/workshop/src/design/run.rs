//! The section as one answer.

use whirlwright_kit::revolve::{Point, Run, inside, moments};

use super::body::{Cut, CutOutline, OverlapLine, PieceLine, SectionBody};
use super::faults::{Meet, allowed_mm};
use super::feature;
use super::given::{Given, Shape};
use super::limits::{self, Whole};
use super::words;
use crate::part::answer::ANSWER_FORMAT;
use crate::part::job::{FeatureWeight, Piece, Side};
use crate::part::{Answer, MassProperties};

/// cm³ in one mm³.
const CUBIC_CM: f64 = 1e-3;

/// Mass, centre and inertia of every body and of the whole, with the limits checked.
///
/// - **What it finds:** the moments of every outline in closed form ([`moments`]), holes, pockets
///   and lumps with their full tensor, the sum about the common centre, and every limit.
/// - **What must hold:** a [`Given`], so the outlines are closed, do not cross and stay above the
///   axle.
/// - **Units:** mm, g and g·mm²; x from the middle of the gap.
/// - **Promised:** exact for the drawing but for rounding (some 1 part in 10¹³ of the largest
///   piece); what is uncertain is said in `trust`.
#[must_use]
pub fn section(given: &Given) -> Answer<SectionBody> {
    let bodies = bodies(given);
    let whole = MassProperties::sum(&bodies.iter().map(|b| b.mass).collect::<Vec<_>>());
    let polar = whole.polar_g_mm2();
    let transverse = whole.transverse_g_mm2();
    let ratio = transverse / polar;
    let pieces: Vec<PieceLine> = bodies.iter().map(|b| b.line(&whole)).collect();
    let reach = Reach::of(given);
    let overlaps = overlaps(given);
    let numbers = Whole {
        mass_g: whole.mass_g,
        diameter_mm: 2.0 * reach.radius_mm,
        width_mm: reach.high_mm - reach.low_mm,
        polar_g_mm2: polar,
        inertia_ratio: ratio,
        gap_mm: reach.gap_mm,
    };
    let limits = limits::limits(given.job(), &numbers, &pieces, &overlaps);
    let [_, y, z] = whole.centre_mm;
    let tensor = whole.inertia_g_mm2;
    let static_unbalance_g_mm =
        above_rounding(whole.mass_g * y.hypot(z), whole.mass_g * reach.radius_mm);
    let body = SectionBody {
        name: given.job().name.clone(),
        revision: given.job().revision.clone(),
        mass_g: whole.mass_g,
        polar_inertia_g_mm2: polar,
        transverse_inertia_g_mm2: transverse,
        centre_of_mass_mm: whole.centre_mm[0],
        inertia_ratio: ratio,
        nutation_order: polar / transverse,
        couple_amplification: Some(1.0 / (1.0 - ratio)).filter(|a| a.is_finite()),
        inertia_tensor_g_mm2: tensor,
        static_unbalance_g_mm,
        static_unbalance_at_deg: (static_unbalance_g_mm > 0.0)
            .then(|| z.atan2(y).to_degrees().rem_euclid(360.0)),
        couple_unbalance_g_mm2: above_rounding(tensor.xy.hypot(tensor.xz), polar),
        diameter_mm: numbers.diameter_mm,
        width_mm: numbers.width_mm,
        gap_mm: numbers.gap_mm,
        pieces,
        limits,
        overlaps,
        recut_gram_per_mm: given.recut_gram_per_mm(),
        cut: cut(given, &reach),
    };
    answer(given, body)
}

/// The number, or 0 where it is what is left when bodies that cancel are added up.
///
/// A sum of some thousand terms of the size of `whole` is off by up to as many roundings of it.
fn above_rounding(number: f64, whole: f64) -> f64 {
    const TERMS: f64 = 4096.0;
    if number > TERMS * f64::EPSILON * whole {
        number
    } else {
        0.0
    }
}

fn answer(given: &Given, body: SectionBody) -> Answer<SectionBody> {
    let astray = astray(given);
    let (verdict, decided_by) = words::verdict(&body, &astray);
    Answer {
        whirlwright: ANSWER_FORMAT,
        station: "design".to_owned(),
        verdict,
        headline: words::headline(&body),
        decided_by,
        trust: words::trust(given.job()),
        cautions: Vec::new(),
        next: words::next(&body, &astray),
        body,
    }
}

/// One solid body with its place.
struct Body<'a> {
    piece: &'a Piece,
    shape: &'a Shape,
    side: Side,
    volume_mm3: f64,
    mass: MassProperties,
}

/// Every body: a piece for both sides is two.
fn bodies(given: &Given) -> Vec<Body<'_>> {
    let mut out = Vec::with_capacity(2 * given.job().pieces.len());
    for (piece, shape) in given.pieces() {
        let (mass, volume_mm3) = drawn(piece, shape);
        let body = |side, mass| Body {
            piece,
            shape,
            side,
            volume_mm3,
            mass,
        };
        match piece.side {
            Side::Both => {
                out.push(body(Side::Left, mass.mirrored()));
                out.push(body(Side::Right, mass));
            }
            side => out.push(body(side, mass)),
        }
    }
    out
}

/// Mass properties and volume of a piece where it is drawn, its count and its features in it.
fn drawn(piece: &Piece, shape: &Shape) -> (MassProperties, f64) {
    let m = moments(&shape.segments);
    let density = piece.material.density_g_cm3 * CUBIC_CM;
    let round = MassProperties::round(
        density * m.volume,
        m.centre,
        density * m.polar,
        density * m.transverse(),
    );
    let mut volume_mm3 = m.volume;
    let mut all = vec![round];
    for feature in &piece.features {
        let body = feature::body(feature, piece.material.density_g_cm3);
        volume_mm3 += body.volume_mm3;
        all.push(body.mass);
    }
    let one = if all.len() == 1 {
        round
    } else {
        MassProperties::sum(&all)
    };
    let count = f64::from(piece.count);
    (one.times(count), volume_mm3 * count)
}

impl Body<'_> {
    fn line(&self, whole: &MassProperties) -> PieceLine {
        let polar = self.mass.polar_g_mm2();
        let wall = self.shape.wall;
        let sign = if self.side == Side::Left && self.piece.side == Side::Both {
            -1.0
        } else {
            1.0
        };
        let [_, y, z] = self.mass.centre_mm;
        let [_, y0, z0] = whole.centre_mm;
        // About the whole's centre, so that the shares add up to 1.
        let to_whole = self.mass.mass_g * ((y - y0).powi(2) + (z - z0).powi(2));
        PieceLine {
            name: self.piece.name.clone(),
            side: self.side,
            volume_mm3: self.volume_mm3,
            mass_g: self.mass.mass_g,
            density_g_cm3: self.piece.material.density_g_cm3,
            count: self.piece.count,
            centre_of_mass_mm: self.mass.centre_mm[0],
            polar_inertia_g_mm2: polar,
            transverse_inertia_g_mm2: self.mass.transverse_g_mm2(),
            inertia_share: (polar + to_whole) / whole.polar_g_mm2(),
            mass_share: self.mass.mass_g / whole.mass_g,
            least_wall_mm: wall.map(|w| w.thickness),
            least_wall_at_mm: wall.map(|w| {
                let middle = w.from.toward(w.to, 0.5);
                (sign * middle.x, middle.y)
            }),
        }
    }
}

/// How far the pieces reach.
struct Reach {
    low_mm: f64,
    high_mm: f64,
    radius_mm: f64,
    gap_mm: Option<f64>,
}

impl Reach {
    fn of(given: &Given) -> Self {
        let (mut low, mut high, mut radius_mm) = (f64::INFINITY, f64::NEG_INFINITY, 0.0f64);
        for (piece, shape) in given.pieces() {
            let b = shape.bounds;
            (low, high) = (low.min(b.low.x), high.max(b.high.x));
            radius_mm = radius_mm.max(b.high.y);
            if piece.side == Side::Both {
                (low, high) = (low.min(-b.high.x), high.max(-b.low.x));
            }
        }
        Self {
            low_mm: low,
            high_mm: high,
            radius_mm,
            gap_mm: gap_mm(given),
        }
    }
}

/// The narrowest way between left and right outside whatever sits in the middle (the bearing):
/// from the innermost face on the right to that on the left.
fn gap_mm(given: &Given) -> Option<f64> {
    let centre = given.pieces().filter(|(p, _)| p.side == Side::Centre);
    let clear_of = centre.map(|(_, s)| s.bounds.high.y).fold(0.0, f64::max);
    let (mut left, mut right) = (f64::NEG_INFINITY, f64::INFINITY);
    for (piece, shape) in given.pieces() {
        let Some((low, high)) = reach_outside(&shape.runs, clear_of) else {
            continue;
        };
        match piece.side {
            Side::Both => (left, right) = (left.max(-low), right.min(low)),
            Side::Left => left = left.max(high),
            Side::Right => right = right.min(low),
            Side::Centre => {}
        }
    }
    Some(right - left).filter(|gap| gap.is_finite())
}

/// Least and largest x of a border at radii above `radius`.
fn reach_outside(runs: &[Run], radius: f64) -> Option<(f64, f64)> {
    let mut reach: Option<(f64, f64)> = None;
    let mut take = |x: f64| {
        let (low, high) = reach.unwrap_or((x, x));
        reach = Some((low.min(x), high.max(x)));
    };
    for run in runs.iter().filter(|r| r.bounds.high.y > radius) {
        for end in [run.segment.start(), run.segment.end()] {
            if end.y >= radius {
                take(end.x);
            }
        }
        if run.bounds.low.y < radius {
            take(run.place_at(radius));
        }
    }
    reach
}

fn overlaps(given: &Given) -> Vec<OverlapLine> {
    let pieces = &given.job().pieces;
    let line = |meet: &Meet| {
        let (first, second) = (&pieces[meet.pieces.0], &pieces[meet.pieces.1]);
        OverlapLine {
            first: first.name.clone(),
            second: second.name.clone(),
            depth_mm: meet.depth_mm,
            allowed_mm: allowed_mm(first, second),
            at_mm: (meet.at.x, meet.at.y),
        }
    };
    given.meets().iter().map(line).collect()
}

/// Features that take material away where the piece has none, or whose middle lies outside it.
fn astray(given: &Given) -> Vec<String> {
    let mut out = Vec::new();
    for (piece, shape) in given.pieces() {
        for feature in &piece.features {
            let (x, y) = feature::middle_mm(&feature.shape);
            let removed = matches!(feature.weight, FeatureWeight::Removed);
            if removed && !inside(&shape.runs, Point::new(x, y)) {
                out.push(format!(
                    "{} of {} has its middle at x {x:.2}, radius {y:.2} mm, outside the piece: \
                     put it where there is material to take away",
                    feature.name, piece.name
                ));
            }
        }
    }
    out
}

fn cut(given: &Given, reach: &Reach) -> Cut {
    let mut outlines = Vec::with_capacity(2 * given.job().pieces.len());
    for (piece, _) in given.pieces() {
        let outline = |side, path: &String| CutOutline {
            name: piece.name.clone(),
            side,
            kind: piece.material.kind,
            path: path.clone(),
        };
        if piece.side == Side::Both {
            outlines.push(outline(Side::Right, &piece.outline.path));
            outlines.push(outline(Side::Left, &piece.outline.mirrored_path));
        } else {
            outlines.push(outline(piece.side, &piece.outline.path));
        }
    }
    let reach_mm = reach.high_mm.abs().max(reach.low_mm.abs());
    Cut {
        outlines,
        reach_mm,
        radius_mm: reach.radius_mm,
    }
}
