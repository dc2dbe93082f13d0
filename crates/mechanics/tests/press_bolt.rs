//! Pressed joints and fitted bolts against published examples, closed forms and conservation.

#![allow(clippy::unwrap_used)] // test code: a failed unwrap is a failed test

#[path = "press_bolt/bolt_holes.rs"]
mod bolt_holes;
#[path = "press_bolt/bolt_making.rs"]
mod bolt_making;
#[path = "press_bolt/bolt_set.rs"]
mod bolt_set;
#[path = "press_bolt/parts.rs"]
mod parts;
#[path = "press_bolt/press.rs"]
mod press;
#[path = "press_bolt/press_laws.rs"]
mod press_laws;
#[path = "press_bolt/pressing.rs"]
mod pressing;
