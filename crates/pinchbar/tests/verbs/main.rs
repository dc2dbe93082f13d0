//! Every verb as a person and a script use it: what it prints, what it writes, how it ends.

mod book;
mod engine;
mod motion;
mod run;
mod works;
