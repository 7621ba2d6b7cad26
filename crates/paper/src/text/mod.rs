//! Answers in the terminal: as somebody at the bench would tell them.
//!
//! Plain text of at most 100 columns; [`coloured`] repeats the verdict in colour where a terminal
//! can show it.

mod balance;
mod bearing;
mod lot;
mod measuring;
mod page;
mod pair;
mod recording;
mod section;
mod spin;
mod spin_log;
mod strips;
mod table;
mod trace;

pub use balance::{balance_correct, balance_limit};
pub use bearing::bearing;
pub use lot::{lot, lots};
pub use measuring::measuring;
pub use page::coloured;
pub(crate) use pair::by_reason;
pub use pair::pair;
pub use recording::recording;
pub use section::section;
pub(crate) use section::{limit_lines, whole};
pub use spin::spin;
pub use spin_log::{spin_compare, spin_log, spin_tray};
pub use trace::trace;
