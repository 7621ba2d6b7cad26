//! What comes into the balance station.

mod checks;
mod clocking;
mod limit;
mod of_job;
mod readings;
mod refusal;
mod rotor;
mod work;
mod work_wish;

pub use clocking::{ClockGiven, ClockJoint, ClockPart};
pub use limit::{Asked, ErrorBody, ErrorGiven, LimitGiven};
pub use readings::{
    AddedMass, CorrectGiven, EccentricityGiven, IndexPosition, IndexedGiven, Mount, NoPhaseGiven,
    NoPhaseRun, Noise, PeriodRun, PhasedGiven, PlaneGiven, ReadingVector, Readings, RodsGiven,
    RunGiven, SensorGiven, Support,
};
pub use refusal::Refusal;
pub use rotor::{Inertia, Rotor};
pub use work::{Depths, PlaneWork, Way, Work, WorkSection};
