//! The command: one file a verb, each a thin window on a desk.

mod balance;
mod demo;
mod lot;
mod mould;
mod out;
mod pair;
mod rim;
mod section;
mod serve;
mod spin;

use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use clap::{Parser, Subcommand};

use crate::error::Trouble;
pub use out::{Format, Out};

/// Yo-yo making, from the drawing to matched sets.
#[derive(Debug, Parser)]
#[command(name = "whirlwright", version, about, after_help = FIRST_STEPS, max_term_width = 100)]
pub struct Command {
    #[command(subcommand)]
    verb: Verb,
    /// How the answer is written: text to read, or JSON for another program.
    #[arg(long, global = true, value_enum, default_value_t = Format::Text)]
    format: Format,
    /// The record of lots and sets.
    #[arg(long, global = true, value_name = "FILE", default_value = "ledger.db")]
    ledger: PathBuf,
}

const FIRST_STEPS: &str = "First steps:
  whirlwright demo                      make an example workshop and see the main job done
  whirlwright serve                     open the same on a local page
Exit codes: 0 yes; 1 the answer is no (outside a limit); 2 input or usage wrong; 3 our failure.";

#[derive(Debug, Subcommand)]
enum Verb {
    Demo(demo::Demo),
    Section(section::Section),
    Mould(mould::Mould),
    Pair(Box<pair::Pair>),
    Balance(balance::Balance),
    Rim(Box<rim::Rim>),
    Lot(lot::Lot),
    Spin(Box<spin::Spin>),
    Serve(serve::Serve),
}

/// How long a stopped job has to put its things away before the command ends.
const TIME_TO_TIDY: Duration = Duration::from_secs(3);

static STOP: AtomicBool = AtomicBool::new(false);

/// Whether the person has asked to stop; long work looks here now and then.
#[must_use]
pub fn stopped() -> bool {
    STOP.load(Ordering::Relaxed)
}

/// Reads the command line, runs it, and gives the exit code.
#[must_use]
pub fn main() -> ExitCode {
    out::no_panic_is_shown_raw();
    let command = match Command::try_parse() {
        Ok(command) => command,
        Err(usage) => return out::usage(&usage),
    };
    let out = Out::new(command.format);
    let done = match tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()
    {
        Ok(runtime) => {
            let done = runtime.block_on(until_stopped(command, out));
            runtime.shutdown_timeout(Duration::from_millis(100));
            done
        }
        Err(why) => Err(Trouble::Ours(format!("cannot start: {why}"))),
    };
    match done {
        Ok(code) => ExitCode::from(code),
        Err(trouble) => out.trouble(&trouble),
    }
}

/// Runs the command; on the first interrupt it is asked to stop, and given a moment to tidy up.
async fn until_stopped(command: Command, out: Out) -> Result<u8, Trouble> {
    let mut work = tokio::spawn(run(command, out));
    tokio::select! {
        done = &mut work => finished(done),
        _ = tokio::signal::ctrl_c() => {
            STOP.store(true, Ordering::Relaxed);
            match tokio::time::timeout(TIME_TO_TIDY, work).await {
                Ok(done) => finished(done),
                Err(_too_late) => Err(Trouble::Stopped),
            }
        }
    }
}

fn finished(done: Result<Result<u8, Trouble>, tokio::task::JoinError>) -> Result<u8, Trouble> {
    done.unwrap_or_else(|why| Err(Trouble::Ours(format!("a fault in the program: {why}"))))
}

async fn run(command: Command, out: Out) -> Result<u8, Trouble> {
    let ledger = command.ledger;
    match command.verb {
        Verb::Demo(demo) => demo.run(&out).await,
        Verb::Section(section) => section.run(&out),
        Verb::Mould(mould) => mould.run(&out),
        Verb::Rim(rim) => rim.run(&out),
        Verb::Pair(pair) => pair.run(&out, &ledger).await,
        Verb::Spin(spin) => spin.run(&out),
        Verb::Balance(balance) => balance.run(&out),
        Verb::Lot(lot) => lot.run(&out, &ledger).await,
        Verb::Serve(serve) => serve.run(&out, &ledger).await,
    }
}
