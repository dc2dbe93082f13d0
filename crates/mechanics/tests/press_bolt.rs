//! Pressed joints and fitted bolts against published examples, closed forms and conservation.

#![allow(clippy::unwrap_used)] // test code: a failed unwrap is a failed test

#[path = "press_bolt/bolt.rs"]
mod bolt;
#[path = "press_bolt/press.rs"]
mod press;
#[path = "press_bolt/pressing.rs"]
mod pressing;
