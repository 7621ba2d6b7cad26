//! The workshop: every station of the work, pure: typed, checked input to an answer.
//!
//! The modules stand in the order of the work; a station uses only `kit`, [`part`] and the
//! stations before it. [`route`] alone calls them all.

pub mod part;
pub mod shelf;

pub mod balance;
pub mod bearing;
pub mod design;
pub mod fitting;
pub mod measuring;
pub mod moulding;
pub mod pairing;
pub mod spin;
pub mod turning;

pub mod route;
