//! What leaves the turning station.

use serde::{Deserialize, Serialize};

use super::dimension::Surface;

/// The dimensions of a turned piece: what each does, and what it may be off by.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RimBody {
    /// Name of the piece.
    pub piece: String,
    /// Mass of one, as drawn.
    pub mass_g: f64,
    /// Mass wanted of one.
    pub wanted_g: f64,
    /// How far it may be off.
    pub mass_within_g: f64,
    /// Moment of inertia about the axle, as drawn.
    pub polar_inertia_g_mm2: f64,
    /// Moment of inertia across, about its own centre, as drawn.
    pub transverse_inertia_g_mm2: f64,
    /// Every dimension, in the order faces, outsides, bores.
    pub dimensions: Vec<DimensionLine>,
    /// What the tolerances add up to.
    pub sum: ToleranceSum,
    /// The dimension to hold: the one that brings most mass at a common grade.
    pub hold: Option<String>,
    /// Dimensions that may be let go: they bring little even at the coarsest grade.
    pub let_go: Vec<String>,
}

/// One dimension.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DimensionLine {
    /// Its name: the surface and where it stands.
    pub name: String,
    /// What kind of surface.
    pub surface: Surface,
    /// Diameter, or distance from the datum face.
    pub size_mm: Option<f64>,
    /// Whether the other faces are measured from this one.
    pub datum: bool,
    /// Whether it is the fit on the half: never cut for the mass.
    pub fit: bool,
    /// Mass for 1 mm more of the size.
    pub mass_g_per_mm: f64,
    /// Polar moment of inertia for 1 mm more of the size, in g·mm² a mm.
    pub polar_g_mm2_per_mm: f64,
    /// Transverse moment of inertia (about its own centre) for 1 mm more, in g·mm² a mm.
    pub transverse_g_mm2_per_mm: f64,
    /// How far the piece's centre of mass moves along the axle for 1 mm more, in mm a mm.
    pub centre_mm_per_mm: f64,
    /// How far the whole's centre of mass moves, where one side alone is off, in µm for 0.01 mm.
    pub whole_centre_um: Option<f64>,
    /// Static unbalance for a run-out of 0.01 mm (full indicator movement) of this surface alone.
    pub static_g_mm: f64,
    /// Product of inertia about the middle of the gap for the same run-out.
    pub couple_g_mm2: f64,
    /// Limits that stand already, as they are written.
    pub held: Option<String>,
    /// Tolerance (either way) if all may go the wrong way together.
    pub worst_mm: Option<f64>,
    /// Tolerance (either way) by the root of the sum of squares.
    pub statistical_mm: Option<f64>,
    /// Coarsest grade of ISO 286 inside the first; none where the table has none.
    pub worst_grade: Option<String>,
    /// Coarsest grade inside the second.
    pub statistical_grade: Option<String>,
    /// Its share of all mass at one grade for all, 0 to 1.
    pub mass_share: f64,
}

/// What the tolerances add up to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ToleranceSum {
    /// All the wrong way together, with the grades of the first column.
    pub worst_g: f64,
    /// Root of the sum of squares, with the grades of the second column.
    pub statistical_g: f64,
    /// What the limits that stand already bring, together.
    pub held_g: f64,
}

/// How one piece is brought to its mass.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RecutBody {
    /// Name of the piece.
    pub piece: String,
    /// The reading.
    pub mass_g: f64,
    /// The wanted mass.
    pub wanted_g: f64,
    /// How far it may be off.
    pub mass_within_g: f64,
    /// How much it is over (negative: under).
    pub over_g: f64,
    /// The cuts there are, the first the one to take.
    pub cuts: Vec<CutLine>,
    /// Cut in two steps, where the scale's or the lathe's error makes that better.
    pub two_steps: Option<TwoSteps>,
}

/// One way to cut.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CutLine {
    /// The dimension.
    pub name: String,
    /// What kind of surface.
    pub surface: Surface,
    /// The surface as drawn, place after place: along the axle and away from it.
    pub border_mm: Vec<[f64; 2]>,
    /// What it takes; on the diameter for diameters.
    pub exact_mm: f64,
    /// The same in whole steps of the lathe.
    pub set_mm: f64,
    /// The size after it, for a piece that is as drawn.
    pub size_after_mm: Option<f64>,
    /// Most that may come off.
    pub most_mm: f64,
    /// Whether that much may come off.
    pub allowed: bool,
    /// Mass after it.
    pub mass_after_g: f64,
    /// Standard deviation of that: scale, lathe, and what the drawing does not say.
    pub mass_after_sd_g: f64,
    /// Change of the polar moment of inertia.
    pub polar_change_g_mm2: f64,
    /// Change of the transverse moment of inertia.
    pub transverse_change_g_mm2: f64,
    /// How far the piece's centre of mass moves along the axle.
    pub centre_change_mm: f64,
    /// Static unbalance the new surface may bring if it runs out as surfaces here do.
    pub static_g_mm_at_most: f64,
    /// Chance that the mass lands within its limits.
    pub within_probability: f64,
    /// The same in words.
    pub words: String,
}

/// A cut in two steps with a weighing between.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TwoSteps {
    /// The dimension.
    pub name: String,
    /// What the first cut leaves on purpose.
    pub leave_g: f64,
    /// The first cut, in whole steps of the lathe.
    pub first_mm: f64,
    /// Mass expected after it.
    pub mass_between_g: f64,
    /// Chance of landing within the limits in two steps.
    pub within_probability: f64,
    /// Chance in one step.
    pub one_step_probability: f64,
    /// The same in words.
    pub words: String,
}

/// A tray of pieces to be cut.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TrayBody {
    /// Name of the piece.
    pub piece: String,
    /// The wanted mass.
    pub wanted_g: f64,
    /// How far it may be off.
    pub mass_within_g: f64,
    /// How many are within the limits as they are.
    pub within_count: usize,
    /// The cuts, in the order in which the tool moves least.
    pub cuts: Vec<TrayCut>,
    /// Serials of pieces too light: nothing can be put on.
    pub too_light: Vec<String>,
    /// Serials of pieces from which no allowed cut takes enough.
    pub too_heavy: Vec<String>,
    /// Mass taken off, in all.
    pub taken_g: f64,
    /// Way of the tool's setting in this order.
    pub tool_way_mm: f64,
    /// Way it would have in the order of the tray.
    pub tray_way_mm: f64,
    /// What to offset at the lathe, where the pieces as a whole are off or drift.
    pub offset: Option<OffsetAdvice>,
}

/// One cut of a tray.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TrayCut {
    /// Serial of the piece.
    pub serial: String,
    /// Its reading.
    pub mass_g: f64,
    /// The dimension.
    pub name: String,
    /// What kind of surface.
    pub surface: Surface,
    /// The cut in whole steps of the lathe; on the diameter for diameters.
    pub set_mm: f64,
    /// Mass after it.
    pub mass_after_g: f64,
}

/// What to offset at the lathe for the pieces to come.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct OffsetAdvice {
    /// How many pieces it rests on, in the order they were made.
    pub pieces_count: usize,
    /// How far the next piece is expected to be off the wanted mass.
    pub level_g: f64,
    /// Standard deviation of that.
    pub level_sd_g: f64,
    /// How much the mass rises (negative: falls) in a hundred pieces.
    pub per_hundred_g: f64,
    /// Dimension and offset in whole steps, each by itself would do; negative: toward less material.
    pub offsets: Vec<Offset>,
    /// The same in words.
    pub words: String,
}

/// An offset of one tool.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Offset {
    /// The dimension.
    pub name: String,
    /// Change of its size; on the diameter for diameters.
    pub size_mm: f64,
}
