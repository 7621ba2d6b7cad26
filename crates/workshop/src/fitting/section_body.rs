//! What the press of the actual sections leaves.

use serde::{Deserialize, Serialize};

use super::condition_line::ConditionLine;
use crate::part::Range;

/// The press fit of the drawn sections.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SectionFitBody {
    /// The outer piece.
    pub ring: String,
    /// The inner piece.
    pub body: String,
    /// Interference on the diameter as measured: least, middle and most of the limits.
    pub interference_um: Range,
    /// Temperature of both at the moment looked at.
    pub temperature_degc: f64,
    /// Years since it was pressed.
    pub years_count: f64,
    /// Speed of turning.
    pub speed_rpm: f64,
    /// Where the seat begins along the axle.
    pub seat_from_mm: f64,
    /// Where it ends.
    pub seat_to_mm: f64,
    /// Length that faces the other piece, without grooves and reliefs.
    pub seat_length_mm: f64,
    /// Mean pressure along the seat: over the limits, the softest and stiffest grade, and from free sliding to held fast.
    pub mean_pressure_mpa: Range,
    /// What two plain rings of the same walls would give, for the middle interference.
    pub plain_rings_mpa: f64,
    /// Force that pushes the ring on: the range of the mean pressure times that of friction. The press is set by this one.
    pub push_on_n: Range,
    /// Torque it holds when new, over the same range.
    pub torque_n_mm: Range,
    /// The conditions of the sections as drawn; they stand among those of the fit too.
    pub conditions: Vec<ConditionLine>,
    /// The moment at which holding needs the most, for the least interference, the softest grade and the least friction.
    pub worst: SectionWorst,
    /// With free sliding, for the middle interference and the usual stiffness.
    pub slip: SectionBound,
    /// Held fast along the seat, for the same.
    pub stick: SectionBound,
    /// Edge of an element.
    pub size_mm: f64,
    /// Nodes of the finer mesh.
    pub nodes_count: usize,
    /// Smallest angle of the finer mesh.
    pub least_angle_deg: f64,
    /// Change of the mean pressure from the mesh of twice the size.
    pub pressure_change_percent: f64,
}

/// What is left of the press of the sections at the worst moment of its years.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SectionWorst {
    /// The moment, such as `cold after 5 years`.
    pub name: String,
    /// Temperature.
    pub temperature_degc: f64,
    /// Years since it was pressed.
    pub years_count: f64,
    /// Speed of turning.
    pub speed_rpm: f64,
    /// Mean pressure along the seat, the lesser of the two bounds of friction.
    pub mean_pressure_mpa: f64,
    /// What two plain rings of the same walls would press with then.
    pub plain_rings_mpa: f64,
    /// Interference from which it holds what it must then; none where no interference looked at does.
    pub at_least_um: Option<f64>,
    /// Torque it still holds.
    pub torque_n_mm: f64,
    /// Whether that is what it must hold (or, where nobody says a torque, whether it still presses).
    pub kept: bool,
    /// The same in words.
    pub words: String,
}

/// One of the two bounds between which friction lies.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SectionBound {
    /// Mean pressure along the seat.
    pub mean_pressure_mpa: f64,
    /// Largest pressure along the seat; at its ends it has no bound and grows with every finer mesh.
    pub most_pressure_mpa: f64,
    /// Where that is along the axle.
    pub most_pressure_at_mm: f64,
    /// Share of the seat's area that presses; below 1 a gap is open somewhere, if only by a fraction of a µm.
    pub pressing_share: f64,
    /// The widest gap along the seat, on the radius.
    pub widest_gap_um: f64,
    /// The pressure along the seat, end to end.
    pub line: Vec<SeatPoint>,
    /// The largest stress in the ring.
    pub ring_peak: SectionPeak,
    /// The largest stress in the body.
    pub body_peak: SectionPeak,
    /// Growth of the ring's outside diameter, mean over its length.
    pub ring_outside_growth_um: f64,
    /// Growth of the ring's bore on the diameter, mean over its length.
    pub ring_bore_growth_um: f64,
    /// Growth of the body's spigot on the diameter, mean over its length (negative: it is pressed in).
    pub spigot_growth_um: f64,
    /// Growth of the body's smallest bore on the diameter.
    pub body_bore_growth_um: f64,
}

/// The pressure at a place of the seat.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SeatPoint {
    /// Place along the axle.
    pub x_mm: f64,
    /// Pressure.
    pub pressure_mpa: f64,
    /// Shear along the seat, 0 with free sliding.
    pub shear_mpa: f64,
}

/// The largest stress of a piece, and where.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SectionPeak {
    /// Equivalent stress (von Mises).
    pub equivalent_mpa: f64,
    /// The same over the short-time modulus: the strain there, which stays while the stress creeps away.
    pub strain_percent: f64,
    /// Place along the axle.
    pub x_mm: f64,
    /// Distance from the axle.
    pub radius_mm: f64,
    /// Change from the mesh of twice the size; large where a sharp corner or the seat's end lets it grow without bound.
    pub change_percent: f64,
}

/// The stress field for a picture: corners, triangles, and the equivalent stress at each triangle's corners.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StressPicture {
    /// Places: along the axle and away from it, as drawn.
    pub places_mm: Vec<[f64; 2]>,
    /// How each place is displaced, along and away.
    pub displaced_mm: Vec<[f64; 2]>,
    /// Three places each.
    pub triangles: Vec<[u32; 3]>,
    /// Whether a triangle belongs to the ring.
    pub of_ring: Vec<bool>,
    /// Equivalent stress at its three corners.
    pub equivalent_mpa: Vec<[f64; 3]>,
}
