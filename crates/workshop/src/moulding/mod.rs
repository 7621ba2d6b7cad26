//! Station card of moulding: what a set-up of mould and press does to the weight and the balance of the half.
//!
//! - **Comes in:** the half's outline, resin, mould (sprue, runners, gates, cavities), press, set-up.
//! - **Leaves:** the parts of a shot that other stations take; so far the words in which it is asked.
//! - **Effects counted:** none yet.
//! - **Left out:** everything; the answer is not made yet.
//! - **Sources:** none yet.

mod body;
mod given;
mod middle;
mod study_body;
mod view;
mod weights_body;

pub use body::{
    Books, CavityLine, ClampLine, CoolingLine, CoursePoint, CutSize, CycleLine, CycleStep,
    DropLine, FillLine, HalfLine, HalfScatter, HandlingLine, HoldLine, HoldSetting, MiddlePoint,
    MouldBody, MouldCondition, Setting, ShotLine, ShrinkageLine, Stands, WallPoint, WallProfile,
};
pub use given::{Branch, Cavity, Channel, Gate, Given, Grid, HoldStep, Mould, Press, Process};
pub use middle::{Link, Middle, Ring};
pub use study_body::{PressRun, StudyBody, StudyKind, StudyMark, StudyRun};
pub use view::{FillGate, FillRing, FillStretch, FillView, MouldView};
pub use weights_body::{CavityCause, CavitySays, FittedRatio, WeighedPoint, WeightsBody};
