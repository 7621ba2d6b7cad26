//! Sound files: WAV, read in blocks and never held.

mod error;
mod frames;
mod header;
#[cfg(test)]
mod tests;

pub use error::NotAWav;
pub use frames::Wav;
