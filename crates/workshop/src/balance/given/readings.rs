//! What comes into the question of the correction.

use super::clocking::ClockGiven;
use super::rotor::Rotor;
use super::work::Work;
use crate::part::{AngleSense, Range, Unbalance};

/// Readings of a rig and what is to be done with them. `correct` checks it.
#[derive(Debug, Clone, PartialEq)]
pub struct CorrectGiven {
    /// What was measured.
    pub rotor: Rotor,
    /// The speed it is used at, for the grade and for what it does; the readings have their own.
    pub speed_rpm: Option<f64>,
    /// Permissible residual unbalance of the whole, where it is known.
    pub limit_g_mm: Option<f64>,
    /// The grade that limit belongs to, where it came from one.
    pub grade_mm_per_s: Option<f64>,
    /// Which way angles on the part are counted, here and in the answer.
    pub sense: AngleSense,
    /// The correction planes.
    pub planes: Vec<PlaneGiven>,
    /// The readings, by the method.
    pub readings: Readings,
    /// How the correction is to be made.
    pub work: Option<Work>,
    /// Parts that can be turned against each other before anything is cut.
    pub clocking: Option<ClockGiven>,
    /// The seed of the draws that check the uncertainty.
    pub seed: u64,
}

/// A correction plane.
#[derive(Debug, Clone, PartialEq)]
pub struct PlaneGiven {
    /// What it is called.
    pub name: String,
    /// Its place along the axle, where it is known.
    pub x_mm: Option<f64>,
    /// Radius at which trial and correction masses sit.
    pub radius_mm: f64,
    /// Permissible residual unbalance in it; shared out from the whole's by distance where none is said.
    pub limit_g_mm: Option<f64>,
}

/// The readings, by the method they were taken with.
#[derive(Debug, Clone, PartialEq)]
pub enum Readings {
    /// Amplitude and phase, with trial masses.
    Phased(PhasedGiven),
    /// Amplitudes alone, one plane, with a trial mass at several places.
    NoPhase(NoPhaseGiven),
    /// Standing still: on level rods or rollers.
    Rods(RodsGiven),
    /// Unbalance read at several positions of the part on its fixture.
    Indexed(IndexedGiven),
    /// Eccentricity and angle, as order tracking of a recording gives them.
    Eccentricity(EccentricityGiven),
}

/// Amplitude and phase of the once-per-turn part of a signal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReadingVector {
    /// Amplitude in the unit of the readings; any, but the same for all.
    pub amplitude_value: f64,
    /// Phase.
    pub phase_deg: f64,
}

/// A pick-up.
#[derive(Debug, Clone, PartialEq)]
pub struct SensorGiven {
    /// What it is called.
    pub name: String,
    /// Its place along the axle, where it is known.
    pub x_mm: Option<f64>,
}

/// What is known of the scatter of readings where repeats do not tell: standard deviations of each of
/// the two components of a reading.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Noise {
    /// As a share of the amplitude.
    pub of_amplitude_share: f64,
    /// Besides, in the unit of the readings.
    pub besides_value: f64,
}

/// How a rig holds what turns on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mount {
    /// So softly that the piece turns about its own axis: the run is far above every resonance.
    Soft,
    /// So stiffly that the axis is the rig's: the run is far below every resonance.
    Stiff,
}

impl Mount {
    /// All of them.
    pub const ALL: [Self; 2] = [Self::Soft, Self::Stiff];

    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Soft => "soft",
            Self::Stiff => "stiff",
        }
    }
}

/// Runs with amplitude and phase.
#[derive(Debug, Clone, PartialEq)]
pub struct PhasedGiven {
    /// The unit of the amplitudes, as the file has it.
    pub unit: String,
    /// Which way phases are counted; turned over where it is not the sense of the masses' angles.
    pub phase_sense: AngleSense,
    /// The pick-ups.
    pub sensors: Vec<SensorGiven>,
    /// The runs, in the order in which they were made.
    pub runs: Vec<RunGiven>,
    /// Scatter that is known beforehand.
    pub noise: Option<Noise>,
    /// How the rig holds the piece, where that is said.
    pub mount: Option<Mount>,
    /// Whether somebody has looked at phases that seem to be radians and says that they are degrees.
    pub phases_are_degrees: bool,
}

/// One run.
#[derive(Debug, Clone, PartialEq)]
pub struct RunGiven {
    /// What it is called.
    pub name: String,
    /// A slow run, whose reading is run-out and no unbalance: it is taken off all others.
    pub slow_roll: bool,
    /// Its speed.
    pub speed_rpm: f64,
    /// Masses put on before this run.
    pub added: Vec<AddedMass>,
    /// Whether they stay on in all later runs.
    pub stays_on: bool,
    /// For every sensor its readings, one or more.
    pub readings: Vec<Vec<ReadingVector>>,
}

/// A mass put on (or, negative, taken off) for a run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AddedMass {
    /// The plane, by its number from 0.
    pub plane: usize,
    /// The mass.
    pub mass_g: f64,
    /// Where, in the sense of the masses' angles.
    pub angle_deg: f64,
    /// At what radius; the plane's where none is said.
    pub radius_mm: Option<f64>,
}

/// Three or more runs without phase.
#[derive(Debug, Clone, PartialEq)]
pub struct NoPhaseGiven {
    /// The unit of the amplitudes.
    pub unit: String,
    /// Amplitudes of the first run, in that unit.
    pub first_values: Vec<f64>,
    /// The runs with the trial mass, one place each.
    pub trials: Vec<NoPhaseRun>,
}

/// A run with the trial mass at one place.
#[derive(Debug, Clone, PartialEq)]
pub struct NoPhaseRun {
    /// What it is called.
    pub name: String,
    /// The trial mass.
    pub mass_g: f64,
    /// Where it sat.
    pub angle_deg: f64,
    /// Amplitudes, one or more, in the unit of the readings.
    pub values: Vec<f64>,
}

/// What the part stands on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Support {
    /// Level rods or knife edges: the shaft rolls along.
    Rods {
        /// Radius of the shaft that rolls.
        shaft_radius_mm: f64,
    },
    /// Freely turning rollers or a pivot: the axis stays where it is.
    Rollers,
}

/// A test of the part at rest.
#[derive(Debug, Clone, PartialEq)]
pub struct RodsGiven {
    /// What it stands on.
    pub support: Support,
    /// Angles that came to rest lowest, approached from either side by turns.
    pub rest_angles_deg: Vec<f64>,
    /// Small swings, with and without a known mass.
    pub swings: Vec<PeriodRun>,
    /// Lever arm of rolling friction, where the shop knows its own.
    pub rolling_arm_um: Option<Range>,
}

/// The period of a small swing.
#[derive(Debug, Clone, PartialEq)]
pub struct PeriodRun {
    /// Periods of one full swing, one or more.
    pub periods_s: Vec<f64>,
    /// A known mass put on for it; 0 for none.
    pub mass_g: f64,
    /// Its radius.
    pub radius_mm: f64,
    /// Where, counted from the heavy spot: 0 beside it, 180 opposite.
    pub from_heavy_deg: f64,
}

/// Readings of unbalance with the part turned on its fixture.
#[derive(Debug, Clone, PartialEq)]
pub struct IndexedGiven {
    /// Two positions or more.
    pub positions: Vec<IndexPosition>,
}

/// One position of the part on the fixture.
#[derive(Debug, Clone, PartialEq)]
pub struct IndexPosition {
    /// How far the part's mark stands from the fixture's.
    pub index_deg: f64,
    /// For every plane its readings, one or more, as angles from the fixture's mark.
    pub readings: Vec<Vec<Unbalance>>,
}

/// Eccentricity of the bearing seat about the axis of turning.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EccentricityGiven {
    /// How far the seat's centre is from the axis it turns about.
    pub eccentricity_um: f64,
    /// Standard uncertainty of either component of it.
    pub uncertainty_um: Option<f64>,
    /// Where the heavy spot is, from the part's mark.
    pub angle_deg: f64,
}
