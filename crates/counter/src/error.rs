//! The only place where what went wrong becomes an exit code or a page status.

use std::path::Path;

use serde_json::{Value, json};
use whirlwright_ledger::Error as LedgerError;
use whirlwright_workshop::balance::Refusal as BalanceRefusal;
use whirlwright_workshop::pairing::Refusal;

use crate::read::table::FileRefusal;

/// What went wrong, as one plain sentence (or several lines for a file with several faults).
#[derive(Debug, thiserror::Error)]
pub enum Trouble {
    /// What was typed, or a file that was given, cannot be used: what was read, what was expected.
    #[error("{0}")]
    Input(String),
    /// Files of parts that were not taken, each with everything found in it.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Files(Vec<FileRefusal>),
    /// Something asked for by name is not there.
    #[error("{0}")]
    NotFound(String),
    /// The wish is in order, but something that exists stands against it.
    #[error("{0}")]
    Conflict(String),
    /// A request that did not come from this program's own page.
    #[error("{0}")]
    NotOurPage(String),
    /// The person stopped the work.
    #[error("stopped; nothing was left half-written")]
    Stopped,
    /// Our failure: the disk, the record, or a fault in the program.
    #[error("{0}")]
    Ours(String),
}

/// Exit code when the person stopped the work: 128 + the number of the interrupt signal.
const INTERRUPTED: u8 = 130;

impl Trouble {
    /// A file that could not be read or written, named with the reason.
    #[must_use]
    pub fn file(path: &Path, doing: &str, why: &std::io::Error) -> Self {
        use std::io::ErrorKind as K;
        let name = path.display();
        match why.kind() {
            K::NotFound => Self::NotFound(format!(
                "cannot {doing} {name}: there is no such file or folder"
            )),
            K::PermissionDenied => Self::Input(format!("cannot {doing} {name}: not allowed")),
            K::StorageFull => Self::Ours(format!("cannot {doing} {name}: the disk is full")),
            _ => Self::Ours(format!("cannot {doing} {name}: {why}")),
        }
    }

    /// Exit code: 2 for what was typed or given, 3 for our own failure. (0 and 1 belong to answers.)
    #[must_use]
    pub fn exit_code(&self) -> u8 {
        match self {
            Self::Input(_)
            | Self::Files(_)
            | Self::NotFound(_)
            | Self::Conflict(_)
            | Self::NotOurPage(_) => 2,
            Self::Stopped => INTERRUPTED,
            Self::Ours(_) => 3,
        }
    }

    /// Status of the page that shows it.
    #[must_use]
    pub fn status(&self) -> axum::http::StatusCode {
        use axum::http::StatusCode as S;
        match self {
            Self::Input(_) | Self::Files(_) => S::UNPROCESSABLE_ENTITY,
            Self::NotFound(_) => S::NOT_FOUND,
            Self::Conflict(_) => S::CONFLICT,
            Self::NotOurPage(_) => S::FORBIDDEN,
            Self::Stopped => S::SERVICE_UNAVAILABLE,
            Self::Ours(_) => S::INTERNAL_SERVER_ERROR,
        }
    }

    /// The same for another program.
    #[must_use]
    pub fn json(&self) -> Value {
        let mut told = json!({ "error": self.to_string(), "exit_code": self.exit_code() });
        if let Self::Files(files) = self {
            told["files"] = json!(files);
        }
        told
    }
}

impl From<Refusal> for Trouble {
    fn from(refusal: Refusal) -> Self {
        Self::Input(refusal.to_string())
    }
}

impl From<BalanceRefusal> for Trouble {
    fn from(refusal: BalanceRefusal) -> Self {
        Self::Input(refusal.to_string())
    }
}

impl From<FileRefusal> for Trouble {
    fn from(refusal: FileRefusal) -> Self {
        Self::Files(vec![refusal])
    }
}

impl From<LedgerError> for Trouble {
    fn from(error: LedgerError) -> Self {
        use LedgerError as E;
        let told = error.to_string();
        match error {
            E::NotThere { .. }
            | E::NoSuchLot { .. }
            | E::NoSuchPart { .. }
            | E::NoSuchSet { .. } => Self::NotFound(told),
            E::Clashes { .. }
            | E::Taken { .. }
            | E::MeasuredSince { .. }
            | E::NumberUsed { .. }
            | E::AlreadyVoid { .. }
            | E::SeveralLots { .. }
            | E::Busy { .. } => Self::Conflict(told),
            E::DiskFull | E::Database { .. } | E::Damaged { .. } | E::Unreadable { .. } => {
                Self::Ours(told)
            }
            _ => Self::Input(told),
        }
    }
}
