//! Answers in the terminal: as somebody at the bench would tell them.
//!
//! Plain text of at most 100 columns; [`coloured`] repeats the verdict in colour where a terminal
//! can show it.

mod balance;
mod bearing;
pub(crate) mod fit;
pub(crate) mod fit_section;
mod lot;
mod measuring;
pub(crate) mod mould;
pub(crate) mod mould_study;
mod mould_weights;
mod page;
mod pair;
mod recording;
pub(crate) mod rim;
mod section;
mod spin;
mod spin_log;
mod strips;
mod table;
mod trace;

pub use balance::{balance_correct, balance_limit};
pub use bearing::bearing;
pub use fit::fit;
pub use lot::{lot, lots};
pub use measuring::measuring;
pub use mould::{CAVITY_HEADS, cavities, mould, whole as mould_rows};
pub use mould_study::{PRESS_HEADS, RUN_HEADS, mould_study, press_rows, rows as run_rows};
pub use mould_weights::mould_weights;
pub use page::coloured;
pub(crate) use pair::by_reason;
pub use pair::pair;
pub use recording::recording;
pub use rim::{recut, rim, tray};
pub use section::section;
pub(crate) use section::{limit_lines, whole};
pub use spin::spin;
pub use spin_log::{spin_compare, spin_log, spin_tray};
pub use trace::trace;
