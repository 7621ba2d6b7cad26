//! Sets are recorded and given up.
use whirlwright_workshop::part::record::Written;

use crate::{Error, Ledger, Moment, Recorded, Sets};

impl Ledger {
    /// Records a decision with its sets, all of them or none, and returns when it is on the disk.
    ///
    /// # Errors
    /// [`Error::Taken`], [`Error::MeasuredSince`], [`Error::NumberUsed`], [`Error::NoSuchPart`]
    /// and others; nothing was recorded.
    pub async fn record_sets(&self, sets: &Sets) -> Result<Recorded, Error> {
        let _ = sets;
        todo!()
    }

    /// Gives a set up: its parts are free again, its number is never used again.
    ///
    /// # Errors
    /// [`Error::NoSuchSet`], [`Error::AlreadyVoid`].
    pub async fn void_set(
        &self,
        lot: &str,
        number: u32,
        reason: &str,
        program: &str,
        at: &Moment,
    ) -> Result<Written, Error> {
        let _ = (lot, number, reason, program, at);
        todo!()
    }
}
