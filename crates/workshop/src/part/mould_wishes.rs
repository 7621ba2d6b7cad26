//! What a job says of mould, press, set-up and resin; what it does not say the shelf says.

use super::Range;

/// The `[mould]` block.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MouldWishes {
    /// The moulded piece; the first one of a moulding resin where it is not said.
    pub piece: Option<String>,
    /// How many cavities.
    pub cavities_count: Option<u32>,
    /// The shrinkage the cavities were cut for.
    pub cut_for_share: Option<f64>,
    /// The sprue.
    pub sprue: Option<TaperWish>,
    /// The runners, from the sprue outward.
    pub runners: Vec<RunnerWish>,
    /// The gates.
    pub gates: Vec<GateWish>,
    /// The cavities, where they differ or have names.
    pub cavities: Vec<CavityWish>,
    /// Heat passed between resin and steel while it is pressed on, in W/(m²·K).
    pub pressed_w_m2_k: Option<Range>,
    /// The same once it has shrunk away.
    pub loose_w_m2_k: Option<Range>,
}

/// A round channel, straight or tapered.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TaperWish {
    /// Diameter where the melt comes in.
    pub from_mm: f64,
    /// Diameter where it leaves.
    pub to_mm: f64,
    /// Length.
    pub length_mm: f64,
}

/// One `[[mould.runner]]`.
#[derive(Debug, Clone, PartialEq)]
pub struct RunnerWish {
    /// What it is called.
    pub name: String,
    /// The runner it begins at; the sprue where it is not said.
    pub after: Option<String>,
    /// Its section.
    pub section: RunnerSection,
    /// Length.
    pub length_mm: f64,
}

/// The section of a runner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RunnerSection {
    /// Round, straight or tapered.
    Round {
        /// Diameter where the melt comes in.
        from_mm: f64,
        /// Diameter where it leaves.
        to_mm: f64,
    },
    /// Flat.
    Flat {
        /// Width.
        width_mm: f64,
        /// Depth.
        depth_mm: f64,
    },
}

/// One `[[mould.gate]]`; for every cavity that has none of its own where no cavity is named.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct GateWish {
    /// The cavity it belongs to.
    pub cavity: Option<String>,
    /// The runner it begins at; the cavity's own where it is not said.
    pub after: Option<String>,
    /// Place on the section along the axle; the end of the outermost wall where it is not said.
    pub axial_mm: Option<f64>,
    /// Place on the section from the axle.
    pub radius_mm: Option<f64>,
    /// Place round the axle from the half's mark; none for a ring gate.
    pub angle_deg: Option<f64>,
    /// Whether it feeds all round.
    pub is_ring: bool,
    /// Width; round the whole half for a ring gate, where it is not said.
    pub width_mm: Option<f64>,
    /// Depth of the land, its smaller side.
    pub depth_mm: Option<f64>,
    /// Length of the land.
    pub length_mm: Option<f64>,
}

/// One `[[mould.cavity]]`.
#[derive(Debug, Clone, PartialEq)]
pub struct CavityWish {
    /// What it is called.
    pub name: String,
    /// Its wall thickness as a share of the drawing's.
    pub steel_ratio: Option<f64>,
    /// The runner its gates begin at.
    pub runner: Option<String>,
}

/// The `[press]` block.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PressWishes {
    /// Clamp force: the class of the press.
    pub clamp_n: Option<f64>,
    /// Diameter of the screw.
    pub screw_mm: Option<f64>,
    /// Longest stroke of the screw.
    pub stroke_mm: Option<f64>,
    /// Most pressure in the melt at the nozzle.
    pub most_mpa: Option<f64>,
    /// Fastest forward speed of the screw.
    pub most_mm_per_s: Option<f64>,
    /// Standard deviation of the hold pressure from shot to shot.
    pub hold_sd_mpa: Option<f64>,
    /// Standard deviation of the melt from shot to shot.
    pub melt_sd_k: Option<f64>,
    /// Standard deviation of the mould wall from shot to shot.
    pub wall_sd_k: Option<f64>,
}

/// A step of the hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoldWish {
    /// Pressure in the melt at the nozzle.
    pub pressure_mpa: f64,
    /// How long.
    pub time_s: f64,
}

/// The `[process]` block.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ProcessWishes {
    /// Melt as it leaves the nozzle.
    pub melt_degc: Option<f64>,
    /// Wall of the mould.
    pub wall_degc: Option<f64>,
    /// Time to fill.
    pub fill_s: Option<f64>,
    /// Share of the volume at which speed gives over to pressure.
    pub switch_share: Option<f64>,
    /// The hold, step after step.
    pub hold: Vec<HoldWish>,
    /// Cooling after the hold.
    pub cooling_s: Option<f64>,
    /// Opening, pushing out, closing.
    pub open_s: Option<f64>,
    /// Melt left before the screw.
    pub cushion_mm: Option<f64>,
    /// Share of regrind.
    pub regrind_share: Option<f64>,
    /// What ran in the barrel before.
    pub before: Option<String>,
    /// How far a half may be from its weight.
    pub weight_within_g: Option<f64>,
}

/// The `[resin]` block: a card of the shelf by its word, and what of it is different.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ResinWishes {
    /// The card; the piece's material where it is not said.
    pub card: Option<String>,
    /// What is different, each by its key and in the unit the key has in [`RESIN_KEYS`].
    pub changed: Vec<(&'static str, f64)>,
}

/// The keys of a resin that a job may change, with the unit they are written in: those of `shelf/resins.toml`.
pub const RESIN_KEYS: [(&str, &str); 30] = [
    ("flow.index", "1"),
    ("flow.bend", "Pa"),
    ("flow.rest", "Pa s"),
    ("flow.reference", "K"),
    ("flow.rise", "K/Pa"),
    ("flow.first", "1"),
    ("flow.second", "K"),
    ("room.transition", "K"),
    ("room.rise", "K/Pa"),
    ("room.melt.volume", "m3/kg"),
    ("room.melt.growth", "m3/(kg K)"),
    ("room.melt.stiffness", "Pa"),
    ("room.melt.softening", "1/K"),
    ("room.solid.volume", "m3/kg"),
    ("room.solid.growth", "m3/(kg K)"),
    ("room.solid.stiffness", "Pa"),
    ("room.solid.softening", "1/K"),
    ("room.extra", "m3/kg"),
    ("room.extra_per_k", "1/K"),
    ("room.extra_per_pa", "1/Pa"),
    ("heat.melt_conductivity", "W/(m K)"),
    ("heat.solid_conductivity", "W/(m K)"),
    ("heat.melt_capacity", "J/(kg K)"),
    ("heat.solid_capacity", "J/(kg K)"),
    ("heat.latent", "kJ/kg"),
    ("heat.diffusivity", "m2/s"),
    ("heat.no_flow", "degC"),
    ("heat.eject", "degC"),
    ("handling.most_melt", "degC"),
    ("handling.shrinkage", "%"),
];
