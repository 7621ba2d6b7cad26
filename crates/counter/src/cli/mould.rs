//! `whirlwright mould`: mould, press and set-up.

use std::path::PathBuf;

use clap::Args;
use whirlwright_paper::text;

use super::Out;
use super::out::Bar;
use crate::desk::mould::{self, Request, Which};
use crate::error::Trouble;

/// What a set-up of mould and press does to the weight and the balance of the half.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub struct Mould {
    #[command(flatten)]
    request: Request,
    /// Do one of the moulder's studies on paper first.
    #[arg(long, value_enum)]
    study: Option<Which>,
    /// How many runs the study makes, about; a window takes them from melt and hold pressure.
    #[arg(long, value_name = "NUMBER", requires = "study", value_parser = clap::value_parser!(u16).range(3..=2000))]
    runs: Option<u16>,
    /// Weighed halves of a hold-time study (CSV: cavity,hold_s,mass_g): fits what no drawing tells, and says what each
    /// cavity's weights mean.
    #[arg(long, value_name = "FILE", conflicts_with = "study")]
    weights: Option<PathBuf>,
}

const EXAMPLES: &str = "Examples:
  whirlwright mould dunlin.toml --pdf set-up.pdf --svg shot.svg
  whirlwright mould dunlin.toml --study freeze
  whirlwright mould dunlin.toml --study window --pdf window.pdf
  whirlwright mould dunlin.toml --weights hold_study.csv --svg weights.svg";

impl Mould {
    pub fn run(self, out: &Out) -> Result<u8, Trouble> {
        if let Some(file) = &self.weights {
            let weighed = mould::weights(&self.request, file, &super::stopped)?;
            out.written(&weighed.written);
            return out.answer(&weighed.answer, text::mould_weights);
        }
        let Some(which) = self.study else {
            let made = mould::setup(&self.request)?;
            out.written(&made.written);
            return out.answer(&made.answer, text::mould);
        };
        let bar = Bar::new(out);
        let stop = |share| {
            bar.work(share, "runs");
            super::stopped()
        };
        let studied = mould::study(
            &self.request,
            which.into(),
            self.runs.map(usize::from),
            stop,
        )?;
        drop(bar);
        out.written(&studied.written);
        out.answer(&studied.answer, text::mould_study)
    }
}
