//! Files of parts: bytes → raw table → checked parts.

pub mod finding;
pub mod lot;
pub mod options;

pub use finding::{FileRefusal, Finding};
pub use lot::{LotFile, Reading, Row, read_lot};
pub use options::ReadOptions;
