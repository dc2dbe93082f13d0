//! How a command ends.

use std::fmt;

/// Done, and nothing is beyond its limit.
pub(crate) const DONE: u8 = 0;
/// Done, and something is beyond its limit.
pub(crate) const BEYOND: u8 = 1;
/// The command or what it was given is wrong; nothing was done.
pub(crate) const WRONG: u8 = 2;
/// Done with what could be read; something was refused and is listed.
pub(crate) const PARTLY: u8 = 3;
/// The program itself is at fault, or the disk.
pub(crate) const FAULT: u8 = 4;

/// Why a command was not done.
#[derive(Debug)]
pub(crate) enum Failure {
    /// What was asked or given is wrong: what, and the mend.
    Wrong(String, String),
    /// Reading, writing or the program itself failed.
    Fault(String),
}

impl Failure {
    pub(crate) fn wrong(what: impl Into<String>, mend: impl Into<String>) -> Self {
        Failure::Wrong(what.into(), mend.into())
    }

    pub(crate) fn code(&self) -> u8 {
        match self {
            Failure::Wrong(..) => WRONG,
            Failure::Fault(_) => FAULT,
        }
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Failure::Wrong(what, mend) if mend.is_empty() => write!(f, "{what}"),
            Failure::Wrong(what, mend) => write!(f, "{what}\n    mend: {mend}"),
            Failure::Fault(what) => write!(f, "{what}"),
        }
    }
}

/// Writes a line to standard output. A reader who has seen enough and closed the pipe is no fault:
/// the program ends there, quietly.
pub(crate) fn put_line(line: std::fmt::Arguments<'_>) {
    use std::io::Write as _;
    let mut out = std::io::stdout().lock();
    if writeln!(out, "{line}").is_err() {
        std::process::exit(i32::from(DONE));
    }
}

/// `println!` that does not crash on a closed pipe.
macro_rules! put {
    () => { $crate::failure::put_line(format_args!("")) };
    ($($arg:tt)*) => { $crate::failure::put_line(format_args!($($arg)*)) };
}
pub(crate) use put;
