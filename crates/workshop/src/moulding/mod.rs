//! Station card of moulding: what a set-up of mould and press does to the weight and the balance of the half.
//!
//! - **Comes in:** the half's outline, resin, mould (sprue, runners, gates, cavities), press, set-up.
//! - **Leaves:** the middle surface of the half in rings with their plastic and thickness; of a shot ([`Shot`]) times,
//!   pressures and drops, the force that opens the mould, gate freeze, and of every cavity the weight, shrinkage, static and
//!   couple unbalance.
//! - **Effects counted:** the walls of the drawn section and how they hang together; shear thinning and its shift with
//!   temperature and pressure; heat through the wall, brought by the flow and made by shear; the feed as a network with its
//!   own layers, all cavities together; compressible holding with slack cells; backflow; gate freeze.
//! - **Left out:** elasticity of the melt, crystallisation that takes time, flow across the wall at corners and at the front
//!   (the front turns over at once), venting, give of mould and core, warpage.
//! - **Sources:** the chordal axis of Prasad (`kit::skeleton`); resins as the shelf names them.

pub mod alike;
mod body;
pub mod cells;
pub mod course;
pub mod cycle;
mod drops;
mod faults;
pub mod fill;
mod given;
pub mod heat;
pub mod hold;
pub mod layers;
pub mod lift;
pub mod matter;
pub mod melt;
mod middle;
pub mod net;
pub mod plan;
mod rings;
mod scale;
pub mod setup;
pub mod shot;
pub mod solid;
pub mod store;
mod stretches;
mod study_body;
pub mod tait;
mod view;
pub mod viscosity;
pub mod warm;
pub mod weigh;
mod weights_body;

pub use body::{
    Books, CavityLine, ClampLine, CoolingLine, CoursePoint, CutSize, CycleLine, CycleStep,
    DropLine, FillLine, HalfLine, HalfScatter, HandlingLine, HoldLine, HoldSetting, MiddlePoint,
    MouldBody, MouldCondition, Setting, ShotLine, ShrinkageLine, Stands, WallPoint, WallProfile,
};
pub use cycle::shoot;
pub use faults::Refusal;
pub use given::{Branch, Cavity, Channel, Gate, Given, Grid, HoldStep, Mould, Press, Process};
pub use middle::{LinePoint, Link, Middle, MiddleLine, Ring};
pub use shot::{CavityShot, Drop, Filling, Opening, Short, ShortWhy, Shot};
pub use study_body::{PressRun, StudyBody, StudyKind, StudyMark, StudyRun};
pub use view::{FillGate, FillRing, FillStretch, FillView, MouldView};
pub use weights_body::{CavityCause, CavitySays, FittedRatio, WeighedPoint, WeightsBody};
