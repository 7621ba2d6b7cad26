//! A ring on a body: from interference to pressure, stress and hold, in closed form.

use super::annulus::{Annulus, Load};

/// Two rings with a common seat, each in the state (modulus) it has at the moment that is looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Press {
    /// The outer ring; its inner radius is the seat.
    pub ring: Annulus,
    /// The inner ring or disc; its outer radius is the seat.
    pub body: Annulus,
}

/// What has changed since both were measured.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Change {
    /// Warmer by so many degrees.
    pub warmer_k: f64,
    /// Growth of the ring by water, as a share.
    pub ring_moisture_share: f64,
    /// Growth of the body by water, as a share.
    pub body_moisture_share: f64,
    /// Speed of turning.
    pub speed_rad_s: f64,
}

/// What a press fit is like at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pressed {
    /// Interference on the radius once temperature and water have had their share; negative for a gap.
    pub interference_mm: f64,
    /// Pressure between the two; 0 where they have parted.
    pub pressure_mpa: f64,
    /// Hoop stress of the ring at the seat.
    pub ring_seat_mpa: f64,
    /// Hoop stress of the ring at its outside.
    pub ring_outside_mpa: f64,
    /// Hoop stress of the body at the seat.
    pub body_seat_mpa: f64,
    /// Hoop stress of the body at its inside (its middle, where it is solid).
    pub body_inside_mpa: f64,
    /// Hoop strain of the ring at the seat.
    pub ring_strain_share: f64,
    /// Hoop strain of the body at the seat.
    pub body_strain_share: f64,
    /// Hoop strain of the body at its inside, where it is largest.
    pub body_inside_strain_share: f64,
    /// Growth of the ring's outside radius.
    pub ring_growth_mm: f64,
    /// Growth of the body's inside radius (negative: it shrinks).
    pub body_growth_mm: f64,
}

impl Press {
    /// Radius of the seat.
    #[must_use]
    pub fn seat_mm(&self) -> f64 {
        self.ring.inner_mm
    }

    /// Interference on the radius that gives a pressure of 1 MPa, in mm.
    ///
    /// `R [(1/E₀)((r₀² + R²)/(r₀² − R²) + ν₀) + (1/Eᵢ)((R² + rᵢ²)/(R² − rᵢ²) − νᵢ)]`.
    #[must_use]
    pub fn give_mm(&self) -> f64 {
        let one = Load {
            inner_mpa: 1.0,
            ..Load::default()
        };
        let on_body = Load {
            outer_mpa: 1.0,
            ..Load::default()
        };
        let seat = self.seat_mm();
        self.ring.growth_mm(&one, seat) - self.body.growth_mm(&on_body, seat)
    }

    /// What changes add to the interference on the radius, in mm: warmth and water, then turning.
    #[must_use]
    pub fn added_mm(&self, change: &Change) -> (f64, f64) {
        let seat = self.seat_mm();
        let of =
            |ring: &Annulus, water: f64| ring.elastic.expansion_per_k * change.warmer_k + water;
        let grown =
            of(&self.body, change.body_moisture_share) - of(&self.ring, change.ring_moisture_share);
        let turning = Load {
            speed_rad_s: change.speed_rad_s,
            ..Load::default()
        };
        let flung = self.body.growth_mm(&turning, seat) - self.ring.growth_mm(&turning, seat);
        (seat * grown, flung)
    }

    /// The state of the fit that was made with an interference on the radius.
    #[must_use]
    pub fn at(&self, interference_mm: f64, change: &Change) -> Pressed {
        let (grown, flung) = self.added_mm(change);
        let left = interference_mm + grown;
        let pressure_mpa = ((left + flung) / self.give_mm()).max(0.0);
        let speed_rad_s = change.speed_rad_s;
        let on_ring = Load {
            inner_mpa: pressure_mpa,
            outer_mpa: 0.0,
            speed_rad_s,
        };
        let on_body = Load {
            inner_mpa: 0.0,
            outer_mpa: pressure_mpa,
            speed_rad_s,
        };
        let (ring, body, seat) = (&self.ring, &self.body, self.seat_mm());
        Pressed {
            interference_mm: left,
            pressure_mpa,
            ring_seat_mpa: ring.stresses_mpa(&on_ring, seat).1,
            ring_outside_mpa: ring.stresses_mpa(&on_ring, ring.outer_mm).1,
            body_seat_mpa: body.stresses_mpa(&on_body, seat).1,
            body_inside_mpa: body.stresses_mpa(&on_body, body.inner_mm).1,
            ring_strain_share: ring.hoop_strain_share(&on_ring, seat),
            body_strain_share: body.hoop_strain_share(&on_body, seat),
            body_inside_strain_share: body.hoop_strain_share(&on_body, body.inner_mm),
            ring_growth_mm: ring.growth_mm(&on_ring, ring.outer_mm),
            body_growth_mm: body.growth_mm(&on_body, body.inner_mm),
        }
    }

    /// The interference on the radius at which the pressure becomes `pressure_mpa`, in mm.
    #[must_use]
    pub fn interference_for_mm(&self, pressure_mpa: f64, change: &Change) -> f64 {
        let (grown, flung) = self.added_mm(change);
        pressure_mpa * self.give_mm() - grown - flung
    }

    /// The largest hoop strain of ring or body (either sign) for each MPa of pressure at rest.
    #[must_use]
    pub fn strain_per_mpa_ratio(&self, part: Part) -> f64 {
        let one = |inner_mpa, outer_mpa| Load {
            inner_mpa,
            outer_mpa,
            speed_rad_s: 0.0,
        };
        let (of, load) = match part {
            Part::Ring => (&self.ring, one(1.0, 0.0)),
            Part::Body => (&self.body, one(0.0, 1.0)),
        };
        let at = |radius| of.hoop_strain_share(&load, radius).abs();
        at(of.inner_mm).max(at(of.outer_mm))
    }

    /// The largest hoop stress of ring or body (either sign) for each MPa of pressure at rest.
    #[must_use]
    pub fn stress_per_mpa_ratio(&self, part: Part) -> f64 {
        let (of, load) = match part {
            Part::Ring => (
                &self.ring,
                Load {
                    inner_mpa: 1.0,
                    ..Load::default()
                },
            ),
            Part::Body => (
                &self.body,
                Load {
                    outer_mpa: 1.0,
                    ..Load::default()
                },
            ),
        };
        let at = |radius| of.stresses_mpa(&load, radius).1.abs();
        at(of.inner_mm).max(at(of.outer_mm))
    }
}

/// Which of the two.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// The outer ring.
    Ring,
    /// The body inside it.
    Body,
}

/// Force along the axle that friction holds (or that pushes it on), in N.
#[must_use]
pub fn hold_n(pressure_mpa: f64, seat_mm: f64, length_mm: f64, friction: f64) -> f64 {
    friction * pressure_mpa * std::f64::consts::TAU * seat_mm * length_mm
}

/// Creep (or relaxation) modulus after a time, by the power law through its values at 1 h and 1000 h.
///
/// `E(t) = E₁ₕ (t/1 h)^−n`, `n = ln(E₁ₕ/E₁₀₀₀ₕ)/ln 1000`; before an hour the short-time modulus
/// is not exceeded.
#[must_use]
pub fn creep_modulus_mpa(hour_mpa: f64, thousand_mpa: f64, hours: f64) -> f64 {
    hour_mpa * hours.powf(-creep_slope_ratio(hour_mpa, thousand_mpa))
}

/// The exponent `n` of [`creep_modulus_mpa`].
#[must_use]
pub fn creep_slope_ratio(hour_mpa: f64, thousand_mpa: f64) -> f64 {
    (hour_mpa / thousand_mpa).ln() / 1000f64.ln()
}

/// How much warmer the ring must be to slip on freely, in K: interference and room on the radius.
#[must_use]
pub fn heat_to_slip_on_k(expansion_per_k: f64, seat_mm: f64, room_mm: f64) -> f64 {
    room_mm / (expansion_per_k * seat_mm)
}
