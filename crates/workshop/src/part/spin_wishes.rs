//! What a job says of bearing, string, throw, air and sleep; what it does not say the shelf says.

use super::Range;

/// The `[bearing]` block: a ball bearing by its dimensions and what is in it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct BearingWishes {
    /// Bore of the inner ring.
    pub bore_mm: Option<f64>,
    /// Outside diameter of the outer ring: what the string runs on.
    pub outside_mm: Option<f64>,
    /// Width of the rings.
    pub width_mm: Option<f64>,
    /// How many balls.
    pub balls: Option<u32>,
    /// Diameter of a ball.
    pub ball_mm: Option<f64>,
    /// Contact angle from the plane of the rings.
    pub contact_angle_deg: Option<f64>,
    /// What is in it, as the shelf calls it.
    pub lubricant: Option<String>,
    /// Kinematic viscosity of the lubricant in mm²/s (cSt) as it runs; goes before the lubricant's own.
    pub viscosity_cst: Option<Range>,
    /// Factor of the viscous friction: how much of the flooded bearing's drag there is.
    pub f0_factor: Option<Range>,
    /// Friction torque of the bearing without lubricant, independent of speed.
    pub dry_torque_un_m: Option<Range>,
}

/// The `[string]` block.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StringWishes {
    /// Length from the loop on the finger to the bearing.
    pub length_mm: Option<f64>,
    /// Diameter of the string as it lies.
    pub diameter_mm: Option<f64>,
    /// How much of the wound space is string, 0 to 1.
    pub packing_share: Option<Range>,
    /// Torsional stiffness of the hanging string, in µN·m a radian of turn.
    pub torsion_un_m_per_rad: Option<Range>,
    /// How far from the middle of the gap the string runs.
    pub off_centre_mm: Option<Range>,
    /// Friction of string on pad and wall.
    pub friction_coefficient: Option<Range>,
    /// Force with which the string presses on a wall while the piece sleeps; 0 where it runs free.
    pub wall_force_mn: Option<Range>,
    /// Torque of a twisted string on the piece about the string.
    pub twist_torque_un_m: Option<Range>,
}

/// The `[throw]` block: the hand's speed, or the speed of turning it gave.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ThrowWishes {
    /// Speed of the hand as the piece leaves it.
    pub hand_speed_m_per_s: Option<Range>,
    /// Speed of turning at the end of the string, where it is known; goes before the hand's speed.
    pub speed_rpm: Option<Range>,
    /// Time in which the hand comes to a stop.
    pub stop_time_s: Option<Range>,
}

/// The `[air]` block.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct AirWishes {
    /// Temperature of the air.
    pub temperature_degc: Option<Range>,
    /// Pressure of the air where the piece is, not reduced to sea level.
    pub pressure_kpa: Option<Range>,
    /// Relative humidity.
    pub humidity_percent: Option<Range>,
}

/// The `[spin]` block: how long it must sleep, where the sleep ends, and what shakes it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SpinWishes {
    /// Speed below which it no longer returns.
    pub ends_at_rpm: Option<Range>,
    /// The shortest sleep the maker will have.
    pub sleep_at_least_s: Option<f64>,
    /// Factor of the rim's air drag on the law of a long cylinder.
    pub rim_factor: Option<Range>,
    /// Factor of the gap's flare on the law of an open face.
    pub gap_factor: Option<Range>,
    /// Difference of mass between the two sides.
    pub mass_difference_g: Option<Range>,
    /// Static unbalance of the finished piece.
    pub static_unbalance_g_mm: Option<Range>,
    /// Couple unbalance of the finished piece.
    pub couple_unbalance_g_mm2: Option<Range>,
    /// How many times its weight the piece pulls in a hard catch.
    pub catch_jerk_ratio: Option<Range>,
}
