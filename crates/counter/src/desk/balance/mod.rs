//! Balance: how far out a piece may be, and what corrects it.

pub mod correct;
pub mod limit;
pub mod recording;
pub mod view;
