//! The counter: where people are served.
//!
//! One [`desk`] function a use case; the command ([`cli`]) and the local page ([`web`]) are two
//! thin windows on the same desks. Reading of files is in [`read`]; [`error`] is the only place
//! where what went wrong becomes an exit code or a page status. No physics and no SQL here.

pub mod cli;
pub mod desk;
pub mod error;
pub mod keep;
pub mod read;
pub mod web;
pub mod words;
