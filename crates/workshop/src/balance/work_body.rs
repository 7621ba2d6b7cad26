//! What leaves the question of the work: holes, and angles of parts against each other.

use serde::{Deserialize, Serialize};

use crate::part::job::Side;
use crate::part::{Couple, Unbalance};

/// The work that corrects.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WorkBody {
    /// Where it is done, for the drawing.
    pub places: Vec<WorkPlace>,
    /// The holes (pockets, pins, weights).
    pub holes: Vec<Hole>,
    /// Unbalance the work leaves, plane by plane, in the order of the answer's planes.
    pub residual: Vec<Unbalance>,
    /// Static unbalance it leaves.
    pub residual_static: Unbalance,
    /// Couple it leaves, where the planes' places are known.
    pub residual_couple: Option<Couple>,
    /// Whether the residual is inside every limit; none where no limit is known.
    pub inside: Option<bool>,
    /// Whether no better pattern exists with as many holes from the same tools, places and depths.
    pub proved: bool,
    /// How many patterns were looked at one by one.
    pub patterns_count: u64,
    /// What was proved, in words.
    pub words: String,
}

/// Where work is done.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WorkPlace {
    /// The plane.
    pub plane: String,
    /// The piece, where material is taken off.
    pub piece: Option<String>,
    /// Its side.
    pub side: Option<Side>,
    /// Outer radius of the section.
    pub outer_radius_mm: Option<f64>,
    /// Inner radius of the section.
    pub inner_radius_mm: Option<f64>,
    /// How many places there are round the axle.
    pub places_number: u32,
    /// Where the first is.
    pub first_deg: f64,
}

/// What a hole is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum HoleKind {
    /// Drilled along the axle.
    Axial,
    /// Drilled towards the axle.
    Radial,
    /// Milled.
    Pocket,
    /// A pin pressed in.
    Pin,
    /// A weight put on.
    Weight,
}

/// One hole, pocket, pin or weight.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Hole {
    /// The plane.
    pub plane: String,
    /// What it is.
    pub kind: HoleKind,
    /// Its place round the axle, by number from 1.
    pub place_number: u32,
    /// Its angle from the mark, in the answer's sense.
    pub angle_deg: f64,
    /// Diameter, or a pocket's width along the axle; none for a weight.
    pub diameter_mm: Option<f64>,
    /// Depth at full diameter; a pin's length.
    pub depth_mm: Option<f64>,
    /// How much deeper the drill's point goes.
    pub point_mm: Option<f64>,
    /// Distance of the hole's axis from the axle (axial hole, pin, weight), or of its mouth (radial, pocket).
    pub at_radius_mm: f64,
    /// Place along the axle: of the mouth (axial hole, pin), of the axis (radial), of the middle.
    pub at_x_mm: f64,
    /// The angle a pocket spans.
    pub span_deg: Option<f64>,
    /// Mass put on; negative where it is taken off.
    pub mass_g: f64,
    /// Distance of the centre of that mass from the axle.
    pub centre_radius_mm: f64,
    /// Its place along the axle.
    pub centre_x_mm: f64,
    /// Unbalance it brings (taken off: against its angle).
    pub unbalance_g_mm: f64,
    /// The thinnest wall it leaves.
    pub wall_left_mm: Option<f64>,
    /// In words, as the bench would be told.
    pub words: String,
}

/// How parts are to be turned against each other.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ClockBody {
    /// Every part that is turned.
    pub turns: Vec<ClockTurn>,
    /// All marks together.
    pub before: ClockState,
    /// As advised.
    pub after: ClockState,
    /// With the static unbalance as small as it will go.
    pub least_static: ClockState,
    /// With the couple as small as it will go.
    pub least_couple: ClockState,
    /// What was weighed against what, and whether it is proved, in words.
    pub words: String,
}

/// One part turned on another.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ClockTurn {
    /// The part.
    pub part: String,
    /// The part it sits on.
    pub on: String,
    /// How far its mark stands from the other's, with rotation.
    pub turn_deg: f64,
    /// The mark it comes to, from 1; none for a joint that takes any angle.
    pub mark_number: Option<u32>,
}

/// What an arrangement leaves.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct ClockState {
    /// Static unbalance.
    pub static_unbalance: Unbalance,
    /// Couple about the centre of mass.
    pub couple: Couple,
    /// Orbit of the seat.
    pub seat_um: f64,
    /// Wobble of the rim; none where the inertia is not known.
    pub wobble_um: Option<f64>,
}
