//! What leaves a shot: pressures, times, weights, off-centre masses, and how well the books close.

use super::body::{CoursePoint, WallProfile};
use crate::part::{Couple, Unbalance};

/// What a shot does.
#[derive(Debug, Clone, PartialEq)]
pub struct Shot {
    /// The filling up to the switch-over.
    pub fill: Filling,
    /// When the last corner was full, from the start of filling; none for a short shot.
    pub full_s: Option<f64>,
    /// The force that opens the mould, at its largest.
    pub opening: Opening,
    /// The largest pressure in a cavity behind its gate.
    pub most_cavity_mpa: f64,
    /// Whether melt ran back out of a cavity when the hold ended.
    pub ran_back: bool,
    /// Every cavity, in the order of the mould.
    pub cavities: Vec<CavityShot>,
    /// The course in time, at the first cavity.
    pub course: Vec<CoursePoint>,
    /// Plastic in sprue, runners and gates.
    pub feed_mass_g: f64,
    /// Room all the plastic takes as melt before the screw.
    pub melt_cm3: f64,
    /// Why the cavities did not fill; none when they did.
    pub short: Option<Short>,
    /// Volume filled against volume let in, as a share.
    pub volume_off_share: f64,
    /// Mass in the mould against mass at the start of the hold and let in since, as a share.
    pub mass_off_share: f64,
    /// Mass of the cells under pressure against what the equation of Tait allows, all together, the worst step, as a share.
    pub closure_off_share: f64,
    /// Steps of filling and of hold.
    pub steps_count: usize,
    /// When the mould opens, from the start of filling.
    pub end_s: f64,
    /// When nothing flows any more, for all is solid or without pressure; none when something does to the end.
    pub still_s: Option<f64>,
}

/// The filling up to the switch-over, or as far as it came.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Filling {
    /// When speed gave over to pressure.
    pub switch_s: f64,
    /// Pressure at the nozzle just before.
    pub switch_mpa: f64,
    /// The largest pressure at the nozzle up to then.
    pub most_nozzle_mpa: f64,
    /// Whether the press could not keep the speed at the limit of its pressure or its flow.
    pub limited: bool,
    /// Flow that was kept as long as it could be.
    pub flow_cm3_per_s: f64,
    /// Share of all cavities that was filled at the switch-over.
    pub filled_share: f64,
    /// Losses from the nozzle to the front in the first cavity: each branch, its gate, the cavity.
    pub drops: Vec<Drop>,
    /// Steps of the whole filling.
    pub steps_count: usize,
}

/// A loss of pressure on the way.
#[derive(Debug, Clone, PartialEq)]
pub struct Drop {
    /// Where: the branch's name, `gate`, `cavity`.
    pub name: String,
    /// How much.
    pub pressure_mpa: f64,
    /// Rate of shear at the steel, in 1/s, as if nothing were solid; none for the cavity. The unit is in this sentence.
    pub shear_per_s: Option<f64>,
}

/// The force that opens the mould, at its largest.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Opening {
    /// Cavities and feed together.
    pub most_kn: f64,
    /// Of it on the cavities.
    pub cavities_kn: f64,
    /// Of it on sprue and runners.
    pub feed_kn: f64,
    /// When, from the start of filling.
    pub time_s: f64,
}

/// A shot that came short.
#[derive(Debug, Clone, PartialEq)]
pub struct Short {
    /// What is filled of the cavities.
    pub filled_share: f64,
    /// Why it came no further.
    pub why: ShortWhy,
}

/// Why a shot came short.
#[derive(Debug, Clone, PartialEq)]
pub enum ShortWhy {
    /// The wall froze before the front: the melt is too cold or too slow for the wall.
    TooCold {
        /// When the front stood.
        at_s: f64,
    },
    /// Even a melt as hot as it left the nozzle would ask for more pressure than there is.
    PressureTooSmall {
        /// What it would ask for at the speed of the set-up.
        needed_mpa: f64,
        /// What there is.
        had_mpa: f64,
        /// Whether that is the hold and not the press.
        is_hold: bool,
    },
    /// The gate, or the feed before it, froze before the cavity was full.
    GateFrozen {
        /// The name of the cavity.
        cavity: String,
        /// When the front stood.
        at_s: f64,
    },
    /// The hold ended before the cavity was full.
    HoldEnded {
        /// When.
        at_s: f64,
    },
}

impl ShortWhy {
    /// The reason as a sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        match self {
            Self::TooCold { at_s } => format!(
                "too cold to fill: the wall froze before the front, which stood after {at_s:.2} s; fill faster, or with hotter melt or mould"
            ),
            Self::PressureTooSmall {
                needed_mpa,
                had_mpa,
                is_hold,
            } => {
                let (what, change) = if *is_hold {
                    (
                        "the hold",
                        "switch over later or raise the first hold pressure",
                    )
                } else {
                    ("the press", "fill slower, or open runner, gate or wall")
                };
                format!(
                    "{what} has too little pressure: the melt asks for {needed_mpa:.0} MPa at that speed even without cooling, and {had_mpa:.0} MPa is there; {change}"
                )
            }
            Self::GateFrozen { cavity, at_s } => format!(
                "the gate of cavity {cavity}, or the feed before it, froze before the cavity was full, by {at_s:.2} s; fill faster or make it deeper"
            ),
            Self::HoldEnded { at_s } => format!(
                "the hold ended at {at_s:.2} s before the cavities were full; switch over later or hold longer"
            ),
        }
    }
}

/// What becomes of one cavity. Lists over cells go ring after ring, each with its columns.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CavityShot {
    /// Its name on the mould.
    pub name: String,
    /// Weight of the half.
    pub mass_g: f64,
    /// When it was full, from the start of filling; none when it was not.
    pub full_s: Option<f64>,
    /// What was filled of it in the end.
    pub filled_share: f64,
    /// What was filled of it at the switch-over.
    pub switch_share: f64,
    /// When its last gate froze; none when it did not before the mould opens.
    pub gate_freeze_s: Option<f64>,
    /// The largest pressure behind its gate.
    pub most_mpa: f64,
    /// Off-centre mass of the half and its angle from the half's mark; none for a short shot.
    pub unbalance: Unbalance,
    /// Off-centre masses times their place along the axle of the drawing.
    pub couple: Couple,
    /// How far the centre of mass lies off the axle.
    pub eccentricity_um: f64,
    /// Weight times distance of its plastic from the axle: what the unbalance is compared with.
    pub mass_radius_g_mm: f64,
    /// Room less plastic at room temperature over the room: of all.
    pub volume_shrinkage_share: f64,
    /// The same of each ring.
    pub ring_shrinkage_share: Vec<f64>,
    /// Shrinkage along the part that goes with it, if it shrinks alike all ways.
    pub linear_shrinkage_share: f64,
    /// Mass of each cell.
    pub cell_mass_g: Vec<f64>,
    /// When the front passed the middle of each cell, from the start of filling; no number where it never did.
    pub arrival_s: Vec<f64>,
    /// Pressure of each cell at the switch-over.
    pub switch_cell_mpa: Vec<f64>,
    /// Middle of the first column from the half's mark; the others follow evenly.
    pub first_column_deg: f64,
    /// Columns of a ring.
    pub columns_count: usize,
    /// Temperature through the wall at some places and times.
    pub walls: Vec<WallProfile>,
}

impl Shot {
    /// Why the cavities did not fill, as a sentence; none when they did.
    #[must_use]
    pub fn short_because(&self) -> Option<String> {
        self.short.as_ref().map(|short| short.why.sentence())
    }

    /// Mean weight of the halves.
    #[must_use]
    pub fn mean_mass_g(&self) -> f64 {
        let all: f64 = self.cavities.iter().map(|cavity| cavity.mass_g).sum();
        all / self.cavities.len().max(1) as f64
    }

    /// When the last gate froze; none when one is open to the end.
    #[must_use]
    pub fn gate_freeze_s(&self) -> Option<f64> {
        let all: Option<Vec<f64>> = self.cavities.iter().map(|c| c.gate_freeze_s).collect();
        all?.into_iter().reduce(f64::max)
    }
}
