//! Reading what a person typed or an instrument wrote: job files and tables of parts.

pub mod job;
pub mod table;
