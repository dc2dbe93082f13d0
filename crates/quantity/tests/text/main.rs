//! What people write, and what is printed.
#![allow(missing_docs)]

mod printing;
mod properties;
mod reading;
mod refusing;

use quantity::Quantity;

fn read(text: &str) -> Quantity {
    Quantity::parse(text).unwrap_or_else(|e| panic!("{e}\n{}", e.caret()))
}
