//! kit
pub mod describe;
pub mod elements;
pub mod elliptic;
pub mod least_squares;
pub mod linear_program;
pub mod matching;
pub mod mesh;
pub mod normal;
pub mod ode;
pub mod omega;
pub mod quadrature;
pub mod random;
pub mod revolve;
pub mod root;
pub mod signal;
pub mod transport;
