//! Reading what a person typed or an instrument wrote: job files, readings of balance, tables of parts, logs
//! of spins, recordings.

pub mod balance;
mod document;
pub mod job;
pub mod log;
pub mod table;
pub mod wav;
pub mod weighings;
