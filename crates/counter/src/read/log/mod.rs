//! Logs of spin-downs: times and speeds, or the times at which a mark passed, read line by line.
//!
//! | step | file |
//! |---|---|
//! | bytes → lines, whatever the encoding, in bounded memory | [`lines`] |
//! | header → which column holds what, in which unit | [`header`] |
//! | one line → its numbers, or what is wrong with it | [`row`] |
//! | lines → one log | [`one`] |
//! | lines → a log a bearing | [`tray`] |
//! | can the unit be the right one? | `units` |
//!
//! Whether the numbers are a spin-down at all is the part's own check (`part::spin_log`); here is
//! only said what stands in the file.

pub mod header;
pub mod lines;
pub mod one;
pub mod row;
pub mod tray;
mod units;

pub use one::{LogFile, LogOptions, read_log};
pub use tray::{TrayFile, read_tray};
