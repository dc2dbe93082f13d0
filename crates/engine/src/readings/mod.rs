//! Readings as they arrive: a table that a spreadsheet saved, or lines in the engine's own file.

mod by_hand;
mod direction;
mod last_row;
mod own;
mod rows;
mod strike;
mod table;

pub use by_hand::ByHand;
pub use direction::parse_direction;
pub use own::add_own_readings;
pub use rows::MAX_ROW_BYTES;
pub use table::{Refused, Sheet, TableRead, read_sheet, read_table};

pub(crate) use strike::strike_out;
