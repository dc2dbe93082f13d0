//! The book as a whole. Everything that a store must do is asked of every store by one suite.

mod carried;
mod rules;
mod stores;
mod whole;
