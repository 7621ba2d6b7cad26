//! What a job says of balance: grade, speed, planes, and the errors the shop allows itself.

/// The `[balance]` block; what it does not say the drawing and the shelf say.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct BalanceWishes {
    /// Balance quality grade, mm/s: `G 6.3` is 6.3.
    pub grade_mm_per_s: Option<f64>,
    /// The permissible residual unbalance itself; goes before the grade.
    pub limit_g_mm: Option<f64>,
    /// The speed the grade is wanted at.
    pub speed_rpm: Option<f64>,
    /// Correction planes along the axle, left and right, from the middle of the gap; the middles of
    /// the rims where it is not said.
    pub planes_mm: Option<(f64, f64)>,
    /// The piece that is drilled and whose radius counts as the rim; the outermost one where it is
    /// not said.
    pub rim: Option<String>,
    /// How much larger of the two shared errors is looked for: weight of the rim's wobble against
    /// the seat's orbit, both in µm; 1 where it is not said.
    pub wobble_weight: Option<f64>,
    /// How far the string stretches under the hanging piece, which says how hard it pulls back.
    pub string_stretch_mm: Option<super::Range>,
    /// The smallest unbalance the shop can measure, expanded uncertainty of the measured residual.
    pub measuring_error_g_mm: Option<f64>,
    /// The errors of the drawing, one entry each.
    pub errors: Vec<ErrorWish>,
    /// How many pieces are drawn for the share inside the grade; 10 000 where it is not said.
    pub draws: Option<u32>,
    /// The seed of the draws; 1 where it is not said.
    pub seed: Option<u64>,
}

/// One error that the drawing or the shop allows, before it is turned into g·mm.
#[derive(Debug, Clone, PartialEq)]
pub struct ErrorWish {
    /// What it is called: `rim run-out`.
    pub name: String,
    /// The piece it befalls; none for one side of the whole piece (a half with all that sits on it
    /// and its share of what sits in the middle).
    pub piece: Option<String>,
    /// What kind of error, and how large it may be.
    pub kind: ErrorKind,
}

/// A trade tolerance. Sizes are the whole of what is allowed, as the drawing or the dial says it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ErrorKind {
    /// The outside runs out against the bore: full indicator movement of a dial on the outside. Moves
    /// the outside by half of it.
    RunOut {
        /// Full indicator movement.
        movement_mm: f64,
    },
    /// The body sits off the axis by up to this much, for whatever reason.
    Eccentric {
        /// Largest distance from the axis.
        offset_mm: f64,
    },
    /// The body has play on its seat, and takes up all of it to one side: half the clearance.
    Clearance {
        /// Largest difference of the two diameters.
        clearance_mm: f64,
    },
    /// The body is seated askew: full indicator movement of a dial on its face.
    FaceRunOut {
        /// Full indicator movement.
        movement_mm: f64,
        /// Diameter at which the dial runs; the piece's outside where none is said.
        at_diameter_mm: Option<f64>,
    },
    /// A mass at one place: a gate mark, a spot of glue, a heavy side.
    Spot {
        /// Its mass.
        mass_g: f64,
        /// Its distance from the axis; the piece's outside where none is said.
        radius_mm: Option<f64>,
    },
}
