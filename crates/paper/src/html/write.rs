//! Writing HTML so that no word of a person is ever read as markup.

use crate::content::Pair;
use crate::text::Words;

/// A page being written.
#[derive(Default)]
pub(super) struct Html {
    out: String,
}

impl Html {
    /// Markup of the program's own.
    pub(super) fn raw(&mut self, markup: &str) -> &mut Self {
        self.out.push_str(markup);
        self
    }

    /// A text.
    pub(super) fn text(&mut self, text: &str) -> &mut Self {
        for c in text.chars() {
            match c {
                '&' => self.out.push_str("&amp;"),
                '<' => self.out.push_str("&lt;"),
                '>' => self.out.push_str("&gt;"),
                '"' => self.out.push_str("&quot;"),
                '\'' => self.out.push_str("&#39;"),
                c => self.out.push(c),
            }
        }
        self
    }

    /// An element with a text in it.
    pub(super) fn element(&mut self, name: &str, text: &str) -> &mut Self {
        self.raw("<").raw(name).raw(">").text(text).raw("</").raw(name).raw(">")
    }

    /// A heading with a text.
    pub(super) fn heading(&mut self, level: u8, text: &str) -> &mut Self {
        self.element(&format!("h{level}"), text).raw("\n")
    }

    /// An id or a figure as written.
    pub(super) fn code(&mut self, words: &Words) -> &mut Self {
        self.element("code", words.text())
    }

    /// A text on a line of its own in a cell, smaller; nothing when there is none.
    pub(super) fn under(&mut self, words: &str) -> &mut Self {
        if words.is_empty() { self } else { self.raw("<br>").element("small", words) }
    }

    /// A verdict: its sign, which does not rest on colour, and its word.
    pub(super) fn verdict(&mut self, word: &str) -> &mut Self {
        let class = if word == "beyond" { "verdict beyond" } else { "verdict" };
        self.raw("<span class=\"").raw(class).raw("\">");
        self.text(engine::view::verdict_sign(word)).text(" ").text(word).raw("</span>")
    }

    /// Both systems.
    pub(super) fn pair(&mut self, pair: &Pair) -> &mut Self {
        self.raw("<span class=\"figure\">").text(&pair.metric).raw("<br>");
        self.element("small", &pair.imperial).raw("</span>")
    }

    /// A table's beginning, up to its first row.
    pub(super) fn table(&mut self, columns: &[&str]) -> &mut Self {
        self.raw("<div class=\"wide\"><table><thead><tr>");
        for c in columns {
            self.element("th", c);
        }
        self.raw("</tr></thead><tbody>\n")
    }

    /// A table's end.
    pub(super) fn end_table(&mut self) -> &mut Self {
        self.raw("</tbody></table></div>\n")
    }

    /// A row of cells, each written by a function.
    pub(super) fn row(&mut self, cells: &[&dyn Fn(&mut Html)]) -> &mut Self {
        self.raw("<tr>");
        for cell in cells {
            self.raw("<td>");
            cell(self);
            self.raw("</td>");
        }
        self.raw("</tr>\n")
    }

    /// A list; nothing when there are no items.
    pub(super) fn list(&mut self, items: &[Words]) -> &mut Self {
        if items.is_empty() {
            return self;
        }
        self.raw("<ul>");
        for item in items {
            self.element("li", item.text());
        }
        self.raw("</ul>\n")
    }

    /// The page.
    pub(super) fn finish(self) -> String {
        self.out
    }
}
