//! What comes into the design station: a job whose outlines have been checked.

use super::faults::{Fault, faults};
use crate::part::Job;

/// A job whose outlines are closed, do not cross and stay above the axle.
#[derive(Debug, Clone, PartialEq)]
pub struct Given {
    job: Job,
}

impl Given {
    /// Checks every outline of a job.
    ///
    /// # Errors
    /// All faults at once, each with its piece and the place in the path.
    pub fn new(job: Job) -> Result<Self, Vec<Fault>> {
        let found = faults(&job);
        if found.is_empty() {
            Ok(Self { job })
        } else {
            Err(found)
        }
    }

    /// The job.
    #[must_use]
    pub fn job(&self) -> &Job {
        &self.job
    }
}
