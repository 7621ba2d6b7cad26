//! Station card of moulding: what a set-up of mould and press does to the weight and the balance of the half.
//!
//! - **Comes in:** the half's outline, resin, mould (sprue, runners, gates, cavities), press, set-up.
//! - **Leaves:** the middle surface of the half in rings with their plastic and thickness; the answer is not made yet.
//! - **Effects counted:** the walls of the drawn section and how they hang together.
//! - **Left out:** the flow itself.
//! - **Sources:** the chordal axis of Prasad (`kit::skeleton`).

mod body;
mod faults;
mod given;
mod middle;
mod rings;
pub mod setup;
mod stretches;
mod study_body;
mod view;
mod weights_body;

pub use body::{
    Books, CavityLine, ClampLine, CoolingLine, CoursePoint, CutSize, CycleLine, CycleStep,
    DropLine, FillLine, HalfLine, HalfScatter, HandlingLine, HoldLine, HoldSetting, MiddlePoint,
    MouldBody, MouldCondition, Setting, ShotLine, ShrinkageLine, Stands, WallPoint, WallProfile,
};
pub use faults::Refusal;
pub use given::{Branch, Cavity, Channel, Gate, Given, Grid, HoldStep, Mould, Press, Process};
pub use middle::{LinePoint, Link, Middle, MiddleLine, Ring};
pub use study_body::{PressRun, StudyBody, StudyKind, StudyMark, StudyRun};
pub use view::{FillGate, FillRing, FillStretch, FillView, MouldView};
pub use weights_body::{CavityCause, CavitySays, FittedRatio, WeighedPoint, WeightsBody};
