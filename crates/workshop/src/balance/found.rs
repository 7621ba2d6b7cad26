//! What one method found, before it is weighed against limits.

use super::correct_body::{Arrow, AtRest, Effect, Method, TrialWorth};
use super::uncertainty::Circles;
use super::vectors::Vector;

/// What one method found.
pub(super) struct Found {
    pub method: Method,
    /// Unbalance by plane as it came.
    pub unbalance: Vec<Vector>,
    /// With the masses that stayed on.
    pub now: Vec<Vector>,
    pub circles: Option<Circles>,
    pub arrows: Vec<Arrow>,
    pub effects: Vec<Effect>,
    pub trials: Vec<TrialWorth>,
    pub doubts: Vec<String>,
    /// Whether a doubt forbids the correction.
    pub forbids: bool,
    pub other: Option<Vector>,
    pub fixture: Vec<Vector>,
    pub at_rest: Option<AtRest>,
}

impl Found {
    /// A method that found this and nothing besides.
    pub(super) fn new(method: Method, unbalance: Vec<Vector>) -> Self {
        Self {
            method,
            now: unbalance.clone(),
            unbalance,
            circles: None,
            arrows: Vec::new(),
            effects: Vec::new(),
            trials: Vec::new(),
            doubts: Vec::new(),
            forbids: false,
            other: None,
            fixture: Vec::new(),
            at_rest: None,
        }
    }
}
