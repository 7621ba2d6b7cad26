//! What comes into the fitting station: a ring on a body with their limits, checked.

use super::faults::Refusal;
use crate::part::job::MaterialKind;
use crate::part::{FitLimits, Range};

/// One of the two that are pressed together.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// The piece's name.
    pub name: String,
    /// What kind of material.
    pub kind: MaterialKind,
    /// Short-time modulus.
    pub modulus_mpa: Range,
    /// Poisson's ratio.
    pub poisson_ratio: f64,
    /// Linear thermal expansion, in 1/K.
    pub expansion_per_k: f64,
    /// Density.
    pub density_g_cm3: f64,
    /// Creep modulus after 1 h and after 1000 h, in MPa; none for a metal.
    pub creep_mpa: Option<(f64, f64)>,
    /// Largest safe strain for minutes, as a share.
    pub short_strain_share: Option<f64>,
    /// Largest safe strain for years, as a share.
    pub long_strain_share: Option<Range>,
    /// Stress at which it takes a set.
    pub proof_stress_mpa: Option<f64>,
    /// Temperatures it may be used at, in °C.
    pub temperature_degc: Option<(f64, f64)>,
    /// Growth by water from the state it was measured in, as a share.
    pub moisture_share: Range,
    /// How its figures are known.
    pub why: Vec<String>,
}

/// Which end of the stiffness.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stiffness {
    /// The softest grade.
    Soft,
    /// The usual one.
    Likely,
    /// The stiffest grade.
    Stiff,
}

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

/// Whether hole and shaft can be one fit at all.
pub(super) fn one_size(fit: &FitLimits) -> Result<(), Refusal> {
    let (hole_mm, shaft_mm) = (fit.hole.nominal_mm, fit.shaft.nominal_mm);
    if (hole_mm - shaft_mm).abs() > ONE_FIT_MM {
        return Err(Refusal::TwoSizes {
            hole_mm,
            shaft_mm,
            most_mm: ONE_FIT_MM,
        });
    }
    Ok(())
}

impl Given {
    /// Checks what any given fit must keep to.
    ///
    /// # Errors
    /// The first thing that cannot be.
    pub fn checked(self) -> Result<Self, Refusal> {
        let bore_mm = self.fit.hole.middle_mm();
        one_size(&self.fit)?;
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
}
