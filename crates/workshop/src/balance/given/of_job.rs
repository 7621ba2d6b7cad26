//! The question of the limit, from a job.

use std::f64::consts::PI;

use whirlwright_kit::revolve::{Point, Run, Segment, moments, oriented, runs, slice_area};

use super::limit::{Asked, ErrorBody, ErrorGiven, LimitGiven};
use super::refusal::Refusal;
use super::rotor::{Inertia, Rotor};
use crate::design::{self, PieceLine, SectionBody};
use crate::part::balance_wishes::{BalanceWishes, ErrorKind, ErrorWish};
use crate::part::job::{Job, Piece, Side};
use crate::part::{Answer, Couple, MassProperties, Unbalance};

/// cm³ in one mm³.
const CUBIC_CM: f64 = 1e-3;
const DRAWS: u32 = 10_000;
const MOST_DRAWS: u32 = 1_000_000;

impl LimitGiven {
    /// The question a job's `[balance]` block asks of its drawing.
    ///
    /// # Errors
    /// No grade and no limit, no speed, an unknown piece, planes at one place, a number that cannot be.
    pub fn of_job(drawing: &design::Given) -> Result<Self, Refusal> {
        let job = drawing.job();
        let wishes = job.balance.clone().unwrap_or_default();
        let section = design::section(drawing);
        let asked = asked(&wishes)?;
        let speed_rpm = wishes.speed_rpm.ok_or(Refusal::NoSpeed)?;
        positive("the speed", speed_rpm, "rpm")?;
        let rim = rim(job, &section.body, wishes.rim.as_deref())?;
        let rotor = Rotor::of_section(&section.body, Some(rim.outer_radius_mm));
        let inertia = Inertia {
            polar_g_mm2: section.body.polar_inertia_g_mm2,
            transverse_g_mm2: section.body.transverse_inertia_g_mm2,
        };
        let planes = planes(&wishes, &section.body, &rim)?;
        let bodies = ErrorBodies {
            job,
            section: &section.body,
        };
        let errors = wishes.errors.iter().map(|wish| bodies.given(wish));
        let wobble_weight = wishes.wobble_weight.unwrap_or(1.0);
        not_negative("the weight of the wobble", wobble_weight, "")?;
        if let Some(error) = wishes.measuring_error_g_mm {
            not_negative("the measuring error", error, "g·mm")?;
        }
        Ok(Self {
            inertia,
            asked,
            speed_rpm,
            planes,
            rim_radius_mm: rim.outer_radius_mm,
            face_g_per_mm: rim.face_g_per_mm,
            outside_g_per_mm: rim.outside_g_per_mm,
            drawn: drawn(&section),
            tensor_g_mm2: Some(section.body.inertia_tensor_g_mm2),
            errors: errors.collect::<Result<_, _>>()?,
            wobble_weight,
            string_stretch_mm: wishes.string_stretch_mm,
            measuring_error_g_mm: wishes.measuring_error_g_mm,
            draws: wishes.draws.unwrap_or(DRAWS).clamp(1, MOST_DRAWS),
            seed: wishes.seed.unwrap_or(1),
            trust: section.trust.clone(),
            rotor,
        })
    }
}

impl Rotor {
    /// The whole piece of a drawing; the rim's radius is the drawing's largest where none is said.
    #[must_use]
    pub fn of_section(section: &SectionBody, rim_radius_mm: Option<f64>) -> Self {
        Self {
            name: section.name.clone(),
            mass_g: section.mass_g,
            centre_mm: section.centre_of_mass_mm,
            inertia: Some(Inertia {
                polar_g_mm2: section.polar_inertia_g_mm2,
                transverse_g_mm2: section.transverse_inertia_g_mm2,
            }),
            rim_radius_mm: rim_radius_mm.or(Some(0.5 * section.diameter_mm)),
        }
    }
}

fn asked(wishes: &BalanceWishes) -> Result<Asked, Refusal> {
    match (wishes.limit_g_mm, wishes.grade_mm_per_s) {
        (Some(limit_g_mm), _) => {
            positive("the permissible unbalance", limit_g_mm, "g·mm")?;
            Ok(Asked::Unbalance { limit_g_mm })
        }
        (None, Some(grade_mm_per_s)) => {
            positive("the grade", grade_mm_per_s, "mm/s")?;
            Ok(Asked::Grade { grade_mm_per_s })
        }
        (None, None) => Err(Refusal::NoLimit),
    }
}

/// Refuses a number that is not above nought.
pub(super) fn positive(what: &str, value: f64, unit: &str) -> Result<(), Refusal> {
    if value.is_finite() && value > 0.0 {
        return Ok(());
    }
    Err(Refusal::Impossible {
        what: what.to_owned(),
        read: format!("{value} {unit}").trim_end().to_owned(),
        expected: "a finite number above nought is expected",
    })
}

fn not_negative(what: &str, value: f64, unit: &str) -> Result<(), Refusal> {
    if value.is_finite() && value >= 0.0 {
        return Ok(());
    }
    Err(Refusal::Impossible {
        what: what.to_owned(),
        read: format!("{value} {unit}").trim_end().to_owned(),
        expected: "nought or a finite number above it is expected",
    })
}

/// What the drawing has by itself.
fn drawn(section: &Answer<SectionBody>) -> (Unbalance, Couple) {
    let body = &section.body;
    let tensor = body.inertia_tensor_g_mm2;
    // Products of inertia are −∫ x y dm, and the couple is ∫ x ρ dm; rounding is cut off by the section.
    let couple = if body.couple_unbalance_g_mm2 > 0.0 {
        Couple::from_components((-tensor.xy, -tensor.xz))
    } else {
        Couple::default()
    };
    let at_deg = body.static_unbalance_at_deg.unwrap_or_default();
    (Unbalance::new(body.static_unbalance_g_mm, at_deg), couple)
}

/// The piece that counts as the rim.
struct Rim {
    outer_radius_mm: f64,
    centres_mm: Vec<f64>,
    face_g_per_mm: Option<f64>,
    outside_g_per_mm: Option<f64>,
}

fn rim(job: &Job, section: &SectionBody, name: Option<&str>) -> Result<Rim, Refusal> {
    let piece = match name {
        Some(name) => find(job, name)?,
        None => outermost(job),
    };
    let Some(piece) = piece else {
        return Err(Refusal::NoSuchPiece {
            piece: "rim".to_owned(),
            known: "none".to_owned(),
        });
    };
    let runs = runs(&loops(piece));
    let density = piece.material.density_g_cm3 * CUBIC_CM;
    let (low, high) = piece.outline.reach_mm();
    let outer_radius_mm = outer_radius(&runs);
    // A hair inside, so that the slice is that of the body and not of its border.
    let hair = 1e-6;
    let face = slice_area(&runs, high - hair * (high - low));
    let width = width_at(&runs, outer_radius_mm * (1.0 - hair));
    let above = |weight: f64| Some(weight).filter(|w| *w > 0.0);
    let of_piece = section.pieces.iter().filter(|line| line.name == piece.name);
    Ok(Rim {
        outer_radius_mm,
        centres_mm: of_piece.map(|line| line.centre_of_mass_mm).collect(),
        face_g_per_mm: above(face * density),
        outside_g_per_mm: above(2.0 * PI * outer_radius_mm * width * density),
    })
}

fn find<'a>(job: &'a Job, name: &str) -> Result<Option<&'a Piece>, Refusal> {
    let found = job.pieces.iter().find(|p| p.name == name);
    if found.is_some() {
        return Ok(found);
    }
    let known: Vec<&str> = job.pieces.iter().map(|p| p.name.as_str()).collect();
    Err(Refusal::NoSuchPiece {
        piece: name.to_owned(),
        known: known.join(", "),
    })
}

fn outermost(job: &Job) -> Option<&Piece> {
    let radius = |p: &Piece| outer_radius(&runs(&loops(p)));
    job.pieces
        .iter()
        .max_by(|a, b| radius(a).total_cmp(&radius(b)))
}

fn loops(piece: &Piece) -> Vec<Vec<Segment>> {
    let loops: Vec<_> = piece
        .outline
        .loops
        .iter()
        .map(|l| l.segments.clone())
        .collect();
    oriented(&loops)
}

fn outer_radius(runs: &[Run]) -> f64 {
    runs.iter().map(|r| r.bounds.high.y).fold(0.0, f64::max)
}

/// How much material stands along the axle at a radius.
fn width_at(runs: &[Run], radius: f64) -> f64 {
    let across = runs
        .iter()
        .filter(|r| r.bounds.low.y <= radius && radius < r.bounds.high.y);
    let mut places: Vec<f64> = across.map(|r| r.place_at(radius)).collect();
    places.sort_by(f64::total_cmp);
    places.chunks_exact(2).map(|p| p[1] - p[0]).sum()
}

/// Two planes: as said; else the middles of the rims; else the two faces.
fn planes(
    wishes: &BalanceWishes,
    section: &SectionBody,
    rim: &Rim,
) -> Result<[(String, f64); 2], Refusal> {
    let middle = 0.5 * section.width_mm;
    let (left, right) = match (wishes.planes_mm, &rim.centres_mm[..]) {
        (Some((a, b)), _) => (a.min(b), a.max(b)),
        (None, &[a, b]) => (a.min(b), a.max(b)),
        _ => (
            section.centre_of_mass_mm - middle,
            section.centre_of_mass_mm + middle,
        ),
    };
    let apart = right - left;
    if !apart.is_finite() || apart <= 1e-9 {
        return Err(Refusal::PlanesTogether { x_mm: left });
    }
    Ok([("left".to_owned(), left), ("right".to_owned(), right)])
}

/// Turns a wish into the bodies it befalls.
struct ErrorBodies<'a> {
    job: &'a Job,
    section: &'a SectionBody,
}

impl ErrorBodies<'_> {
    fn given(&self, wish: &ErrorWish) -> Result<ErrorGiven, Refusal> {
        check_size(wish)?;
        let bodies = match &wish.piece {
            Some(name) => {
                let Some(piece) = find(self.job, name)? else {
                    return self.unknown(name);
                };
                let lines = self.section.pieces.iter().filter(|l| l.name == *name);
                lines.map(|line| body(line, piece)).collect()
            }
            None => [Side::Left, Side::Right]
                .into_iter()
                .filter_map(|side| self.one_side(side))
                .collect(),
        };
        Ok(ErrorGiven {
            name: wish.name.clone(),
            kind: wish.kind,
            bodies,
        })
    }

    fn unknown<T>(&self, name: &str) -> Result<T, Refusal> {
        let known: Vec<&str> = self.job.pieces.iter().map(|p| p.name.as_str()).collect();
        Err(Refusal::NoSuchPiece {
            piece: name.to_owned(),
            known: known.join(", "),
        })
    }

    /// One side of the whole: what sits there, and half of what sits in the middle.
    fn one_side(&self, side: Side) -> Option<ErrorBody> {
        let on_side: Vec<&PieceLine> = self
            .section
            .pieces
            .iter()
            .filter(|l| l.side == side)
            .collect();
        let solid = |l: &&PieceLine| {
            MassProperties::round(
                l.mass_g,
                l.centre_of_mass_mm,
                l.polar_inertia_g_mm2,
                l.transverse_inertia_g_mm2,
            )
        };
        let own = MassProperties::sum(&on_side.iter().map(solid).collect::<Vec<_>>());
        let middle: f64 = self
            .section
            .pieces
            .iter()
            .filter(|l| l.side == Side::Centre)
            .map(|l| l.mass_g)
            .sum();
        let mass_g = own.mass_g + 0.5 * middle;
        let names: Vec<&str> = on_side.iter().map(|l| l.name.as_str()).collect();
        let centre = own.mass_g * own.centre_mm[0] / mass_g;
        (!names.is_empty()).then(|| ErrorBody {
            name: names.join(" + "),
            side,
            mass_g,
            centre_mm: centre,
            inertia: Inertia {
                polar_g_mm2: own.polar_g_mm2(),
                transverse_g_mm2: own.transverse_g_mm2(),
            },
            enclosed_mass_g: mass_g,
            enclosed_centre_mm: centre,
            outer_radius_mm: 0.5 * self.section.diameter_mm,
        })
    }
}

fn check_size(wish: &ErrorWish) -> Result<(), Refusal> {
    let (size, unit, more) = match wish.kind {
        ErrorKind::RunOut { movement_mm } => (movement_mm, "mm", None),
        ErrorKind::Eccentric { offset_mm } => (offset_mm, "mm", None),
        ErrorKind::Clearance { clearance_mm } => (clearance_mm, "mm", None),
        ErrorKind::FaceRunOut {
            movement_mm,
            at_diameter_mm,
        } => (movement_mm, "mm", at_diameter_mm),
        ErrorKind::Spot { mass_g, radius_mm } => (mass_g, "g", radius_mm),
    };
    not_negative(&wish.name, size, unit)?;
    more.map_or(Ok(()), |more| {
        positive(
            &format!("the diameter or radius of `{}`", wish.name),
            more,
            "mm",
        )
    })
}

fn body(line: &PieceLine, piece: &Piece) -> ErrorBody {
    let runs = runs(&loops(piece));
    let (volume, centre) = enclosed(&runs);
    let mirrored = line.side == Side::Left && piece.side == Side::Both;
    let density = piece.material.density_g_cm3 * CUBIC_CM * f64::from(piece.count);
    ErrorBody {
        name: line.name.clone(),
        side: line.side,
        mass_g: line.mass_g,
        centre_mm: line.centre_of_mass_mm,
        inertia: Inertia {
            polar_g_mm2: line.polar_inertia_g_mm2,
            transverse_g_mm2: line.transverse_inertia_g_mm2,
        },
        enclosed_mass_g: volume * density,
        enclosed_centre_mm: if mirrored { -centre } else { centre },
        outer_radius_mm: outer_radius(&runs),
    }
}

/// Volume and centre of what the outside surfaces enclose: of every run that looks outward, the solid
/// between it and the axle.
fn enclosed(runs: &[Run]) -> (f64, f64) {
    let (mut volume, mut moment) = (0.0, 0.0);
    for run in runs {
        let (a, b) = (run.segment.start(), run.segment.end());
        let (foot_a, foot_b) = (Point::new(a.x, 0.0), Point::new(b.x, 0.0));
        let under = [
            run.segment,
            Segment::Line(b, foot_b),
            Segment::Line(foot_b, foot_a),
            Segment::Line(foot_a, a),
        ];
        let m = moments(&under);
        // Material on the left: a run that looks outward goes toward falling x, and its solid counts
        // positive; one that looks inward counts negative.
        if m.volume > 0.0 {
            volume += m.volume;
            moment += m.volume * m.centre;
        }
    }
    let centre = if volume > 0.0 { moment / volume } else { 0.0 };
    (volume, centre)
}
