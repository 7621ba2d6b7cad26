//! One function a use case; the command and the page both call it.
//!
//! A desk takes what was asked (as typed, with units), calls stations, ledger and paper, and gives
//! the answer back with the names of the files it wrote.

pub mod limits;
pub mod lot;
pub mod reading;
pub mod record;
pub mod wish;
