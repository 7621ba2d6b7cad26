//! What comes into the moulding station: resin, mould, press and set-up, checked.

use crate::part::Range;
use crate::part::resin::Resin;

/// A shot that can be reckoned.
#[derive(Debug, Clone, PartialEq)]
pub struct Given {
    /// The moulded piece's name.
    pub piece: String,
    /// The resin.
    pub resin: Resin,
    /// The mould.
    pub mould: Mould,
    /// The press.
    pub press: Press,
    /// The set-up.
    pub process: Process,
    /// How finely it is reckoned.
    pub grid: Grid,
    /// What was taken for granted, in words.
    pub assumed: Vec<String>,
}

/// How finely a half is reckoned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Grid {
    /// Rings along the middle line.
    pub rings_count: usize,
    /// Columns round the axle.
    pub columns_count: usize,
    /// Layers from the middle of the wall to the steel.
    pub layers_count: usize,
}

impl Grid {
    /// As coarse as tells one set-up from another: for scatter and for a slider.
    #[must_use]
    pub const fn quick() -> Self {
        Self {
            rings_count: 12,
            columns_count: 36,
            layers_count: 8,
        }
    }

    /// For a first look, such as while a slider is moved.
    #[must_use]
    pub const fn coarse() -> Self {
        Self {
            rings_count: 12,
            columns_count: 18,
            layers_count: 8,
        }
    }

    /// What a set-up is reckoned with.
    #[must_use]
    pub const fn usual() -> Self {
        Self {
            rings_count: 16,
            columns_count: 48,
            layers_count: 10,
        }
    }

    /// To see what the grid itself does to an answer.
    #[must_use]
    pub const fn fine() -> Self {
        Self {
            rings_count: 32,
            columns_count: 96,
            layers_count: 14,
        }
    }
}

/// A channel that melt passes on its way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Channel {
    /// Round, straight or tapered.
    Round {
        /// Diameter where the melt comes in.
        from_mm: f64,
        /// Diameter where it leaves.
        to_mm: f64,
        /// Length.
        length_mm: f64,
    },
    /// Flat.
    Slit {
        /// Width.
        width_mm: f64,
        /// Depth, the smaller side.
        depth_mm: f64,
        /// Length.
        length_mm: f64,
    },
}

/// A piece of the feed: sprue or runner.
#[derive(Debug, Clone, PartialEq)]
pub struct Branch {
    /// What it is called on the sheet.
    pub name: String,
    /// Its shape.
    pub channel: Channel,
    /// The branch it begins at the end of, by number and before it in the list; none at the nozzle.
    pub after: Option<usize>,
}

/// Where and how melt enters a cavity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gate {
    /// The branch it begins at the end of.
    pub after: usize,
    /// Its shape; a slit.
    pub channel: Channel,
    /// Place on the section, along the axle.
    pub axial_mm: f64,
    /// Place on the section, from the axle.
    pub radius_mm: f64,
    /// Place round the axle from the half's mark; none for a ring gate, which feeds all round.
    pub angle_deg: Option<f64>,
}

/// One hollow of the mould.
#[derive(Debug, Clone, PartialEq)]
pub struct Cavity {
    /// What it is called, such as `1`.
    pub name: String,
    /// Its wall thickness as a share of the drawing's.
    pub steel_ratio: f64,
    /// Its gates; one at least.
    pub gates: Vec<Gate>,
}

/// The mould.
#[derive(Debug, Clone, PartialEq)]
pub struct Mould {
    /// Sprue and runners, each after the one it begins at.
    pub branches: Vec<Branch>,
    /// The cavities.
    pub cavities: Vec<Cavity>,
    /// Projected area of one cavity and of the feed, for the clamp.
    pub cavity_mm2: f64,
    /// The same of sprue and runners.
    pub feed_mm2: f64,
    /// Heat passed between resin and steel while it is pressed on, in W/(m²·K).
    pub pressed_w_m2_k: Range,
    /// The same once it has shrunk away.
    pub loose_w_m2_k: Range,
}

/// The press.
#[derive(Debug, Clone, PartialEq)]
pub struct Press {
    /// Clamp force it holds.
    pub clamp_kn: f64,
    /// Diameter of the screw.
    pub screw_mm: f64,
    /// Longest stroke of the screw.
    pub stroke_mm: f64,
    /// Most pressure in the melt at the nozzle.
    pub most_mpa: f64,
    /// Most flow, in cm³/s.
    pub most_cm3_per_s: f64,
    /// Standard deviation of the hold pressure from shot to shot.
    pub hold_sd_mpa: f64,
    /// Standard deviation of the melt from shot to shot.
    pub melt_sd_k: f64,
    /// Standard deviation of the mould wall from shot to shot.
    pub wall_sd_k: f64,
}

/// One step of the hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoldStep {
    /// Pressure in the melt at the nozzle.
    pub pressure_mpa: f64,
    /// How long.
    pub time_s: f64,
}

/// The set-up.
#[derive(Debug, Clone, PartialEq)]
pub struct Process {
    /// Melt as it leaves the nozzle.
    pub melt_degc: f64,
    /// Wall of the mould.
    pub wall_degc: f64,
    /// Time to fill, from the first melt at the nozzle to the switch-over.
    pub fill_s: f64,
    /// Share of the volume at which speed gives over to pressure.
    pub switch_share: f64,
    /// The hold, step after step.
    pub hold: Vec<HoldStep>,
    /// Cooling after the hold.
    pub cooling_s: f64,
    /// Opening, pushing out, closing.
    pub open_s: f64,
    /// Melt left before the screw.
    pub cushion_mm: f64,
    /// Share of regrind.
    pub regrind_share: f64,
    /// What ran in the barrel before, by its word; none where it is not said.
    pub before: Option<String>,
    /// How far a half may be from the weight it has at this setting; none where it is not said.
    pub weight_within_g: Option<f64>,
}
