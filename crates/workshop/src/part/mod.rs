//! What is handed on from station to station.

pub mod answer;
pub mod balance_wishes;
pub mod decimal;
pub mod figures;
pub mod fit_wishes;
pub mod job;
pub mod limits;
pub mod lot_part;
pub mod mass_properties;
pub mod mould_wishes;
pub mod outline;
pub mod quantity;
pub mod range;
pub mod record;
pub mod resin;
pub mod spin_factor;
pub mod spin_log;
mod spin_log_checks;
pub mod spin_log_faults;
pub mod spin_log_gather;
pub mod spin_wishes;
pub mod unbalance;

pub use answer::{Answer, Basis, Trust, Verdict};
pub use balance_wishes::BalanceWishes;
pub use decimal::Decimal;
pub use job::Job;
pub use limits::{FitLimits, Limits, NotLimits, Surface};
pub use lot_part::{Kind, LotPart};
pub use mass_properties::MassProperties;
pub use outline::{NotAnOutline, Outline};
pub use quantity::{Dimension, NotAQuantity, Quantity};
pub use range::Range;
pub use record::{Measure, Role};
pub use spin_log::{LogFrom, NotALog, SpinLog};
pub use spin_log_gather::LogGatherer;
pub use unbalance::{AngleSense, Couple, Unbalance};
