//! Drag of the lubricant in the bearing: Palmgren's viscous torque, by its factor `f0`.

use super::speed::{Speed, in_rpm};
use crate::bearing::viscous_un_m;

/// Palmgren's viscous torque of one bearing with one lubricant, at a factor `f0` of 1.
///
/// The bearing station's law, with its two branches kept as numbers, so that a quadrature does not ask
/// for them anew: the power 2/3 of the speed above, a constant below, the station's own join between.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Oil {
    viscosity_cst: f64,
    pitch_mm: f64,
    /// Torque over the power 2/3 of the speed, in N·m and rad/s.
    fast: f64,
    /// Torque of the slow branch, in N·m.
    slow: f64,
    /// Speeds between which the station joins the branches, in rad/s.
    join: (f64, f64),
}

/// 1 µN·m in N·m.
const MICRO: f64 = 1e-6;
/// A little more than the station's join is wide on either side of the place where the branches meet.
const JOIN_SHARE: f64 = 0.041;

impl Oil {
    /// The torque of a bearing of this pitch diameter with a lubricant of this viscosity.
    #[must_use]
    pub fn new(viscosity_cst: f64, pitch_mm: f64) -> Self {
        let at = |rpm: f64| MICRO * viscous_un_m(1.0, viscosity_cst, rpm, pitch_mm);
        // Far out on the fast branch, whatever the viscosity.
        let far = Speed::new(1e9 / viscosity_cst.max(1e-9));
        let fast = at(in_rpm(far.rad_per_s)) / far.two_thirds;
        let slow = at(0.0);
        let meet = (slow / fast).powf(1.5);
        let join = (meet * (1.0 - JOIN_SHARE), meet * (1.0 + JOIN_SHARE));
        Self {
            viscosity_cst,
            pitch_mm,
            fast,
            slow,
            join,
        }
    }

    /// The torque at a speed and a factor of 1.
    #[must_use]
    #[inline]
    pub fn torque_n_m(&self, speed: Speed) -> f64 {
        if speed.rad_per_s >= self.join.1 {
            self.fast * speed.two_thirds
        } else if speed.rad_per_s <= self.join.0 {
            self.slow
        } else {
            let rpm = in_rpm(speed.rad_per_s);
            MICRO * viscous_un_m(1.0, self.viscosity_cst, rpm, self.pitch_mm)
        }
    }

    /// The ends of the join.
    pub(super) fn kinks_rad_per_s(&self) -> [f64; 2] {
        [self.join.0, self.join.1]
    }
}
