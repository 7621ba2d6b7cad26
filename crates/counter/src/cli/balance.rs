//! `whirlwright balance`: how far out, where, and what to take off.

use clap::{Args, Subcommand};
use whirlwright_paper::text;

use super::Out;
use super::out::Bar;
use crate::desk::balance::{correct, limit, recording};
use crate::error::Trouble;

/// Balance: the permissible unbalance, the correction from readings, the correction from a recording.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  whirlwright balance limit dunlin.toml\n  whirlwright balance correct readings.toml --job dunlin.toml --pdf balance.pdf\n  whirlwright balance recording spin.wav --job dunlin.toml --full-scale \"20 m/s2\""
)]
pub struct Balance {
    #[command(subcommand)]
    question: Question,
}

#[derive(Debug, Subcommand)]
enum Question {
    /// How far out the piece may be for its grade and speed, and who may use up how much of that.
    Limit(limit::Request),
    /// Unbalance and correction from the readings of a rig, of rods, or of a fixture.
    Correct(correct::Request),
    /// Unbalance and correction from a recording of a spin.
    Recording(recording::Request),
}

impl Balance {
    pub fn run(self, out: &Out) -> Result<u8, Trouble> {
        match self.question {
            Question::Limit(request) => {
                let done = limit::limit(&request)?;
                out.written(&done.written);
                out.answer(&done.answer, text::balance_limit)
            }
            Question::Correct(request) => {
                let done = correct::correct(&request)?;
                out.written(&done.written);
                out.answer(&done.answer, text::balance_correct)
            }
            Question::Recording(request) => {
                let bar = Bar::new(out);
                let done = recording::recording(&request, &mut |share, doing| {
                    bar.work(share, doing);
                    super::stopped()
                })?;
                drop(bar);
                out.written(&done.correct.written);
                let heard = done.heard.as_ref().map(text::recording);
                out.answer(&done.correct.answer, |answer| {
                    heard
                        .into_iter()
                        .chain([text::balance_correct(answer)])
                        .collect::<Vec<_>>()
                        .join("\n")
                })
            }
        }
    }
}
