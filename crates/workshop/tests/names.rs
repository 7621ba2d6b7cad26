//! Names and words: a public number says its unit, the spelling is British, and no file speaks of
//! the machine it was written on.

#[path = "names/proofs.rs"]
mod proofs;
#[path = "names/spelling.rs"]
mod spelling;
mod tree;
#[path = "names/units.rs"]
mod units;
