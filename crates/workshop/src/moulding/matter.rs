//! What the resin stores and conducts at a temperature, melt and solid in one.

use crate::part::resin::Resin;

/// Half the span of temperature over which the transition is smeared, in K.
const HALF_SPAN_K: f64 = 8.0;

/// Heat capacity, conductivity and density over temperature; latent heat is smeared over the transition.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Matter {
    turn_k: f64,
    solid_w_m_k: f64,
    melt_w_m_k: f64,
    solid_j_kg_k: f64,
    melt_j_kg_k: f64,
    latent_j_kg: f64,
    /// Volume at the transition and its growth, melt and solid, and what the solid has more.
    melt_room: [f64; 2],
    solid_room: [f64; 2],
    extra: [f64; 2],
}

impl Matter {
    /// That of a resin.
    #[must_use]
    pub fn of(resin: &Resin) -> Self {
        let (heat, room) = (&resin.heat, &resin.room);
        Self {
            turn_k: room.transition_k,
            solid_w_m_k: heat.solid_w_m_k,
            melt_w_m_k: heat.melt_w_m_k,
            solid_j_kg_k: heat.solid_j_kg_k,
            melt_j_kg_k: heat.melt_j_kg_k,
            latent_j_kg: heat.latent_j_kg,
            melt_room: [room.melt.volume_m3_per_kg, room.melt.growth_m3_per_kg_k],
            solid_room: [room.solid.volume_m3_per_kg, room.solid.growth_m3_per_kg_k],
            extra: [room.extra_m3_per_kg, room.extra_per_k],
        }
    }

    /// Whether latent heat makes the capacity leap.
    #[must_use]
    pub fn freezes(&self) -> bool {
        self.latent_j_kg > 0.0
    }

    /// How far the resin has come from solid (0) to melt (1) at a temperature in K.
    fn melt_share(&self, k: f64) -> f64 {
        (0.5 + 0.5 * (k - self.turn_k) / HALF_SPAN_K).clamp(0.0, 1.0)
    }

    /// Conductivity in W/(m·K) at a temperature in K (unit of the result in this sentence).
    #[must_use]
    pub fn conductivity_at(&self, k: f64) -> f64 {
        self.solid_w_m_k + (self.melt_w_m_k - self.solid_w_m_k) * self.melt_share(k)
    }

    /// Density without pressure at a temperature in K.
    #[must_use]
    pub fn density_kg_m3(&self, k: f64) -> f64 {
        let above = k - self.turn_k;
        let volume = if above > 0.0 {
            self.melt_room[0] + self.melt_room[1] * above
        } else {
            let extra = match self.extra[0] {
                0.0 => 0.0,
                extra => extra * (self.extra[1] * above).exp(),
            };
            self.solid_room[0] + self.solid_room[1] * above + extra
        };
        1.0 / volume
    }

    /// Heat held above the cold end of the transition, in J/kg (unit of the result), at a temperature in K.
    #[must_use]
    pub fn heat_at(&self, k: f64) -> f64 {
        let span = 2.0 * HALF_SPAN_K;
        let above = k - self.turn_k + HALF_SPAN_K;
        let within = above.clamp(0.0, span);
        let more = self.melt_j_kg_k - self.solid_j_kg_k;
        let inside = self.solid_j_kg_k * within
            + 0.5 * more * within * within / span
            + self.latent_j_kg * within / span;
        let beyond = if above > span {
            self.melt_j_kg_k * (above - span)
        } else {
            self.solid_j_kg_k * above.min(0.0)
        };
        inside + beyond
    }

    /// Heat capacity in J/(kg·K) (unit of the result) between two temperatures in K.
    #[must_use]
    pub(super) fn capacity_between(&self, one: f64, other: f64) -> f64 {
        if (one - other).abs() < 1e-3 {
            let u = self.melt_share(one);
            let latent = if u > 0.0 && u < 1.0 {
                self.latent_j_kg / (2.0 * HALF_SPAN_K)
            } else {
                0.0
            };
            return self.solid_j_kg_k + (self.melt_j_kg_k - self.solid_j_kg_k) * u + latent;
        }
        (self.heat_at(one) - self.heat_at(other)) / (one - other)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shelf::resin;

    #[test]
    fn law_heat_is_the_sum_of_the_capacity_and_the_latent_heat_is_all_there() {
        let acetal = resin("pom").unwrap();
        let matter = Matter::of(acetal);
        let turn = acetal.room.transition_k;
        let across = matter.heat_at(turn + 8.0) - matter.heat_at(turn - 8.0);
        let mean = 0.5 * (acetal.heat.melt_j_kg_k + acetal.heat.solid_j_kg_k);
        // Three roundings of a number of 2e5.
        assert!((across - acetal.heat.latent_j_kg - 16.0 * mean).abs() < 1e-9);
        for k in [turn - 30.0, turn - 3.0, turn + 5.0, turn + 40.0] {
            let secant = matter.capacity_between(k + 0.01, k - 0.01);
            // A straight capacity: the secant is the value in the middle.
            assert!((secant / matter.capacity_between(k, k) - 1.0).abs() < 1e-9);
        }
        let inside = acetal.room.solid.volume_m3_per_kg + acetal.room.extra_m3_per_kg;
        assert!((matter.density_kg_m3(turn) * inside - 1.0).abs() < 1e-15);
    }
}
