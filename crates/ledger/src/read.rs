//! What the ledger knows of lots and their parts.
use whirlwright_workshop::part::record::{LotLine, LotRecord};
use whirlwright_workshop::part::{Kind, LotPart};

use crate::{Error, Ledger};

impl Ledger {
    /// Every lot, in the order they began.
    ///
    /// # Errors
    /// See [`Error`].
    pub async fn lots(&self) -> Result<Vec<LotLine>, Error> {
        todo!()
    }

    /// A whole lot: counts, files, doubts, sets and decisions.
    ///
    /// # Errors
    /// [`Error::NoSuchLot`].
    pub async fn lot(&self, lot: &str) -> Result<LotRecord, Error> {
        let _ = lot;
        todo!()
    }

    /// The parts of one kind with their latest readings, in the order they came in.
    ///
    /// # Errors
    /// [`Error::NoSuchLot`].
    pub async fn parts(&self, lot: &str, kind: Kind) -> Result<Vec<LotPart>, Error> {
        let _ = (lot, kind);
        todo!()
    }

    /// The same, without the parts that sit in a set which is not void.
    ///
    /// # Errors
    /// [`Error::NoSuchLot`].
    pub async fn free_parts(&self, lot: &str, kind: Kind) -> Result<Vec<LotPart>, Error> {
        let _ = (lot, kind);
        todo!()
    }
}
