//! What comes into the fitting station: a ring on a body with their limits, checked.

use whirlwright_kit::revolve::{Run, oriented, runs};

use super::annulus::Annulus;
use super::member::{Member, Stiffness};
use super::press::{Change, Press};
use super::refusal::Refusal;
use crate::design;
use crate::part::fit_wishes::FitWishes;
use crate::part::job::{MaterialKind, Piece, Side};
use crate::part::{FitLimits, Job, Limits, Range, Surface};
use crate::shelf;

/// A fit that can be reckoned.
#[derive(Debug, Clone, PartialEq)]
pub struct Given {
    /// The outer piece.
    pub ring: Member,
    /// The inner piece.
    pub body: Member,
    /// Limits of bore and spigot.
    pub fit: FitLimits,
    /// Outside diameter of the ring.
    pub ring_outside_mm: f64,
    /// Inside diameter of the body behind the seat; 0 for a solid one.
    pub body_inside_mm: f64,
    /// Length of the seat.
    pub length_mm: f64,
    /// Friction between the two.
    pub friction_coefficient: Range,
    /// Temperature at which both were measured.
    pub measured_at_degc: f64,
    /// Coldest, usual and hottest temperature.
    pub temperature_degc: Range,
    /// Fastest speed of turning.
    pub speed_rpm: f64,
    /// Years it must hold.
    pub years_count: f64,
    /// Torque it must hold; where none is said it must only not part.
    pub torque_n_mm: Option<f64>,
    /// Standard deviation of bores.
    pub hole_sd_um: f64,
    /// Standard deviation of spigots.
    pub shaft_sd_um: f64,
    /// Room for slipping the heated ring on, on the diameter.
    pub slip_on_mm: f64,
    /// Run-out of the seating face, full indicator movement.
    pub seat_runout_mm: f64,
    /// Static unbalance the fit may bring, and who says so.
    pub unbalance_g_mm: Option<f64>,
    /// The ring's mass and its two moments of inertia, for what looseness does; none without a drawing.
    pub ring_mass: Option<RingMass>,
    /// What was taken for granted, in words.
    pub assumed: Vec<String>,
}

/// What looseness moves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RingMass {
    /// Mass of one ring.
    pub mass_g: f64,
    /// Moment of inertia about the axle.
    pub polar_g_mm2: f64,
    /// Moment of inertia across, through its own centre.
    pub transverse_g_mm2: f64,
}

/// Nominal sizes farther apart than this are not one fit: far above any interference.
const ONE_FIT_MM: f64 = 2.0;

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

    /// Checks what any given fit must keep to.
    ///
    /// # Errors
    /// The first thing that cannot be.
    pub fn checked(self) -> Result<Self, Refusal> {
        let bore_mm = self.fit.hole.middle_mm();
        if (self.fit.hole.nominal_mm - self.fit.shaft.nominal_mm).abs() > ONE_FIT_MM {
            return Err(Refusal::TwoSizes {
                hole_mm: self.fit.hole.nominal_mm,
                shaft_mm: self.fit.shaft.nominal_mm,
                most_mm: ONE_FIT_MM,
            });
        }
        if self.ring_outside_mm.is_nan() || self.ring_outside_mm <= self.fit.hole.most_mm() {
            return Err(Refusal::RingInsideOut {
                outside_mm: self.ring_outside_mm,
                bore_mm,
            });
        }
        if self.body_inside_mm.is_nan()
            || self.body_inside_mm < 0.0
            || self.body_inside_mm >= self.fit.shaft.least_mm()
        {
            return Err(Refusal::BodyInsideOut {
                inside_mm: self.body_inside_mm,
                seat_mm: bore_mm,
            });
        }
        let most_um = self.fit.most_interference_um();
        if most_um <= 0.0 {
            return Err(Refusal::Clearance { most_um });
        }
        self.numbers()?;
        self.temperatures()?;
        Ok(self)
    }

    fn numbers(&self) -> Result<(), Refusal> {
        let above = |what: &str, read: f64| {
            if read > 0.0 && read.is_finite() {
                return Ok(());
            }
            Err(Refusal::NotPositive {
                what: what.to_owned(),
                read,
            })
        };
        above("length of the seat in mm", self.length_mm)?;
        above("friction", self.friction_coefficient.low)?;
        if let Some(torque) = self.torque_n_mm {
            above("torque in N·mm", torque)?;
        }
        let not_below = |what, read: f64| {
            if read >= 0.0 && read.is_finite() {
                return Ok(());
            }
            Err(Refusal::Negative { what, read })
        };
        not_below("speed in rpm", self.speed_rpm)?;
        not_below("years", self.years_count)?;
        not_below("spread of bores in µm", self.hole_sd_um)?;
        not_below("spread of spigots in µm", self.shaft_sd_um)?;
        not_below("room for slipping on in mm", self.slip_on_mm)?;
        not_below("run-out of the seat in mm", self.seat_runout_mm)?;
        let in_order = |what, range: &Range| {
            if range.is_in_order() {
                return Ok(());
            }
            Err(Refusal::UpsideDown {
                what,
                low: range.low,
                high: range.high,
            })
        };
        in_order("friction", &self.friction_coefficient)?;
        in_order("temperature in °C", &self.temperature_degc)?;
        in_order("growth of the ring by water", &self.ring.moisture_share)?;
        in_order("growth of the body by water", &self.body.moisture_share)
    }

    fn temperatures(&self) -> Result<(), Refusal> {
        for member in [&self.ring, &self.body] {
            let Some((least_degc, most_degc)) = member.temperature_degc else {
                continue;
            };
            let ends = [
                self.temperature_degc.low,
                self.temperature_degc.high,
                self.measured_at_degc,
            ];
            for asked_degc in ends {
                if !(least_degc..=most_degc).contains(&asked_degc) {
                    return Err(Refusal::Temperature {
                        piece: member.name.clone(),
                        asked_degc,
                        least_degc,
                        most_degc,
                    });
                }
            }
        }
        Ok(())
    }

    /// The two rings as they are after so many hours.
    #[must_use]
    pub fn press(&self, stiffness: Stiffness, hours: f64) -> Press {
        let seat = 0.5 * self.fit.hole.middle_mm();
        Press {
            ring: Annulus {
                inner_mm: seat,
                outer_mm: 0.5 * self.ring_outside_mm,
                elastic: self.ring.elastic(stiffness, hours),
            },
            body: Annulus {
                inner_mm: 0.5 * self.body_inside_mm,
                outer_mm: seat,
                elastic: self.body.elastic(stiffness, hours),
            },
        }
    }

    /// What a temperature, the driest or wettest state and a speed change.
    #[must_use]
    pub fn change(&self, temperature_degc: f64, wet: bool, speed_rpm: f64) -> Change {
        let water = |share: &Range| if wet { share.high } else { share.low };
        Change {
            warmer_k: temperature_degc - self.measured_at_degc,
            ring_moisture_share: water(&self.ring.moisture_share),
            body_moisture_share: water(&self.body.moisture_share),
            speed_rad_s: speed_rpm * std::f64::consts::PI / 30.0,
        }
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

/// The seat on the drawing: the bore and the spigot that lie nearest to the nominal size.
fn seat(ring: &Piece, body: &Piece, nominal_mm: f64) -> Option<Seat> {
    let (ring_runs, body_runs) = (border(ring), border(body));
    let bore = level(&ring_runs, 0.5 * nominal_mm, false)?;
    let spigot = level(&body_runs, 0.5 * nominal_mm, true)?;
    let (from, to) = (bore.0.max(spigot.0), bore.1.min(spigot.1));
    if to <= from {
        return None;
    }
    let middle = 0.5 * (from + to);
    let ring_wall = wall(&ring_runs, middle, bore.2)?;
    let body_wall = wall(&body_runs, middle, spigot.2)?;
    Some(Seat {
        ring_outside_mm: 2.0 * ring_wall.1,
        body_inside_mm: 2.0 * body_wall.0,
        length_mm: to - from,
    })
}

fn border(piece: &Piece) -> Vec<Run> {
    let loops: Vec<_> = piece
        .outline
        .loops
        .iter()
        .map(|l| l.segments.clone())
        .collect();
    runs(&oriented(&loops))
}

/// The level run nearest to a radius that faces outward (or inward): its ends along the axle and its
/// radius. Material lies on the left, so an outward surface is walked toward smaller `x`.
fn level(runs: &[Run], radius_mm: f64, outward: bool) -> Option<(f64, f64, f64)> {
    let faces = |r: &&Run| {
        let (a, b) = (r.segment.start(), r.segment.end());
        a.y == b.y && a.y > 0.0 && (b.x < a.x) == outward && a.x != b.x
    };
    let away = |r: &Run| (r.segment.start().y - radius_mm).abs();
    let found = runs
        .iter()
        .filter(faces)
        .min_by(|a, b| away(a).total_cmp(&away(b)))?;
    Some((found.bounds.low.x, found.bounds.high.x, found.bounds.low.y))
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
