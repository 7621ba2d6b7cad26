//! counter
