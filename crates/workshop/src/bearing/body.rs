//! What leaves the bearing station.

use serde::{Deserialize, Serialize};

use super::hertz::Contact;
use super::kinematics::Orders;
use crate::part::Range;

/// The bearing's numbers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BearingBody {
    /// Its word on the shelf, where it was taken from there.
    pub bearing: Option<String>,
    /// Bore of the inner ring.
    pub bore_mm: f64,
    /// Outside diameter of the outer ring.
    pub outside_mm: f64,
    /// Width of the rings.
    pub width_mm: f64,
    /// How many balls.
    pub balls: u32,
    /// How many would fit.
    pub balls_at_most: u32,
    /// Diameter of a ball.
    pub ball_mm: f64,
    /// Pitch diameter.
    pub pitch_mm: f64,
    /// Contact angle.
    pub contact_angle_deg: f64,
    /// Speed that frequencies and torque are for.
    pub speed_rpm: f64,
    /// How many times a turn the parts come by.
    pub orders: Orders,
    /// The same as frequencies at the speed.
    pub lines: Vec<BearingLine>,
    /// Factor of the static rating, computed from the contact (ISO 76's `f0`).
    pub rating_factor: f64,
    /// Static rating.
    pub static_rating_n: f64,
    /// What the loads do.
    pub loads: Vec<LoadLine>,
    /// What is in it, as the shelf calls it.
    pub lubricant: String,
    /// Temperature it runs at.
    pub temperature_degc: f64,
    /// Kinematic viscosity at that temperature, mm²/s (cSt).
    pub viscosity_cst: Range,
    /// Friction torque at the speed, all parts together.
    pub torque_un_m: Range,
    /// Its viscous part.
    pub viscous_torque_un_m: Range,
    /// Its load part.
    pub load_torque_un_m: Range,
    /// Its dry part.
    pub dry_torque_un_m: Range,
    /// What the one-line rule of ordinary bearings would say.
    pub simple_torque_un_m: f64,
    /// Torque against speed.
    pub curve: Vec<TorquePoint>,
    /// Torque at the speed for every lubricant of the shelf.
    pub lubricants: Vec<LubricantLine>,
}

/// One frequency of the bearing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BearingLine {
    /// What comes by.
    pub name: String,
    /// How many times a turn.
    pub order: f64,
    /// How often at the speed.
    pub frequency_hz: f64,
}

/// What one load does to the most heavily pressed ball.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LoadLine {
    /// When it acts.
    pub name: String,
    /// Radial load on the bearing.
    pub load_n: f64,
    /// Load of the most heavily pressed ball.
    pub ball_load_n: f64,
    /// Its contact with the inner race.
    pub inner: Contact,
    /// Its contact with the outer race.
    pub outer: Contact,
    /// Static rating by load.
    pub static_safety_ratio: f64,
}

/// Torque at one speed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct TorquePoint {
    /// The speed.
    pub speed_rpm: f64,
    /// Low end of the torque.
    pub low_un_m: f64,
    /// Likely torque.
    pub likely_un_m: f64,
    /// High end of the torque.
    pub high_un_m: f64,
}

/// Torque with one lubricant.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LubricantLine {
    /// Its word on the shelf.
    pub lubricant: String,
    /// What a maker would call it.
    pub words: String,
    /// Torque at the speed.
    pub torque_un_m: Range,
}
