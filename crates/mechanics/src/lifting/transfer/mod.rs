//! Load transfer: what seat, crane and hands carry while a strap, rod or piston slides off its seat.
//!
//! Places run along the part's axis, positive outwards, on a scale fixed to the engine; the part's
//! own places are what they are before it moves. Forces are positive upwards.

mod release;
mod smooth;
mod stage;
mod travel;

pub use release::{Release, ReleaseInput, release};
pub use smooth::{SmoothHook, SmoothLimit, smooth_hook};
pub use stage::{
    Hands, Hook, HookKeep, PartEnd, Seat, SeatHold, Stage, StageState, Transfer, transfer_stage,
};
pub use travel::{TransferEvent, transfer_events, transfer_stages};
