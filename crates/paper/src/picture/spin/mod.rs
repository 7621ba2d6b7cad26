//! Pictures of a spin: the forecast with its losses, the levers, a fitted log, a recording, throws
//! beside each other, a tray of bearings.

mod compare;
mod forecast;
mod levers;
mod log;
mod recording;
mod tray;

pub use compare::{compare, compare_drawing};
pub use forecast::{spin, spin_drawing, spin_drawings};
pub use levers::{levers, levers_drawing};
pub use log::{log, log_drawing, log_drawings};
pub use recording::{recording, recording_drawing};
pub use tray::{tray, tray_drawing};
