//! Files of parts, named by their kind.

use std::path::PathBuf;

use clap::Args;
use whirlwright_workshop::part::Kind;

/// Files of parts, one a kind.
#[derive(Debug, Args)]
pub struct Files {
    /// The file of halves (CSV or XLSX).
    #[arg(long, value_name = "FILE", required_unless_present_any = ["rims", "dressed", "parts"])]
    halves: Option<PathBuf>,
    /// The file of rims.
    #[arg(long, value_name = "FILE")]
    rims: Option<PathBuf>,
    /// The file of dressed halves.
    #[arg(long, value_name = "FILE")]
    dressed: Option<PathBuf>,
    /// The file of any other small parts.
    #[arg(long, value_name = "FILE")]
    parts: Option<PathBuf>,
}

impl Files {
    /// The files that were named, each with its kind of part.
    pub fn by_kind(self) -> Vec<(Kind, PathBuf)> {
        let kinds = [
            (Kind::Half, self.halves),
            (Kind::Rim, self.rims),
            (Kind::Dressed, self.dressed),
            (Kind::Other, self.parts),
        ];
        kinds
            .into_iter()
            .filter_map(|(kind, file)| Some((kind, file?)))
            .collect()
    }
}
