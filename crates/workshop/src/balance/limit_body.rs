//! What leaves the question of the limit.

use serde::{Deserialize, Serialize};

use super::rotor_body::FreeRotor;
use crate::part::job::Side;
use crate::part::{Couple, Unbalance};

/// The permissible residual unbalance of a piece, shared out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LimitBody {
    /// Name of the piece.
    pub name: String,
    /// Its mass.
    pub mass_g: f64,
    /// The speed.
    pub speed_rpm: f64,
    /// The grade, or what the stated limit comes to as one.
    pub grade_mm_per_s: f64,
    /// Permissible eccentricity of the centre of mass.
    pub permissible_um: f64,
    /// Permissible residual unbalance.
    pub limit_g_mm: f64,
    /// What may be measured: the limit less the measuring error.
    pub accepted_up_to_g_mm: f64,
    /// The measuring error that was taken off; 0 where it is small enough to be left out.
    pub measuring_error_g_mm: f64,
    /// Shares of the two planes.
    pub planes: Vec<PlaneLimit>,
    /// Couple that uses up the limits of both planes, opposite ways.
    pub couple_limit_g_mm2: f64,
    /// The same limit in sizes a bench knows.
    pub sizes: DropSize,
    /// What a piece at the limit does, all static.
    pub at_limit: FreeRotor,
    /// What the drawing itself has, and how it answers to a couple.
    pub design: DesignCheck,
    /// The errors of the drawing in g·mm.
    pub budget: Vec<BudgetLine>,
    /// All errors at their worst, all one way.
    pub worst_g_mm: f64,
    /// All errors together as independent ones: root of the sum of squares of their worst.
    pub statistical_g_mm: f64,
    /// Couple with all errors at their worst.
    pub worst_g_mm2: f64,
    /// Couple of independent errors.
    pub statistical_g_mm2: f64,
    /// A drawn lot of pieces with these errors.
    pub lot: Option<LotShare>,
    /// What every grade of the table would allow at this speed.
    pub grades: Vec<GradeLine>,
}

/// The share of one correction plane.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PlaneLimit {
    /// What it is called.
    pub name: String,
    /// Its place along the axle.
    pub x_mm: f64,
    /// Its distance from the centre of mass.
    pub distance_mm: f64,
    /// Its share of the limit.
    pub limit_g_mm: f64,
    /// What may be measured in it.
    pub accepted_up_to_g_mm: f64,
    /// The same as a mass at the rim's radius.
    pub rim_mass_g: f64,
}

/// The limit in sizes that are met at the bench.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DropSize {
    /// Mass at one place of the rim.
    pub rim_mass_g: f64,
    /// The radius of that place.
    pub rim_radius_mm: f64,
    /// How far the bearing seat may be off the centre of mass.
    pub seat_um: f64,
    /// Wobble of the rim if the planes' limits are all couple; none for a piece without an axis of its own.
    pub wobble_um: Option<f64>,
    /// Cut of the whole face that weighs as much as that mass at the rim, where the rim is known.
    pub face_um: Option<f64>,
    /// The same off the radius of the outside.
    pub outside_um: Option<f64>,
}

/// How the design answers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DesignCheck {
    /// Transverse over polar inertia.
    pub inertia_ratio: f64,
    /// How many times as far as a flat disc a couple tilts it; none at a ratio of 1.
    pub couple_amplification: Option<f64>,
    /// Speed of the free wobble over the speed of turning.
    pub nutation_order: f64,
    /// Static unbalance of the drawing.
    pub static_unbalance: Unbalance,
    /// Couple of the drawing about the centre of mass.
    pub couple: Couple,
    /// Lean of the principal axis of the drawing.
    pub tilt_mrad: Option<f64>,
    /// Wobble of the rim from that.
    pub wobble_um: Option<f64>,
    /// All of it in words.
    pub words: String,
}

/// One error in g·mm.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BudgetLine {
    /// What it is called.
    pub name: String,
    /// The body it befalls.
    pub piece: String,
    /// The side of that body.
    pub side: Side,
    /// The tolerance as it was said, in words.
    pub tolerance_said: String,
    /// Static unbalance at its worst.
    pub static_g_mm: f64,
    /// Couple at its worst, about the centre of mass.
    pub couple_g_mm2: f64,
    /// Static unbalance over the limit.
    pub limit_share: f64,
    /// How it was reckoned, in words.
    pub words: String,
}

/// A drawn lot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LotShare {
    /// How many pieces were drawn.
    pub drawn_pieces: u32,
    /// The seed.
    pub seed: u64,
    /// How they were drawn, in words.
    pub words: String,
    /// Share of pieces whose static unbalance is inside the limit.
    pub inside_share: f64,
    /// Lower end of its 95 % interval.
    pub inside_low_share: f64,
    /// Upper end of its 95 % interval.
    pub inside_high_share: f64,
    /// Share of pieces inside the limit of every plane.
    pub planes_inside_share: f64,
    /// Mean of the static unbalance.
    pub mean_g_mm: f64,
    /// 95 of 100 pieces are below this.
    pub most_of_95_in_100_g_mm: f64,
    /// Mean wobble of the rim; none for a piece without an axis of its own.
    pub mean_wobble_um: Option<f64>,
    /// Counts of pieces in equal steps of static unbalance, from 0.
    pub counts: Vec<u32>,
    /// The step.
    pub step_g_mm: f64,
}

/// One grade of the table.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct GradeLine {
    /// Its name, `G 6.3`.
    pub name: String,
    /// Its number.
    pub grade_mm_per_s: f64,
    /// What it allows this piece at this speed.
    pub limit_g_mm: f64,
    /// The eccentricity it allows.
    pub permissible_um: f64,
    /// What the table names for it.
    pub examples: String,
    /// How the row is known.
    pub tag: String,
    /// Share of drawn pieces inside it, where a lot was drawn.
    pub inside_share: Option<f64>,
}
