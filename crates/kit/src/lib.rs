//! kit
pub mod describe;
pub mod linear_program;
pub mod random;
pub mod transport;
pub mod matching;
pub mod revolve;
