//! The static rating of ISO 76, computed from the contact itself.

use super::hertz::{Touch, effective_modulus_mpa};
use crate::shelf::bearing_laws;

/// The contacts of a ball with both races, and what follows for the bearing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Races {
    /// With the inner race.
    pub inner: Touch,
    /// With the outer race.
    pub outer: Touch,
    balls: f64,
    cosine: f64,
    square_mm2: f64,
}

impl Races {
    /// Contacts of a ball of `ball_mm` in the grooves of the shelf; `γ` below 1.
    #[must_use]
    pub fn of(balls: u32, ball_mm: f64, gamma_ratio: f64, contact_angle_deg: f64) -> Option<Self> {
        let laws = bearing_laws();
        let effective = effective_modulus_mpa(laws.modulus_gpa.number, laws.poisson_ratio.number);
        let across = |groove: f64| 0.5 * (2.0 - 1.0 / groove) / ball_mm;
        let along = |race: f64| 0.5 * (2.0 + race) / ball_mm;
        let inner = 2.0 * gamma_ratio / (1.0 - gamma_ratio);
        let outer = -2.0 * gamma_ratio / (1.0 + gamma_ratio);
        Some(Self {
            inner: Touch::new(
                across(laws.inner_groove_ratio.number),
                along(inner),
                effective,
            )?,
            outer: Touch::new(
                across(laws.outer_groove_ratio.number),
                along(outer),
                effective,
            )?,
            balls: f64::from(balls),
            cosine: contact_angle_deg.to_radians().cos(),
            square_mm2: ball_mm * ball_mm,
        })
    }

    /// The ISO 76 factor `f0` of the static rating in N/mm² (not Palmgren's): the load of a ball at the static
    /// pressure by `5 D²`, for the worse of the two races. A factor.
    #[must_use]
    pub fn rating_factor(&self) -> f64 {
        let laws = bearing_laws();
        let pressure = laws.static_pressure_mpa.number;
        let ball = self
            .inner
            .load_at_n(pressure)
            .min(self.outer.load_at_n(pressure));
        ball / (laws.ball_load_factor.number * self.square_mm2)
    }

    /// Static rating `C0`.
    #[must_use]
    pub fn rating_n(&self) -> f64 {
        self.rating_factor() * self.balls * self.square_mm2 * self.cosine
    }

    /// Load of the most heavily pressed ball under a radial load.
    #[must_use]
    pub fn ball_load_n(&self, radial_n: f64) -> f64 {
        bearing_laws().ball_load_factor.number * radial_n / (self.balls * self.cosine)
    }
}

/// Equivalent static load of a radial and an axial load: `max(0.6 Fr + 0.5 Fa, Fr)`.
#[must_use]
pub fn equivalent_load_n(radial_n: f64, axial_n: f64) -> f64 {
    let laws = bearing_laws();
    let both = laws.radial_factor.number * radial_n + laws.axial_factor.number * axial_n;
    both.max(radial_n)
}
