//! What a duty says of the bolt itself: head, thread, security, names of the members.

use crate::design::ask::Ask;
use mechanics::bolt::{Head, Security, Thread};

pub(super) fn names(ask: &mut Ask<'_>, n: usize) -> Vec<String> {
    let given = ask.maybe_texts("member-names").unwrap_or(&[]);
    (0..n).map(|i| given.get(i).cloned().unwrap_or_else(|| format!("member {}", i + 1))).collect()
}

pub(super) fn head(ask: &mut Ask<'_>) -> Option<Head> {
    let word = ask.text("head");
    let across_m = ask.one("head-across");
    if word == Some("countersunk") {
        let angle_rad = ask.one("head-angle");
        return Some(Head::Countersunk { diameter_m: across_m?, angle_rad: angle_rad? });
    }
    let height_m = ask.one("head-height");
    let (word, across_m, height_m) = (word?, across_m?, height_m?);
    Some(match word {
        "square" => Head::Square { across_m, height_m },
        "round" => Head::Round { diameter_m: across_m, height_m },
        _ => Head::Hexagon { across_m, height_m },
    })
}

pub(super) fn thread(ask: &mut Ask<'_>) -> Option<Thread> {
    let major_m = ask.one("thread-major");
    let pitch_m = ask.one("thread-pitch");
    let length_m = ask.one("thread-length");
    let run_out_m = ask.one("thread-run-out");
    Some(Thread {
        major_m: major_m?,
        pitch_m: pitch_m?,
        length_m: length_m?,
        run_out_m: run_out_m?,
    })
}

pub(super) fn security(ask: &mut Ask<'_>) -> Option<Security> {
    Some(match ask.text("security")? {
        "split pin" => Security::SplitPin { hole_m: ask.one("security-size")? },
        "cotter" => Security::Cotter { size_m: ask.one("security-size")? },
        "lock nut" => Security::LockNut,
        "locking plate" => Security::LockingPlate,
        _ => Security::None,
    })
}
