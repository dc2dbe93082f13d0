//! `pinchbar`: the command line of the bench. Parses, asks the engine, prints; no engineering
//! inside.

mod args;
mod demo;
mod demo_book;
mod failure;
mod folder;
mod say;
mod verbs;

use clap::Parser;
use std::process::ExitCode;

fn main() -> ExitCode {
    let args = match args::Args::try_parse() {
        Ok(args) => args,
        Err(error) => {
            // Help and version are asked for; anything else is a slip in the command.
            let code = if error.use_stderr() { failure::WRONG } else { failure::DONE };
            // A closed pipe must not turn help into a crash.
            let _ = error.print();
            return ExitCode::from(code);
        }
    };
    match verbs::run(&args) {
        Ok(code) => ExitCode::from(code),
        Err(failure) => {
            eprintln!("{failure}");
            ExitCode::from(failure.code())
        }
    }
}
