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
    /// How a correction may be made, at most once a side.
    pub works: Vec<WorkWish>,
}

/// One way in which a correction may be made, and where.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkWish {
    /// The side it is done on; of `both`, each plane has its own.
    pub side: WorkSide,
    /// The piece that is worked; the rim where it is not said.
    pub piece: Option<String>,
    /// What is done.
    pub way: WayWish,
    /// How many places there are round the axle, equally spaced.
    pub places: u32,
    /// Where the first of them is.
    pub first_deg: f64,
    /// Places that are taken or forbidden, by number from 0.
    pub closed: Vec<u32>,
    /// How many holes there may be in a plane.
    pub most_holes: u32,
}

/// On which side work is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WorkSide {
    /// On both, each plane on its own.
    Both,
    /// Left of the gap.
    Left,
    /// Right of the gap.
    Right,
}

/// Depths a tool can be set to: from the least, in steps, to the most (or to the least wall).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Depths {
    /// Shallowest that is any use.
    pub least_mm: f64,
    /// Deepest the maker will have; the least wall may stop it before.
    pub most_mm: f64,
    /// Step of the stop.
    pub step_mm: f64,
}

/// What is done at a place. Places along the axle are those of the right side, as it is drawn; the
/// middle of the piece where none is said.
#[derive(Debug, Clone, PartialEq)]
pub enum WayWish {
    /// A hole along the axle, drilled from the outer face.
    AxialHole {
        /// The drills at hand.
        diameters_mm: Vec<f64>,
        /// Distance of the hole's axis from the axle.
        radius_mm: f64,
        /// Angle of the drill's point; 180 for an end mill.
        point_angle_deg: f64,
        /// Depths at full diameter.
        depths: Depths,
    },
    /// A hole towards the axle, drilled from the outside.
    RadialHole {
        /// The drills at hand.
        diameters_mm: Vec<f64>,
        /// Where the hole's axis stands along the axle.
        x_mm: Option<f64>,
        /// Angle of the drill's point; 180 for an end mill.
        point_angle_deg: f64,
        /// Depths at full diameter.
        depths: Depths,
    },
    /// A pocket milled into the outside.
    Pocket {
        /// Its width along the axle.
        width_mm: f64,
        /// Its middle along the axle.
        x_mm: Option<f64>,
        /// The angle it spans.
        span_deg: f64,
        /// Depths from the outside at its middle.
        depths: Depths,
    },
    /// A pin pressed flush into a flat hole along the axle.
    Pin {
        /// Diameter of hole and pin.
        diameter_mm: f64,
        /// Distance of its axis from the axle.
        radius_mm: f64,
        /// Density of the pin.
        density_g_cm3: f64,
        /// Lengths of the pins at hand.
        depths: Depths,
    },
    /// Screws or weights of known mass put into ready places.
    Weight {
        /// The masses at hand.
        masses_g: Vec<f64>,
        /// Distance of their centre from the axle.
        radius_mm: f64,
        /// Where their centre stands along the axle.
        x_mm: Option<f64>,
    },
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
