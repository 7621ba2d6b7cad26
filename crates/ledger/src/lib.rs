//! What must still be known next week: lots, parts, readings, sets and decisions.
//!
//! The record only grows. A changed reading is a new reading, an undone set is a set with a void
//! beside it; the database itself refuses to change or delete what was written. Order comes from
//! a counter, never from the clock. What [`Ledger::import`] or [`Ledger::record_sets`] returned
//! is on the disk: a power cut after that loses nothing, one before it leaves nothing half done.
//!
//! Computes nothing: what the numbers mean is the workshop's business.

mod check_input;
mod compare;
mod copies;
mod error;
mod import;
mod input;
mod inspect;
mod moment;
mod open;
mod parts;
mod read;
mod set_records;
mod sets;
mod trace;
mod words;
mod write_rows;

pub use error::{Clash, Error, TakenPart};
pub use input::{Import, ImportReceipt, ImportRow, NewSet, Reading, Recorded, Sets};
pub use moment::Moment;
pub use open::Ledger;
