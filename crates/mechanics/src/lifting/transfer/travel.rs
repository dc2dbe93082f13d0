//! The whole slide, and the places where something changes.

use super::super::error::{LiftingError, check_count};
use super::{Stage, StageState, Transfer, transfer_stage};

/// A place of the slide at which the part comes to stand otherwise.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TransferEvent {
    /// How far it has slid, m.
    pub slid_m: f64,
    /// How it stood before.
    pub before: StageState,
    /// How it stands after.
    pub after: StageState,
}

/// Stages from seated to just off the seat, evenly spaced, the last one off.
///
/// # Errors
/// As [`transfer_stage`]; fewer than 2 or more than 10 000 stages.
pub fn transfer_stages(transfer: &Transfer, stages: usize) -> Result<Vec<Stage>, LiftingError> {
    check_count("stages", stages, (2, 10_000))?;
    transfer.check()?;
    let travel = transfer.travel_m();
    (0..stages).map(|i| transfer_stage(transfer, travel * i as f64 / (stages - 1) as f64)).collect()
}

/// Where the part comes to stand otherwise during the slide, each place to a micrometre.
///
/// The slide is looked at in 2000 even steps and every change is closed in on by halving; a state
/// that comes and goes within one step is not seen.
///
/// # Errors
/// As [`transfer_stage`].
pub fn transfer_events(transfer: &Transfer) -> Result<Vec<TransferEvent>, LiftingError> {
    let all = transfer_stages(transfer, 2001)?;
    let mut events = Vec::new();
    for pair in all.windows(2) {
        let [mut low, mut high] = [pair[0], pair[1]];
        if low.state == high.state {
            continue;
        }
        while high.slid_m - low.slid_m > 1e-6 {
            let middle = transfer_stage(transfer, 0.5 * (low.slid_m + high.slid_m))?;
            if middle.state == low.state {
                low = middle;
            } else {
                high = middle;
            }
        }
        events.push(TransferEvent { slid_m: high.slid_m, before: low.state, after: high.state });
    }
    Ok(events)
}
