//! A fit from a design: who sits on whom, the seat of the drawing, what is taken for granted.

use whirlwright_kit::revolve::{Run, runs};

use super::faults::Refusal;
use super::given::{Given, Member, RingMass, one_size};
use super::seat::{Lands, height_mm, loops};
use crate::design;
use crate::part::fit_wishes::FitWishes;
use crate::part::job::{MaterialKind, Piece, Side};
use crate::part::{FitLimits, Job, Limits, Range, Surface};
use crate::shelf;

impl Given {
    /// From a design and its `[fit]` block.
    ///
    /// # Errors
    /// The first thing that is missing or cannot be: see [`Refusal`].
    pub fn of_design(design: &design::Given) -> Result<Self, Refusal> {
        let job = design.job();
        let wishes = job.fit.clone().unwrap_or_default();
        let (ring_piece, body_piece) = pieces(job, &wishes)?;
        let mut ring = Member::new(ring_piece, &wishes.ring_material)?;
        let mut body = Member::new(body_piece, &wishes.body_material)?;
        let fit = limits(&wishes)?;
        one_size(&fit)?;
        let seat = seat(ring_piece, body_piece, fit.hole.nominal_mm);
        let drawn = |value: Option<f64>, of: fn(&Seat) -> f64| {
            value
                .or(seat.as_ref().map(of))
                .ok_or_else(|| Refusal::NoSeat {
                    ring: ring_piece.name.clone(),
                    body: body_piece.name.clone(),
                })
        };
        let mut assumed = Vec::new();
        let defaults = shelf::fit_defaults();
        let friction = wishes.friction_coefficient.unwrap_or_else(|| {
            assumed.push(defaults.friction_why.clone());
            defaults.friction_coefficient
        });
        moisture(
            &mut ring,
            &mut body,
            wishes.moisture_strain_share,
            &mut assumed,
        );
        let temperature = wishes.temperature_degc.unwrap_or_else(|| {
            assumed.push(defaults.temperature_why.clone());
            defaults.temperature_degc
        });
        let sixth = |said: Option<f64>, limits: &Limits| said.unwrap_or(limits.width_um() / 6.0);
        let given = Self {
            ring_outside_mm: drawn(wishes.ring_outside_mm, |s| s.ring_outside_mm)?,
            body_inside_mm: drawn(wishes.body_inside_mm, |s| s.body_inside_mm)?,
            length_mm: drawn(wishes.length_mm, |s| s.length_mm)?,
            friction_coefficient: friction,
            measured_at_degc: wishes.measured_at_degc.unwrap_or(defaults.measured_at_degc),
            temperature_degc: temperature,
            speed_rpm: wishes.speed_rpm.unwrap_or(defaults.speed_rpm),
            years_count: wishes.years_count.unwrap_or(defaults.years_count),
            torque_n_mm: wishes.torque_n_mm,
            hole_sd_um: sixth(wishes.hole_sd_um, &fit.hole),
            shaft_sd_um: sixth(wishes.shaft_sd_um, &fit.shaft),
            slip_on_mm: wishes.slip_on_mm.unwrap_or(defaults.slip_on_mm),
            seat_runout_mm: wishes.seat_runout_mm.unwrap_or(0.0),
            unbalance_g_mm: wishes.unbalance_g_mm.or_else(|| {
                let within = job.pairing.unbalance_within_g_mm;
                within.map(crate::part::Decimal::to_f64)
            }),
            ring_mass: ring_mass(design, &ring_piece.name),
            ring,
            body,
            fit,
            assumed,
        };
        given.checked()
    }
}

/// Ring and body: as said, or the first piece that presses on another.
fn pieces<'a>(job: &'a Job, wishes: &FitWishes) -> Result<(&'a Piece, &'a Piece), Refusal> {
    let named = |name: &String| {
        let found = job.pieces.iter().find(|p| p.name == *name);
        found.ok_or_else(|| Refusal::NoPiece { name: name.clone() })
    };
    let turned = job.recut.as_ref().map(|r| r.piece.clone());
    let of_pressing = |p: &&Piece| !p.presses_on.is_empty() && turned.as_ref() == Some(&p.name);
    let pressing = job.pieces.iter().find(of_pressing);
    let pressing = pressing.or_else(|| job.pieces.iter().find(|p| !p.presses_on.is_empty()));
    let ring = match &wishes.ring {
        Some(name) => named(name)?,
        None => pressing.ok_or(Refusal::NoPress)?,
    };
    let body = match (&wishes.body, ring.presses_on.first()) {
        (Some(name), _) => named(name)?,
        (None, Some(press)) => named(&press.piece)?,
        (None, None) => return Err(Refusal::NoPress),
    };
    Ok((ring, body))
}

fn limits(wishes: &FitWishes) -> Result<FitLimits, Refusal> {
    let whole = wishes.fit.as_deref().map(FitLimits::read).transpose();
    let whole = whole.map_err(|why| Refusal::Limits { of: "fit", why })?;
    let one = |text: &Option<String>, surface, of| {
        let read = text
            .as_deref()
            .map(|t| Limits::read(t, surface))
            .transpose();
        read.map_err(|why| Refusal::Limits { of, why })
    };
    let hole = one(&wishes.hole, Surface::Hole, "hole")?;
    let shaft = one(&wishes.shaft, Surface::Shaft, "shaft")?;
    let hole = hole.or_else(|| whole.as_ref().map(|w| w.hole.clone()));
    let shaft = shaft.or_else(|| whole.as_ref().map(|w| w.shaft.clone()));
    Ok(FitLimits {
        hole: hole.ok_or(Refusal::NoLimits { of: "the hole" })?,
        shaft: shaft.ok_or(Refusal::NoLimits { of: "the shaft" })?,
    })
}

/// Water swells the resin: as the job says, or nothing.
fn moisture(ring: &mut Member, body: &mut Member, said: Option<Range>, assumed: &mut Vec<String>) {
    let of = if body.kind == MaterialKind::Polymer {
        body
    } else {
        ring
    };
    match said {
        Some(share) => of.moisture_share = share,
        None => assumed.push(format!(
            "growth of {} by water is not counted: the job says none",
            of.name
        )),
    }
}

/// What the drawing says of a seat, on the diameter.
struct Seat {
    ring_outside_mm: f64,
    body_inside_mm: f64,
    length_mm: f64,
}

/// The seat on the drawing, its walls where its longest land has its middle.
fn seat(ring: &Piece, body: &Piece, nominal_mm: f64) -> Option<Seat> {
    let (ring, body) = (loops(ring), loops(body));
    let lands = Lands::of(&ring, &body, 0.5 * nominal_mm).shared();
    let longest = lands
        .iter()
        .max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))?;
    let (from, to, bore, spigot) = longest;
    let middle = 0.5 * (from + to);
    let ring_wall = wall(&runs(&ring), middle, height_mm(bore, middle))?;
    let body_wall = wall(&runs(&body), middle, height_mm(spigot, middle))?;
    Some(Seat {
        ring_outside_mm: 2.0 * ring_wall.1,
        body_inside_mm: 2.0 * body_wall.0,
        length_mm: lands.iter().map(|(from, to, _, _)| to - from).sum(),
    })
}

/// The wall at a place along the axle that has a surface at `radius_mm`: its two radii.
fn wall(runs: &[Run], x: f64, radius_mm: f64) -> Option<(f64, f64)> {
    let over = runs
        .iter()
        .filter(|r| r.bounds.low.x <= x && x < r.bounds.high.x);
    let mut heights: Vec<f64> = over.map(|r| r.height_at(x)).collect();
    heights.sort_by(f64::total_cmp);
    let mut walls = heights.chunks_exact(2).map(|h| (h[0], h[1]));
    let near = |h: f64| (h - radius_mm).abs() <= 1e-9 * radius_mm;
    walls.find(|(low, high)| near(*low) || near(*high))
}

fn ring_mass(design: &design::Given, name: &str) -> Option<RingMass> {
    let answer = design::section(design);
    let line = answer.body.pieces.into_iter();
    let mut of_ring = line.filter(|p| p.name == name && p.side != Side::Both);
    let line = of_ring.next()?;
    Some(RingMass {
        mass_g: line.mass_g / f64::from(line.count),
        polar_g_mm2: line.polar_inertia_g_mm2 / f64::from(line.count),
        transverse_g_mm2: line.transverse_inertia_g_mm2 / f64::from(line.count),
    })
}
