//! Arguments, printing, exit code. Everything else is in the library.
//!
//! Exit codes: 0 done · 1 the entries have errors · 2 wrong usage · 3 the disk or the tool failed.

mod cli;

use std::process::ExitCode;

fn main() -> ExitCode {
    cli::run()
}
