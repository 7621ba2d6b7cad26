//! Files that are written beside an answer about a spin.

use std::path::PathBuf;

use clap::Args;
use whirlwright_paper::PaperError;
use whirlwright_paper::ink::Drawing;
use whirlwright_paper::sheet::Head;
use whirlwright_workshop::part::Job;

use crate::desk::sheets;
use crate::error::Trouble;
use crate::keep;

/// Files to be written beside the answer.
#[derive(Debug, Clone, Default, Args)]
pub struct Files {
    /// Also write the picture as SVG.
    #[arg(long, value_name = "FILE", help_heading = "Files written")]
    pub svg: Option<PathBuf>,
    /// Also write a printed sheet.
    #[arg(long, value_name = "FILE", help_heading = "Files written")]
    pub pdf: Option<PathBuf>,
    /// Also write the speed against time as CSV; of a recording it reads back as a log.
    #[arg(long, value_name = "FILE", help_heading = "Files written")]
    pub csv: Option<PathBuf>,
}

impl Files {
    /// Writes what was asked for; what an answer does not have is asked for in vain and refused.
    ///
    /// # Errors
    /// A file cannot be written, or there is nothing to put in it.
    pub fn write(
        &self,
        picture: &Drawing,
        sheet: impl FnOnce() -> Result<Vec<u8>, PaperError>,
        table: Option<String>,
    ) -> Result<Vec<PathBuf>, Trouble> {
        if self.csv.is_some() && table.is_none() {
            let told = "--csv: this answer has no speed against time; leave it out";
            return Err(Trouble::Input(told.to_owned()));
        }
        let mut written = Vec::new();
        if let Some(path) = &self.svg {
            written.push(keep::write(path, picture.to_svg().as_bytes())?);
        }
        if let Some(path) = &self.pdf {
            let pdf =
                sheet().map_err(|why| Trouble::Ours(format!("cannot set the sheet: {why}")))?;
            written.push(keep::write(path, &pdf)?);
        }
        if let (Some(path), Some(table)) = (&self.csv, table) {
            written.push(keep::write(path, table.as_bytes())?);
        }
        Ok(written)
    }
}

/// A table with a header that bears the units; numbers are written so that they read back the same.
#[must_use]
pub fn table(header: &str, rows: impl IntoIterator<Item = Vec<f64>>) -> String {
    let mut text = format!("{header}\n");
    for row in rows {
        let cells: Vec<String> = row.iter().map(f64::to_string).collect();
        text.push_str(&cells.join(","));
        text.push('\n');
    }
    text
}

/// The head of a sheet about a measured file: its name stands beside the design's.
#[must_use]
pub fn head(file: &str, job: Option<&Job>) -> Head {
    let mut head = sheets::head("", job);
    head.design = if head.design.is_empty() {
        file.to_owned()
    } else {
        format!("{}  ·  {file}", head.design)
    };
    head
}
