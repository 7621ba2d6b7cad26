//! Station card of pairing: who with whom.
//!
//! - **Comes in:** measured parts (mass, unbalance, offset, fit), what must agree and how closely,
//!   what must not meet, whether rims may be recut.
//! - **Leaves:** the sets with their proof, the parts without a set and why, the recut plan, what
//!   simpler ways would have brought on the same lot, what more rims would bring.
//! - **Effects counted:** differences of mass, static unbalance and axial offset; sum of the two
//!   dressed halves; interference of spigot and bore; colour and other forbids; clock marks.
//! - **Left out:** the scale's own scatter (stated as trust, not simulated); that a face cut also
//!   moves a rim's centre along the axle (half the cut, at most some 0.1 mm of an 18 g ring).
//! - **Sources:** the pair cost and the clocking rule are derived in `docs/theory`; price and
//!   repair on sparse graphs after Applegate and Cook 1993 (from memory).
//!
#![doc = include_str!("../../../../docs/theory/pairing.md")]

mod anneal;
mod baseline;
mod best;
mod body;
mod classes;
mod clocking;
mod couple;
mod distribution;
mod dressed;
mod dressed_answer;
mod effort;
mod face;
mod given;
mod kinds;
mod lot;
mod marry;
mod more;
mod needs;
mod parts_answer;
mod prices;
mod remarry;
mod run;
mod scores;
mod search;
mod smaller;
mod usable;
mod whole;
mod words;

pub use body::{
    AskedLimit, Baselines, ClockOption, Histogram, IfMore, LeftOver, Leftovers, PairBody, PairSet,
    Place, RecutLine, RecutSum, Score, Scores,
};
pub use face::ring_face_gram_per_mm;
pub use given::{
    DressedGiven, FitWindow, Joint, Limits, MOST_PARTS, MoreRims, PartsGiven, Progress, Recut,
    Refusal,
};
pub use run::{pair_dressed, pair_parts};
