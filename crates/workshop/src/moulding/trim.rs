//! The few numbers of a shot that no drawing tells, and how they are trimmed to what the scale says.

use super::given::{Channel, Given};
use crate::part::Range;

/// How far the uncertain numbers lie from what is taken for them; 1 everywhere is the question as it was asked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trim {
    /// Time the gate takes to freeze: its depth goes with the root of it, as a plate's cooling does.
    pub gate_time_ratio: f64,
    /// Room the resin takes, melt and solid alike.
    pub room_ratio: f64,
    /// Heat passed between resin and steel.
    pub wall_film_ratio: f64,
}

impl Trim {
    /// Nothing trimmed.
    pub const NONE: Self = Self {
        gate_time_ratio: 1.0,
        room_ratio: 1.0,
        wall_film_ratio: 1.0,
    };

    /// The same question with the numbers trimmed.
    #[must_use]
    pub fn of(&self, given: &Given) -> Given {
        let mut trimmed = given.clone();
        for gate in trimmed.mould.cavities.iter_mut().flat_map(|c| &mut c.gates) {
            if let Channel::Slit { depth_mm, .. } = &mut gate.channel {
                *depth_mm *= self.gate_time_ratio.sqrt();
            }
        }
        let room = &mut trimmed.resin.room;
        for side in [&mut room.melt, &mut room.solid] {
            side.volume_m3_per_kg *= self.room_ratio;
            side.growth_m3_per_kg_k *= self.room_ratio;
        }
        room.extra_m3_per_kg *= self.room_ratio;
        let film = |range: Range| range.map(|w| w * self.wall_film_ratio);
        trimmed.mould.pressed_w_m2_k = film(trimmed.mould.pressed_w_m2_k);
        trimmed.mould.loose_w_m2_k = film(trimmed.mould.loose_w_m2_k);
        trimmed
    }
}
