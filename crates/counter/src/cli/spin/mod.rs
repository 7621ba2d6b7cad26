//! `whirlwright spin`: how long it sleeps, why it slows, how true it runs.

use std::path::PathBuf;

use clap::Args;
use whirlwright_paper::text;

use super::Out;
use super::out::Bar;
use crate::desk::spin::files::Files;
use crate::desk::spin::reading::Reading;
use crate::desk::spin::{compare, design, log, recording, tray};
use crate::error::Trouble;

/// Foretell a design's sleep, or say what a log, a recording, several throws or a tray of bearings show.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub struct Spin {
    /// The job file: its design is foretold, or what was measured is held against it.
    job: Option<PathBuf>,
    /// The same as JOB, beside what was measured.
    #[arg(long = "job", value_name = "FILE", conflicts_with = "job")]
    beside: Option<PathBuf>,
    #[command(flatten)]
    what: What,
    /// Moment of inertia of the disc a tray of bearings was flicked on, such as "900 g·mm2".
    #[arg(long, value_name = "INERTIA")]
    flywheel: Option<String>,
    #[command(flatten)]
    reading: Reading,
    #[command(flatten)]
    heard: recording::Heard,
    #[command(flatten)]
    files: Files,
    /// Also write the sleep against each lever as SVG.
    #[arg(long, value_name = "FILE", help_heading = "Files written")]
    levers: Option<PathBuf>,
}

/// What was measured; without any of it the job's design is foretold.
#[derive(Debug, Args)]
#[group(required = false, multiple = false)]
struct What {
    /// A log of one spin (CSV).
    #[arg(long, value_name = "FILE")]
    log: Option<PathBuf>,
    /// A recording of one spin (WAV): light sensor, microphone or pick-up, one or two channels.
    #[arg(long, value_name = "FILE")]
    recording: Option<PathBuf>,
    /// Logs to set beside each other; names that differ in their last number are repeats, as are
    /// those with one name before `=`: dry=a.csv dry=b.csv oiled=c.csv.
    #[arg(long, value_name = "FILE", num_args = 2..)]
    compare: Vec<PathBuf>,
    /// A tray of bearings (CSV): bearing,time_s,speed_rpm.
    #[arg(long, value_name = "FILE")]
    bearings: Option<PathBuf>,
}

const EXAMPLES: &str = "Examples:
  whirlwright spin dunlin.toml --svg speed.svg --levers levers.svg --pdf spin.pdf
  whirlwright spin --log throw_dry_1.csv --job dunlin.toml
  whirlwright spin --recording spin.wav --job dunlin.toml --csv track.csv
  whirlwright spin --compare throw_dry_1.csv throw_dry_2.csv throw_oiled_1.csv throw_oiled_2.csv
  whirlwright spin --bearings bearings.csv --flywheel \"900 g·mm2\"
A log is CSV with units in its header: time_s,speed_rpm, or pulse_s alone.";

impl Spin {
    pub fn run(self, out: &Out) -> Result<u8, Trouble> {
        let bar = Bar::new(out);
        let mut stop = |share: f64, doing: &str| {
            bar.work(share, doing);
            super::stopped()
        };
        let job = self.job.as_deref().or(self.beside.as_deref());
        let (files, reading) = (&self.files, &self.reading);
        if let Some(file) = &self.what.log {
            return out.spun(
                &log::fit(file, job, reading, files, &mut stop)?,
                text::spin_log,
            );
        }
        if let Some(file) = &self.what.recording {
            let heard =
                recording::hear_file(file, job, &self.heard, reading.marks, files, &mut stop)?;
            return out.spun(&heard, text::recording);
        }
        if !self.what.compare.is_empty() {
            let compared =
                compare::compare_files(&self.what.compare, job, reading, files, &mut stop)?;
            return out.spun(&compared, text::spin_compare);
        }
        if let Some(file) = &self.what.bearings {
            let sorted = tray::sort_file(file, self.flywheel.as_deref(), reading, files)?;
            return out.spun(&sorted, text::spin_tray);
        }
        let Some(job) = job else {
            return Err(Trouble::Input(NOTHING.to_owned()));
        };
        out.spun(
            &design::spin(job, files, self.levers.as_deref())?,
            text::spin,
        )
    }
}

const NOTHING: &str =
    "nothing to go by: name a job file, or one of --log, --recording, --compare, --bearings";
