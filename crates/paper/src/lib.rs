//! What leaves the workshop on paper: pictures (SVG), printed sheets (PDF), terminal text.
//!
//! Nothing is computed here: an answer comes in, and is rounded by its uncertainty, laid out and
//! drawn. Verdict first (a word and a shape; colour only repeats them), then the number that
//! decided it, then the rest. The same answer gives the same bytes on every machine: the type is
//! bundled, and no clock is read.

pub mod asked;
pub mod code;
pub mod font;
pub mod ink;
pub mod palette;
pub mod picture;
pub mod rounding;
pub mod sheet;
pub mod spread;
pub mod step;
pub mod text;
pub mod words;

pub use ink::pdf::PaperError;
