//! Specific volume over temperature and pressure: the equation of Tait on both sides of the transition.

use crate::part::resin::{Room, RoomSide};

/// Specific volume and its slope with pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Volume {
    /// In m³/kg.
    pub m3_per_kg: f64,
    /// Change with pressure, in m³/(kg·Pa); below zero.
    pub per_pa: f64,
}

/// What of the equation hangs on the temperature alone; the rest is quick.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct At {
    /// Pressure at which the transition lies at this temperature, in Pa: below it melt, above it solid.
    turn_pa: f64,
    /// Free volume, and one over the stiffness, of the melt and of the solid.
    melt: [f64; 2],
    solid: [f64; 2],
    /// What the solid has more, at no pressure.
    extra: f64,
    extra_per_pa: f64,
    tait: f64,
}

/// No press has more pressure than this.
const MOST_PA: f64 = 5e8;

fn side(side: &RoomSide, above: f64) -> [f64; 2] {
    let volume = side.volume_m3_per_kg + side.growth_m3_per_kg_k * above;
    [
        volume,
        (side.softening_per_k * above).exp() / side.stiffness_pa,
    ]
}

impl At {
    /// The equation at a temperature in K.
    #[must_use]
    pub fn of(room: &Room, k: f64) -> Self {
        let above = k - room.transition_k;
        let turn_pa = above / room.rise_k_per_pa;
        // Cold as it is it is solid without pressure, or hot as it is it stays melt under any: one side is enough.
        let (melts, freezes) = (turn_pa > 0.0, turn_pa < MOST_PA);
        let of = |is_needed: bool, of: &RoomSide| {
            if is_needed { side(of, above) } else { [0.0; 2] }
        };
        let extra = match room.extra_m3_per_kg {
            extra if extra == 0.0 || !freezes => 0.0,
            extra => extra * (room.extra_per_k * above).exp(),
        };
        Self {
            turn_pa: if freezes { turn_pa } else { f64::INFINITY },
            melt: of(melts, &room.melt),
            solid: of(freezes, &room.solid),
            extra,
            extra_per_pa: room.extra_per_pa,
            tait: room.tait_factor,
        }
    }

    /// Specific volume at a pressure in Pa.
    #[must_use]
    pub fn volume(&self, pa: f64) -> Volume {
        let is_melt = pa < self.turn_pa;
        let [free, soft] = if is_melt { self.melt } else { self.solid };
        let extra = if is_melt || self.extra == 0.0 {
            0.0
        } else {
            self.extra * (-self.extra_per_pa * pa).exp()
        };
        Volume {
            m3_per_kg: free * (1.0 - self.tait * (pa * soft).ln_1p()) + extra,
            per_pa: -free * self.tait * soft / (1.0 + pa * soft) - self.extra_per_pa * extra,
        }
    }
}

/// Specific volume at a temperature in K and a pressure in Pa.
#[must_use]
pub fn volume(room: &Room, k: f64, pa: f64) -> Volume {
    At::of(room, k).volume(pa)
}

/// Why a card's specific volume cannot be used.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NotARoom {
    /// A number that must be above zero.
    #[error("{what} of the specific volume is {read}; a number above zero is expected")]
    NotPositive {
        /// Which.
        what: &'static str,
        /// What was read.
        read: f64,
    },
    /// Melt and solid do not meet.
    #[error(
        "at {mpa} MPa the specific volume jumps by {jump_m3_per_kg:.2e} m3/kg at the transition; less than {most:.0e} is expected: check volumes and extras of melt and solid",
        most = MOST_JUMP
    )]
    Jumps {
        /// At which pressure.
        mpa: f64,
        /// By how much, in m³/kg.
        jump_m3_per_kg: f64,
    },
    /// Grows under pressure.
    #[error(
        "at {degc:.0} degC and {mpa} MPa the specific volume grows with pressure; where the solid has an extra, its fall with pressure must be about its fall with cold times the rise of the transition"
    )]
    GrowsWithPressure {
        /// Temperature.
        degc: f64,
        /// Pressure.
        mpa: f64,
    },
    /// Shrinks with heat.
    #[error("at {degc:.0} degC and {mpa} MPa the specific volume shrinks with heat")]
    ShrinksWithHeat {
        /// Temperature.
        degc: f64,
        /// Pressure.
        mpa: f64,
    },
}

/// The largest jump at the transition that is taken for rounding of a card, in m³/kg.
const MOST_JUMP: f64 = 4e-6;
/// Pressures the check goes through, in MPa.
const CHECKED_MPA: [f64; 7] = [0.0, 20.0, 40.0, 60.0, 80.0, 100.0, 120.0];
/// Below and above the transition the check goes this far, in steps of the third.
const CHECKED_K: (f64, f64, f64) = (-120.0, 150.0, 2.0);
const MEGA: f64 = 1e6;

/// Checks a card: melt and solid meet, volume falls with pressure and grows with heat, from 0 to 120 MPa.
///
/// # Errors
/// The first thing that is wrong, in words.
pub fn check(room: &Room) -> Result<(), NotARoom> {
    let positive = [
        ("the volume of the melt", room.melt.volume_m3_per_kg),
        ("the volume of the solid", room.solid.volume_m3_per_kg),
        ("the stiffness of the melt", room.melt.stiffness_pa),
        ("the stiffness of the solid", room.solid.stiffness_pa),
        ("the rise of the transition", room.rise_k_per_pa),
        ("the constant of the equation", room.tait_factor),
    ];
    if let Some((what, read)) = positive.into_iter().find(|(_, read)| *read <= 0.0) {
        return Err(NotARoom::NotPositive { what, read });
    }
    for mpa in CHECKED_MPA {
        let pa = mpa * MEGA;
        let turn_k = room.transition_k + room.rise_k_per_pa * pa;
        // A hair to either side of the transition; the slope over it is far below the limit.
        let hair = 1e-6;
        let (melt, solid) = (
            volume(room, turn_k + hair, pa),
            volume(room, turn_k - hair, pa),
        );
        let jump = melt.m3_per_kg - solid.m3_per_kg;
        if jump.abs() >= MOST_JUMP {
            return Err(NotARoom::Jumps {
                mpa,
                jump_m3_per_kg: jump.abs(),
            });
        }
        rises_and_falls(room, mpa)?;
    }
    Ok(())
}

fn rises_and_falls(room: &Room, mpa: f64) -> Result<(), NotARoom> {
    let (from, to, step) = CHECKED_K;
    let zero_k = crate::shelf::viscosity_law().zero_k.number;
    let turn = room.rise_k_per_pa * mpa * MEGA;
    let mut before: Option<Volume> = None;
    let mut above = from;
    while above <= to {
        let k = room.transition_k + above;
        let here = volume(room, k, mpa * MEGA);
        let degc = k - zero_k;
        // `not below` also catches what is no number.
        let falls = here.per_pa < 0.0;
        if !falls {
            return Err(NotARoom::GrowsWithPressure { degc, mpa });
        }
        // The transition itself may jump down by what a card may jump.
        let may_jump = above >= turn && above - step <= turn;
        let down = if may_jump { MOST_JUMP } else { 0.0 };
        let grows = before.is_none_or(|before| here.m3_per_kg > before.m3_per_kg - down);
        if !grows {
            return Err(NotARoom::ShrinksWithHeat { degc, mpa });
        }
        before = Some(here);
        above += step;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shelf::resins;

    #[test]
    fn law_every_card_of_the_shelf_passes_and_spoilt_ones_do_not() {
        for resin in resins() {
            check(&resin.room).unwrap_or_else(|error| panic!("{}: {error}", resin.id));
        }
        let pom = resins().iter().find(|r| r.id == "pom").unwrap().room;
        let jump = Room {
            extra_m3_per_kg: 1.2 * pom.extra_m3_per_kg,
            ..pom
        };
        assert!(matches!(
            check(&jump),
            Err(NotARoom::Jumps { mpa: 0.0, .. })
        ));
        // The extra of the solid that does not fall with pressure: it no longer meets the melt.
        let stiff = Room {
            extra_per_pa: 0.0,
            ..pom
        };
        assert!(check(&stiff).is_err());
        let soft = Room {
            melt: RoomSide {
                growth_m3_per_kg_k: -1e-7,
                ..pom.melt
            },
            ..pom
        };
        assert!(matches!(
            check(&soft),
            Err(NotARoom::ShrinksWithHeat { .. })
        ));
        let none = Room {
            rise_k_per_pa: 0.0,
            ..pom
        };
        assert!(check(&none).unwrap_err().to_string().contains("rise"));
    }

    #[test]
    fn law_the_slope_is_that_of_the_volume() {
        for resin in resins() {
            for (k, pa) in [(300.0, 3e7), (380.0, 1e7), (500.0, 8e7)] {
                let h = 1e3;
                let (up, down) = (
                    volume(&resin.room, k, pa + h).m3_per_kg,
                    volume(&resin.room, k, pa - h).m3_per_kg,
                );
                let slope = volume(&resin.room, k, pa).per_pa;
                // A difference over 2 kPa of numbers rounded at 1e-19.
                assert!(((up - down) / (2.0 * h) / slope - 1.0).abs() < 1e-5);
            }
        }
    }
}
