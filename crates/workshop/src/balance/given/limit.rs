//! What comes into the question of the limit.

use super::rotor::{Inertia, Rotor};
use crate::part::balance_wishes::ErrorKind;
use crate::part::job::Side;
use crate::part::mass_properties::Tensor;
use crate::part::{Couple, Range, Trust, Unbalance};

/// How the limit is asked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Asked {
    /// By a balance quality grade, in mm/s.
    Grade {
        /// Centre's speed: eccentricity times angular speed.
        grade_mm_per_s: f64,
    },
    /// By the permissible residual unbalance itself.
    Unbalance {
        /// Of the whole piece.
        limit_g_mm: f64,
    },
}

/// One body an error may befall.
#[derive(Debug, Clone, PartialEq)]
pub struct ErrorBody {
    /// Name of the piece, or of the side.
    pub name: String,
    /// Where it sits.
    pub side: Side,
    /// Its mass.
    pub mass_g: f64,
    /// Its first moment along the axle over its mass: where an offset of it acts.
    pub centre_mm: f64,
    /// Its inertia about its own centre.
    pub inertia: Inertia,
    /// Mass of what its outer surface encloses, hollows counted full: what moves when the outside runs
    /// out against the bore.
    pub enclosed_mass_g: f64,
    /// Where that mass has its centre along the axle.
    pub enclosed_centre_mm: f64,
    /// Its largest radius.
    pub outer_radius_mm: f64,
}

/// One error of the drawing with the bodies it befalls, each by itself.
#[derive(Debug, Clone, PartialEq)]
pub struct ErrorGiven {
    /// What it is called.
    pub name: String,
    /// What kind, and how large.
    pub kind: ErrorKind,
    /// The bodies.
    pub bodies: Vec<ErrorBody>,
}

/// The question of the limit, checked.
#[derive(Debug, Clone, PartialEq)]
pub struct LimitGiven {
    /// The piece.
    pub rotor: Rotor,
    /// Its inertia, which here is always known.
    pub inertia: Inertia,
    /// Grade or unbalance.
    pub asked: Asked,
    /// The speed.
    pub speed_rpm: f64,
    /// Two correction planes with their names and places along the axle.
    pub planes: [(String, f64); 2],
    /// Radius of the rim: where a local mass would sit, and where a wobble shows.
    pub rim_radius_mm: f64,
    /// Mass that a millimetre of the rim's face weighs, where there is a rim.
    pub face_g_per_mm: Option<f64>,
    /// Mass that a millimetre off the rim's outside radius weighs, where there is a rim.
    pub outside_g_per_mm: Option<f64>,
    /// What the drawing itself has, from holes and lumps: static, and couple about the centre of mass.
    pub drawn: (Unbalance, Couple),
    /// The drawing's whole tensor about its centre of mass, where it is known: it tells the lean of the
    /// principal axis when the two inertias across differ.
    pub tensor_g_mm2: Option<Tensor>,
    /// The errors.
    pub errors: Vec<ErrorGiven>,
    /// Weight of the rim's wobble against the seat's orbit, both in µm.
    pub wobble_weight: f64,
    /// How far the string stretches under the hanging piece.
    pub string_stretch_mm: Option<Range>,
    /// Expanded uncertainty with which the shop measures a residual unbalance.
    pub measuring_error_g_mm: Option<f64>,
    /// How many pieces are drawn.
    pub draws: u32,
    /// The seed of the draws.
    pub seed: u64,
    /// How far the masses are to be trusted.
    pub trust: Vec<Trust>,
}
