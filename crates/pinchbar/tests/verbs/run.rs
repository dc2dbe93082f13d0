//! Running the program in a folder of its own.

use serde_json::Value;
use std::path::Path;
use std::process::{Command, Output};

/// Exit codes, as `docs/command-line.md` lists them.
pub(crate) const DONE: i32 = 0;
pub(crate) const BEYOND: i32 = 1;
pub(crate) const WRONG: i32 = 2;
pub(crate) const PARTLY: i32 = 3;

/// On a day and a device that are always the same, with no password from outside.
pub(crate) fn command(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_pinchbar"));
    command
        .current_dir(folder)
        .env("PINCHBAR_DEVICE", "vice")
        .env_remove("PINCHBAR_PASSWORD")
        .args(["--today", "2026-11-20"]);
    command
}

pub(crate) fn pinchbar(folder: &Path, args: &[&str]) -> Output {
    command(folder).args(args).output().expect("the program starts")
}

pub(crate) fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("output is UTF-8")
}

/// It ended with this exit code; everything that was printed.
pub(crate) fn ended(args: &[&str], out: &Output, code: i32) -> String {
    let all = format!("{}{}", text(&out.stdout), text(&out.stderr));
    assert_eq!(out.status.code(), Some(code), "{args:?}\n{all}");
    all
}

/// Runs to this exit code; everything that was printed.
pub(crate) fn check(folder: &Path, args: &[&str], code: i32) -> String {
    ended(args, &pinchbar(folder, args), code)
}

pub(crate) fn json(folder: &Path, args: &[&str]) -> Value {
    let mut args = args.to_vec();
    args.push("--json");
    let out = pinchbar(folder, &args);
    serde_json::from_slice(&out.stdout)
        .unwrap_or_else(|e| panic!("{args:?}: {e}\n{}\n{}", text(&out.stdout), text(&out.stderr)))
}
