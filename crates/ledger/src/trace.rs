//! Everything that is known of one part.
use serde_json::Value;
use whirlwright_workshop::part::record::Trace;

use crate::{Error, Ledger};

impl Ledger {
    /// Everything the ledger knows of one part: readings with their source, sets, decisions.
    ///
    /// # Errors
    /// [`Error::NoSuchPart`] with the nearest serial, [`Error::SeveralLots`].
    pub async fn trace(&self, serial: &str, lot: Option<&str>) -> Result<Trace, Error> {
        let _ = (serial, lot);
        todo!()
    }

    /// The whole answer behind a decision, by the decision's counter.
    ///
    /// # Errors
    /// [`Error::Refused`] if there is no such decision.
    pub async fn decision_answer(&self, counter: u64) -> Result<Value, Error> {
        let _ = counter;
        todo!()
    }
}
