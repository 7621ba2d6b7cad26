//! kit
pub mod describe;
pub mod elements;
pub mod linear_program;
pub mod matching;
pub mod mesh;
pub mod random;
pub mod revolve;
pub mod transport;
