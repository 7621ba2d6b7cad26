//! One function a use case; the command and the page both call it.
//!
//! A desk takes what was asked (as typed, with units), calls stations, ledger and paper, and gives
//! the answer back with the names of the files it wrote.

pub mod balance;
pub mod demo;
pub mod job;
pub mod limits;
pub mod lot;
pub mod mould;
pub mod pair;
pub mod question;
pub mod reading;
pub mod readings;
pub mod record;
pub mod recut;
pub mod rim;
pub mod rim_fit;
pub mod section;
pub mod sets;
pub mod sheets;
pub mod spin;
pub mod wish;
