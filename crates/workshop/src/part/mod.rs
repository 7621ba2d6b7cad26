//! What is handed on from station to station.

pub mod answer;
pub mod decimal;
pub mod lot_part;
pub mod record;

pub use answer::{Answer, Basis, Trust, Verdict};
pub use decimal::Decimal;
pub use lot_part::{Kind, LotPart};
pub use record::{Measure, Role};
