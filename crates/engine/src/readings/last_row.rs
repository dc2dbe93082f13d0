//! What the cells of the row before gave: in most columns of a sheet the next row has the same again.

use super::table::Fault;
use crate::model::{Date, GaugeIx, PersonIx};

/// One for each column in which it pays.
#[derive(Default)]
pub(super) struct LastRow {
    pub(super) gauge: LastCell<GaugeIx>,
    pub(super) by: LastCell<PersonIx>,
    pub(super) when: LastCell<Date>,
    pub(super) temperature: LastCell<f32>,
}

pub(super) struct LastCell<T> {
    text: String,
    value: Option<T>,
}

impl<T> Default for LastCell<T> {
    fn default() -> Self {
        LastCell { text: String::new(), value: None }
    }
}

impl<T: Copy> LastCell<T> {
    pub(super) fn read(
        &mut self,
        text: &str,
        read: impl FnOnce() -> Result<T, Fault>,
    ) -> Result<T, Fault> {
        if let Some(value) = self.value
            && self.text == text
        {
            return Ok(value);
        }
        let value = read()?;
        self.text.clear();
        self.text.push_str(text);
        self.value = Some(value);
        Ok(value)
    }
}
