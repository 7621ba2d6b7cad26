//! The whole job, station after station, on one page.
