//! The page server: one engine's book as pages for the laptop by the vice and the phone in an oily
//! pocket, and the same as JSON for other programs.
//!
//! It asks and shows. Judging is the `engine` crate's, rules about who may say what are the
//! `book`'s, sheets are `paper`'s, pictures are `drawing`'s; nothing of theirs is done again here.
//! Every page is whole without script; the one small script only makes it quicker.
//!
//! Layout:
//! - [`Bench`] (`state`): the book behind one lock, and the snapshot that readers share;
//!   `snapshot`, `timeline` and `gear` are what is in a snapshot;
//! - `visit` (who asks, with what) and `posted` (a form, checked) are what a handler is given;
//!   `trouble` is what it gives back when it cannot do it; `guard` is around all of them;
//! - `session`, `throttle`: who is signed in, and who tried too often;
//! - `layout`, `marks`, `pieces`, `drawings`, `assets`: what a page is made of;
//! - `order`: which works somebody wants before others, kept in the sheets of days;
//! - `said`: what can be said, one table for forms and JSON;
//! - `pages`: one module a page; `gauging`: the phone page; `api`: the same as JSON;
//! - `serve`, `encrypted_only`, `certificate`: the socket, and the certificate for other machines.
//!
//! Invariants:
//! - whatever changes the book goes through the book's rules, in its lock, under a person's name;
//! - no path is ever built from what a client sent;
//! - words for a person go out, causes go to the log;
//! - the clock is an argument ([`Settings::clock`]).

mod api;
mod assets;
mod certificate;
mod drawings;
mod encrypted_only;
mod fields;
mod gauging;
mod guard;
mod layout;
mod marks;
mod order;
mod pages;
mod pieces;
mod posted;
mod said;
mod serve;
mod session;
mod snapshot;
mod state;
mod throttle;
mod timeline;
mod trouble;
mod visit;

pub use certificate::{Certificate, CertificateError, fingerprint};
pub use guard::app;
pub use serve::{ServeError, may_leave_this_machine, serve};
pub use state::{Bench, Reach, Settings};
