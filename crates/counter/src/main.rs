//! The `whirlwright` command.

use std::process::ExitCode;

fn main() -> ExitCode {
    whirlwright_counter::cli::main()
}
