//! Station card of moulding: what a set-up of mould and press does to the weight and the balance of the half.
//!
//! - **Comes in:** the half's outline, resin, mould (sprue, runners, gates, cavities), press, set-up.
//! - **Leaves:** a shot that can be asked, with what was taken for granted; the cavity's middle surface in rings with their
//!   plastic and thickness; of a shot ([`Shot`]) times, pressures and drops, the force that opens the mould, gate freeze, and
//!   of every cavity the weight, shrinkage, static and couple unbalance; how long the half cools and where last; shot,
//!   residence, runners, sizes to cut; every condition with the one setting to change; scatter from shot to shot; the
//!   moulder's studies; what weighed halves tell.
//! - **Effects counted:** the walls of the drawn section and how they hang together; the cavity larger by the shrinkage;
//!   shear thinning and its shift with temperature and pressure; heat through the wall, brought by the flow and made by
//!   shear; the feed as a network with its own layers, all cavities together; compressible holding with slack cells;
//!   backflow; gate freeze; heat conduction on the section behind a film, good and then poor.
//! - **Left out:** elasticity of the melt, crystallisation that takes time, flow across the wall at corners and at the front
//!   (the front turns over at once), venting, give of mould and core, warpage; the steel's own temperature field; hot runners.
//! - **Sources:** the chordal axis of Prasad, plates and fronts of Carslaw and Jaeger, rules of Crawford, Pye and Kazmer;
//!   resins and rules as the shelf names them (`docs/theory`, `shelf/resins.toml`, `shelf/mould.toml`).
//!
#![doc = include_str!("../../../../docs/theory/moulding-shape.md")]
#![doc = include_str!("../../../../docs/theory/moulding-flow.md")]
#![doc = include_str!("../../../../docs/theory/cooling.md")]
#![doc = include_str!("../../../../docs/theory/moulding-studies.md")]

pub mod alike;
mod body;
mod card;
pub mod cells;
mod checks;
mod conditions;
pub mod cooling;
pub mod cooling_forms;
pub mod course;
pub mod cycle;
mod drops;
mod faults;
mod feed;
pub mod fill;
mod from_job;
mod given;
pub mod heat;
pub mod hold;
mod laid_flat;
pub mod layers;
pub mod lift;
mod lines;
pub mod matter;
pub mod melt;
mod middle;
pub mod net;
mod notes;
pub mod plan;
mod ready;
mod ring_gate;
mod rings;
mod run;
mod scale;
mod scatter;
mod section;
pub mod setup;
pub mod shot;
pub mod solid;
pub mod store;
mod stretches;
mod study;
mod study_body;
mod study_choose;
mod study_list;
mod study_plan;
mod study_words;
pub mod tait;
mod trim;
mod view;
pub mod viscosity;
pub mod warm;
pub mod weigh;
mod weights;
mod weights_body;
mod weights_cavities;
mod weights_faults;
mod weights_means;
mod weights_words;
mod words;

pub use body::{
    Books, CavityLine, ClampLine, CoolingLine, CoursePoint, CutSize, CycleLine, CycleStep,
    DropLine, FillLine, HalfLine, HalfScatter, HandlingLine, HoldLine, HoldSetting, MiddlePoint,
    MouldBody, MouldCondition, RingGateLine, Setting, ShotLine, ShrinkageLine, Stands, WallPoint,
    WallProfile,
};
pub use cycle::shoot;
pub use faults::Refusal;
pub use given::{Branch, Cavity, Channel, Gate, Given, Grid, HoldStep, Mould, Press, Process};
pub use middle::{LinePoint, Link, Middle, MiddleLine, Ring};
pub use ready::Ready;
pub use run::mould;
pub use scatter::toward_gate_g_mm;
pub use section::Section;
pub use shot::{CavityShot, Drop, Filling, Opening, Short, ShortWhy, Shot};
pub use study::{StudyPlan, study, study_plan};
pub use study_body::{PressRun, StudyBody, StudyKind, StudyMark, StudyRun};
pub use study_plan::StudySetting;
pub use trim::Trim;
pub use view::{FillGate, FillRing, FillStretch, FillView, MouldView};
pub use weights::weights;
pub use weights_body::{CavityCause, CavitySays, FittedRatio, WeighedPoint, WeightsBody};
pub use weights_faults::NoWeights;
pub use weights_means::Weighing;
