//! kit
