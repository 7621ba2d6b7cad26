//! Recorded signals, block by block: pulses and tones of something that turns, its phase, its orders.
//!
//! Everything here takes samples in blocks of any size and keeps sums, pulses or frames, never the
//! samples. The parts in the order of their use: [`decimate`] and [`level`] prepare, [`pulse`] and
//! [`number`] find and count pulses, [`frames`] and [`ridge`] follow a tone where there are none,
//! [`phase`] smooths either into an angle, [`orders`] and [`order_map`] ask what goes with the angle.

pub mod decimate;
pub mod frames;
pub mod level;
pub mod number;
pub mod order_map;
pub mod orders;
pub mod phase;
pub mod pulse;
pub mod ridge;
