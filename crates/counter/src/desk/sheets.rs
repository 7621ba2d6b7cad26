//! The sheets and pictures of a pairing: which are wanted, and writing them.

use std::path::{Path, PathBuf};

use clap::Args;
use jiff::ZonedDateTime;
use whirlwright_paper::sheet::{self, Head, Traveller};
use whirlwright_paper::{PaperError, picture};
use whirlwright_workshop::pairing::PairBody;
use whirlwright_workshop::part::{Answer, Job};

use crate::error::Trouble;
use crate::keep;

/// Files to be written beside the answer.
#[derive(Debug, Clone, Default, Args)]
pub struct Sheets {
    /// Write the pick list, in tray order, as PDF.
    #[arg(long, value_name = "FILE", help_heading = "Sheets")]
    pub pick_list: Option<PathBuf>,
    /// Write the list of sets, in their order, as PDF.
    #[arg(long, value_name = "FILE", help_heading = "Sheets")]
    pub set_list: Option<PathBuf>,
    /// Write the list of rims to recut as PDF.
    #[arg(long, value_name = "FILE", help_heading = "Sheets")]
    pub recut_list: Option<PathBuf>,
    /// Write the traveller as PDF.
    #[arg(long, value_name = "FILE", help_heading = "Sheets")]
    pub traveller: Option<PathBuf>,
    /// Write the whole answer with its pictures as PDF.
    #[arg(long, value_name = "FILE", help_heading = "Sheets")]
    pub pdf: Option<PathBuf>,
    /// Write the picture of the sets as SVG.
    #[arg(long, value_name = "FILE", help_heading = "Sheets")]
    pub svg: Option<PathBuf>,
}

/// A sheet by name, as command and page call it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sheet {
    /// What to pick from the trays, in their order.
    PickList,
    /// What belongs together, with room for the mass of the piece.
    SetList,
    /// Which rims to recut, and by how much.
    RecutList,
    /// The steps of the lot, with room to tick.
    Traveller,
    /// The answer with its pictures.
    Answer,
}

impl Sheet {
    /// Every sheet.
    pub const ALL: [Self; 5] = [
        Self::PickList,
        Self::SetList,
        Self::RecutList,
        Self::Traveller,
        Self::Answer,
    ];

    /// The name of its file.
    #[must_use]
    pub fn file(self) -> &'static str {
        match self {
            Self::PickList => "pick-list.pdf",
            Self::SetList => "set-list.pdf",
            Self::RecutList => "recut-list.pdf",
            Self::Traveller => "traveller.pdf",
            Self::Answer => "pairing.pdf",
        }
    }

    /// What it is called.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::PickList => "Pick list",
            Self::SetList => "Set list",
            Self::RecutList => "Recut list",
            Self::Traveller => "Traveller",
            Self::Answer => "Answer with pictures",
        }
    }

    /// The sheet as PDF.
    ///
    /// # Errors
    /// The sheet could not be set.
    pub fn pdf(self, answer: &Answer<PairBody>, head: &Head) -> Result<Vec<u8>, Trouble> {
        let pdf = match self {
            Self::PickList => sheet::pick_list(answer, head),
            Self::SetList => sheet::set_list(answer, head),
            Self::RecutList => sheet::recut_list(answer, head),
            Self::Traveller => sheet::traveller(&Traveller::of_pairing(&answer.body), head),
            Self::Answer => sheet::pairing_sheet(answer, head),
        };
        pdf.map_err(|why: PaperError| {
            Trouble::Ours(format!("cannot set the {}: {why}", self.name()))
        })
    }
}

/// The head of a sheet.
#[must_use]
pub fn head(lot: &str, job: Option<&Job>) -> Head {
    Head {
        lot: lot.to_owned(),
        design: job.map(|j| j.name.clone()).unwrap_or_default(),
        revision: job.and_then(|j| j.revision.clone()).unwrap_or_default(),
        printed: ZonedDateTime::now().strftime("%Y-%m-%d %H:%M").to_string(),
        note: job.and_then(|j| j.note.clone()),
        link: None,
    }
}

impl Sheets {
    /// Writes what is wanted, each file whole or not at all.
    ///
    /// # Errors
    /// A sheet could not be set or a file not be written.
    pub fn write(&self, answer: &Answer<PairBody>, head: &Head) -> Result<Vec<PathBuf>, Trouble> {
        let sheets = [
            (Sheet::PickList, &self.pick_list),
            (Sheet::SetList, &self.set_list),
            (Sheet::RecutList, &self.recut_list),
            (Sheet::Traveller, &self.traveller),
            (Sheet::Answer, &self.pdf),
        ];
        let mut written = Vec::new();
        for (sheet, path) in sheets {
            if let Some(path) = path {
                written.push(keep::write(path, &sheet.pdf(answer, head)?)?);
            }
        }
        if let Some(path) = &self.svg {
            written.push(keep::write(
                path,
                picture::pairing(&answer.body).as_bytes(),
            )?);
        }
        Ok(written)
    }
}

/// The name of a lot that was never given one: the file it came from.
#[must_use]
pub fn lot_of_file(path: &Path) -> String {
    path.file_stem()
        .map_or_else(String::new, |stem| stem.to_string_lossy().into_owned())
}
