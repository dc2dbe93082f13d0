//! Named texts from a form or an address.

use crate::trouble::Trouble;

/// Fields, in the order they were sent; a name may stand more than once.
#[derive(Clone, Debug, Default)]
pub(crate) struct Fields(Vec<(String, String)>);

impl Fields {
    /// From `a=1&b=2`.
    pub(crate) fn parse(text: &[u8]) -> Fields {
        Fields(form_urlencoded::parse(text).into_owned().take(500).collect())
    }

    /// A field, without space around it; empty when it was not sent.
    pub(crate) fn get(&self, name: &str) -> &str {
        self.0.iter().find(|(n, _)| n == name).map_or("", |(_, v)| v.trim())
    }

    /// A field exactly as it was sent.
    pub(crate) fn exactly(&self, name: &str) -> &str {
        self.0.iter().find(|(n, _)| n == name).map_or("", |(_, v)| v)
    }

    /// A field of one line, or `None` when it was left empty.
    pub(crate) fn given(&self, name: &str) -> Option<&str> {
        Some(self.get(name)).filter(|v| !v.is_empty())
    }

    /// A field that must not be empty.
    pub(crate) fn wanted(&self, name: &str, what: &str) -> Result<String, Trouble> {
        self.given(name)
            .map(str::to_owned)
            .ok_or_else(|| Trouble::wrong(format!("{what} is not given"), "fill it in"))
    }

    /// All fields of a name.
    pub(crate) fn all<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a str> {
        self.0.iter().filter(move |(n, _)| n == name).map(|(_, v)| v.trim())
    }

    /// All fields whose name begins so: the rest of the name, and the value.
    pub(crate) fn beginning<'a>(
        &'a self,
        with: &'a str,
    ) -> impl Iterator<Item = (&'a str, &'a str)> {
        self.0.iter().filter_map(move |(n, v)| n.strip_prefix(with).map(|rest| (rest, v.trim())))
    }

    /// Ticked.
    pub(crate) fn ticked(&self, name: &str) -> bool {
        !self.get(name).is_empty()
    }

    pub(crate) fn push(&mut self, name: &str, value: String) {
        self.0.push((name.to_owned(), value));
    }
}

/// A figure that names no unit, with one.
pub(crate) fn with_unit(figure: &str, unit: &str) -> String {
    let bare =
        !figure.chars().any(char::is_alphabetic) && !figure.contains(['"', '\'', '″', '′', '%']);
    if bare { format!("{figure} {unit}") } else { figure.to_owned() }
}
