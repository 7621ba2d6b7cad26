//! Reading what a person typed or an instrument wrote: job files, balance readings, recordings, and
//! tables of parts.

pub mod balance;
mod document;
pub mod job;
pub mod table;
pub mod wav;
