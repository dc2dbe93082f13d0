//! Pure engineering for steam-locomotive running gear: plain inputs, plain results.
//!
//! No I/O, no clock, no global state, no knowledge of engines, books or screens. Every bare
//! number carries its SI unit in its name (`stroke_m`, `pressure_pa`).
//! One module a subject.

pub mod balance;
pub mod bearing;
pub mod bolt;
pub mod fits;
pub mod lifting;
pub mod lining;
pub mod loads;
pub mod metrology;
pub mod motion;
pub mod press;
mod range;
pub mod stack;
pub mod wedge;
