//! `whirlwright demo`: the example workshop, and its main job done.

use std::path::PathBuf;

use clap::Args;

use super::Out;
use super::out::Bar;
use crate::desk::demo;
use crate::error::Trouble;
use crate::words;

/// Make an example workshop in a new folder and do its main job there. All of it is invented.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  whirlwright demo tarnside")]
pub struct Demo {
    /// The new folder; one that holds something is refused.
    #[arg(default_value = "tarnside")]
    folder: PathBuf,
}

impl Demo {
    pub async fn run(self, out: &Out) -> Result<u8, Trouble> {
        let bar = Bar::new(out);
        let stop = move |progress| {
            bar.show(progress);
            super::stopped()
        };
        let demo = demo::demo(&self.folder, stop).await?;
        out.value(&demo, words::demo)?;
        Ok(0)
    }
}
