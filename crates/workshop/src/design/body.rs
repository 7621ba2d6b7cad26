//! What leaves the design station.

use serde::{Deserialize, Serialize};

use crate::part::job::{MaterialKind, Side};
use crate::part::mass_properties::Tensor;

/// The numbers of a section.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SectionBody {
    /// Name of the design.
    pub name: String,
    /// Revision of the design.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub revision: Option<String>,
    /// Mass of the whole.
    pub mass_g: f64,
    /// Moment of inertia about the axle's direction, through the whole's centre of mass.
    pub polar_inertia_g_mm2: f64,
    /// Mean moment of inertia about the two directions across, through the whole's centre of mass.
    pub transverse_inertia_g_mm2: f64,
    /// Place of the whole's centre of mass along the axle, from the middle of the gap.
    pub centre_of_mass_mm: f64,
    /// Transverse over polar inertia.
    pub inertia_ratio: f64,
    /// Speed of the free wobble after a bad throw, as a multiple of the turning speed: polar over
    /// transverse inertia.
    pub nutation_order: f64,
    /// How many times more a couple tilts the piece than it would tilt a flat disc,
    /// `1 / (1 − inertia_ratio)`; none where the piece has no axis of its own to keep
    /// (ratio 1, where polar and transverse inertia are equal).
    pub couple_amplification: Option<f64>,
    /// Full inertia tensor about the whole's centre of mass.
    pub inertia_tensor_g_mm2: Tensor,
    /// Static unbalance the design itself has (from holes and lumps).
    pub static_unbalance_g_mm: f64,
    /// Where that unbalance's heavy spot is, from the drawing's upward radius, right-handed about `x`;
    /// none where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub static_unbalance_at_deg: Option<f64>,
    /// Couple unbalance the design itself has, about its centre of mass.
    pub couple_unbalance_g_mm2: f64,
    /// Largest diameter.
    pub diameter_mm: f64,
    /// Width over all, along the axle.
    pub width_mm: f64,
    /// Narrowest way between left and right at radii beyond whatever sits in the middle (the
    /// bearing): the string's gap; none where a side is missing.
    pub gap_mm: Option<f64>,
    /// One entry a solid body: a piece drawn once for both sides is listed left and right.
    pub pieces: Vec<PieceLine>,
    /// Every limit with what was found.
    pub limits: Vec<LimitLine>,
    /// Places where pieces overlap on the drawing, presses included.
    pub overlaps: Vec<OverlapLine>,
    /// What one millimetre of the recut face weighs, where the job says what is recut.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub recut_gram_per_mm: Option<f64>,
    /// What the picture of the cut is drawn from.
    pub cut: Cut,
}

/// One solid body.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PieceLine {
    /// Name of the piece in the job file.
    pub name: String,
    /// The side it sits on: left, right or centre (a piece for both sides is two entries).
    pub side: Side,
    /// Volume of the body (times its count), features counted.
    pub volume_mm3: f64,
    /// Mass of the body (times its count).
    pub mass_g: f64,
    /// Density it was reckoned with.
    pub density_g_cm3: f64,
    /// How many of it sit here.
    pub count: u32,
    /// Place of its centre of mass along the axle, from the middle of the gap.
    pub centre_of_mass_mm: f64,
    /// Moment of inertia about the axle's direction through its own centre of mass.
    pub polar_inertia_g_mm2: f64,
    /// Mean moment of inertia about the directions across, through its own centre of mass.
    pub transverse_inertia_g_mm2: f64,
    /// Its part of the whole's polar inertia, 0 to 1.
    pub inertia_share: f64,
    /// Its part of the whole's mass, 0 to 1.
    pub mass_share: f64,
    /// The thinnest wall of the section; none where no two places of it face each other.
    pub least_wall_mm: Option<f64>,
    /// Middle of that wall, along the axle and as radius.
    pub least_wall_at_mm: Option<(f64, f64)>,
}

/// One limit with what was found, in the unit its `number` names.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LimitLine {
    /// What is limited, with its unit, such as `mass_g` or `least_wall_mm`.
    pub number: String,
    /// The piece it belongs to; none for the whole.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub piece: Option<String>,
    /// What was found.
    pub found: f64,
    /// Smallest allowed value.
    pub at_least: Option<f64>,
    /// Largest allowed value.
    pub at_most: Option<f64>,
    /// Whether the found value is inside.
    pub inside: bool,
    /// The same in words, with the unit and the place.
    pub words: String,
}

/// Two pieces that share a place on the drawing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct OverlapLine {
    /// The first piece.
    pub first: String,
    /// The second piece.
    pub second: String,
    /// Smaller extent of the shared place, in mm: the interference of a press.
    pub depth_mm: f64,
    /// The depth the job allows for this pair; 0 where it says nothing.
    pub allowed_mm: f64,
    /// A place in the overlap: along the axle and radius.
    pub at_mm: (f64, f64),
}

/// What the picture of the cut is drawn from: closed outlines above the axle.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Cut {
    /// The outlines, in the order of the job file; right before left for a piece on both sides.
    pub outlines: Vec<CutOutline>,
    /// Half the picture's width: the largest distance from the middle, in mm.
    pub reach_mm: f64,
    /// Largest radius, in mm.
    pub radius_mm: f64,
}

/// One closed outline of the cut.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CutOutline {
    /// Name of the piece.
    pub name: String,
    /// The side it sits on.
    pub side: Side,
    /// What kind of material it is of.
    pub kind: MaterialKind,
    /// SVG path data in mm, x along the axle and y the radius (growing upward); loops inside
    /// loops are holes (even-odd rule).
    pub path: String,
}
