//! A recording of a spinning piece: its speed, its orders, its eccentricity.
//!
//! - **Comes in:** the frames of a recording, played two or three times; what is known of channels, marks,
//!   scale, design and bearing.
//! - **Leaves:** speed against time with its deviation, orders with their amplitudes, a map of order
//!   against time, eccentricity and its angle, repairs and remarks; or why there is no answer.
//! - **Effects counted:** missed and doubled pulses, uneven marks, noise, hum that stands still, slowing within
//!   a window, orders that are not whole.
//! - **Left out:** the stiffness of the string and the holder (the pick-up is taken to move with the
//!   axis: a soft holder shows less, in proportion); the recorder's clock error (some 0.01 % of speed);
//!   clipped samples of the vibration (no eccentricity is given then).
//! - **Sources:** derived in `docs/theory/recording.md`; bearing kinematics from memory.
//!
#![doc = include_str!("../../../../../docs/theory/recording.md")]

mod body;
mod choose;
mod given;
mod hearing;
mod limits;
mod lines;
mod listen;
mod pulses;
mod survey;
mod tone;
mod words;

pub use body::{OrderLine, OrderMap, RecordingBody, Repairs, SpeedFrom, TrackPoint};
pub use given::{BearingOrders, RecordingGiven, RecordingRefusal};
pub use listen::listen;
