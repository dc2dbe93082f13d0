//! Reading `60 H7/s6`, `H7`, `js6`, `2 in H7/s6`: the symbols as a drawing writes them.

use super::{Fit, Grade, Letter, Member, SymbolError, Zone};

/// What a symbol says: a size if it gives one, and a class for either member or both.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Symbol {
    /// Nominal size (m), when the text gives one.
    pub size_m: Option<f64>,
    /// The hole's class.
    pub hole: Option<Zone>,
    /// The shaft's class.
    pub shaft: Option<Zone>,
}

impl Symbol {
    /// The fit, when both members are given.
    pub fn fit(&self) -> Option<Fit> {
        let (hole, shaft) = (self.hole?, self.shaft?);
        Some(Fit::new((hole.letter, hole.grade), (shaft.letter, shaft.grade)))
    }
}

/// Read a tolerance class or a fit, with or without a size before it.
///
/// Form: `[size [mm|in|"]] class [/ class]`; the size is in millimetres unless marked, a comma
/// may stand for the point, a diameter sign (Ø, ⌀) may come first, a hyphen may stand for the
/// solidus as on older drawings. In a fit the hole comes first. The grade is `01`, `0` or `1` to
/// `18`. Whether the class exists at the size is the business of [`Zone::limits`].
///
/// Source: ISO 286-1:2010, clause 4.3 (the designations); inch sizes and the hyphen are common
/// practice.
///
/// # Errors
/// [`SymbolError`] with the position of the character at fault.
pub fn parse_symbol(text: &str) -> Result<Symbol, SymbolError> {
    if text.chars().count() > 64 {
        let start: String = text.chars().take(64).collect();
        return Err(SymbolError { text: start, at: 64, message: "symbol is too long".into() });
    }
    let mut reader = Reader { text, chars: text.chars().collect(), at: 0 };
    reader.skip_space();
    let size_m = reader.size()?;
    reader.skip_space();
    let first = reader.zone()?;
    reader.skip_space();
    let mut symbol = Symbol { size_m, hole: None, shaft: None };
    if reader.peek().is_some() {
        if first.member == Member::Shaft {
            return Err(match reader.peek() {
                Some('/' | '-') => {
                    reader.fail("nothing after a shaft (the hole, in capitals, comes first)")
                }
                _ => reader.fail("the end of the symbol"),
            });
        }
        if !matches!(reader.peek(), Some('/' | '-')) {
            return Err(reader.fail("'/' or the end of the symbol"));
        }
        reader.at += 1;
        reader.skip_space();
        let start = reader.at;
        let second = reader.zone()?;
        if second.member == Member::Hole {
            reader.at = start;
            return Err(reader.fail("a shaft's class, in small letters"));
        }
        symbol.shaft = Some(second);
        reader.skip_space();
        if reader.peek().is_some() {
            return Err(reader.fail("the end of the symbol"));
        }
    }
    match first.member {
        Member::Hole => symbol.hole = Some(first),
        Member::Shaft => symbol.shaft = Some(first),
    }
    Ok(symbol)
}

struct Reader<'a> {
    text: &'a str,
    chars: Vec<char>,
    at: usize,
}

impl Reader<'_> {
    fn peek(&self) -> Option<char> {
        self.chars.get(self.at).copied()
    }

    fn skip_space(&mut self) {
        while self.peek().is_some_and(char::is_whitespace) {
            self.at += 1;
        }
    }

    fn fail(&self, expected: &str) -> SymbolError {
        let found = self.peek().map_or("nothing".to_owned(), |c| format!("'{c}'"));
        SymbolError {
            text: self.text.to_owned(),
            at: self.at,
            message: format!("expected {expected}, found {found}"),
        }
    }

    fn size(&mut self) -> Result<Option<f64>, SymbolError> {
        let marked = matches!(self.peek(), Some('Ø' | 'ø' | '⌀'));
        if marked {
            self.at += 1;
            self.skip_space();
        }
        let start = self.at;
        let mut number = String::new();
        let mut points = 0;
        while let Some(c) = self.peek() {
            match c {
                '0'..='9' => number.push(c),
                '.' | ',' => {
                    points += 1;
                    number.push('.');
                }
                _ => break,
            }
            if points > 1 {
                return Err(self.fail("one decimal point only"));
            }
            self.at += 1;
        }
        if number.is_empty() {
            return if marked { Err(self.fail("a size")) } else { Ok(None) };
        }
        let value: f64 = match number.parse() {
            Ok(value) if value > 0.0 => value,
            _ => {
                self.at = start;
                return Err(self.fail("a size above 0"));
            }
        };
        let spaced = self.at;
        self.skip_space();
        let unit_m = match (self.peek(), self.chars.get(self.at + 1)) {
            (Some('"'), _) => {
                self.at += 1;
                0.0254
            }
            (Some('i'), Some('n')) => {
                self.at += 2;
                0.0254
            }
            (Some('m'), Some('m')) => {
                self.at += 2;
                1e-3
            }
            _ => {
                self.at = spaced;
                1e-3
            }
        };
        Ok(Some(value * unit_m))
    }

    fn zone(&mut self) -> Result<Zone, SymbolError> {
        let start = self.at;
        let mut letters = String::new();
        while let Some(c) = self.peek().filter(char::is_ascii_alphabetic) {
            if let Some(first) = letters.chars().next()
                && first.is_ascii_uppercase() != c.is_ascii_uppercase()
            {
                return Err(self.fail("both letters in the same case (capitals hole, small shaft)"));
            }
            letters.push(c);
            self.at += 1;
        }
        if letters.is_empty() {
            return Err(self.fail("a tolerance class such as H7 or s6"));
        }
        let member = if letters.chars().all(|c| c.is_ascii_uppercase()) {
            Member::Hole
        } else {
            Member::Shaft
        };
        let Some(letter) = Letter::ALL.into_iter().find(|l| l.text(member) == letters) else {
            self.at = start;
            let pair_is_wrong =
                letters.len() > 1 && Letter::ALL.iter().any(|l| l.text(member) == &letters[..1]);
            if pair_is_wrong {
                self.at += 1;
            }
            return Err(self.fail(
                "a deviation of ISO 286 (A to ZC or a to zc; i, l, o, q and w are not used)",
            ));
        };
        let grade = self.grade()?;
        Ok(Zone { member, letter, grade })
    }

    fn grade(&mut self) -> Result<Grade, SymbolError> {
        let start = self.at;
        let mut digits = String::new();
        while let Some(c) = self.peek().filter(char::is_ascii_digit) {
            digits.push(c);
            self.at += 1;
        }
        let grade = match digits.as_str() {
            "01" => Some(Grade::IT01),
            d if d.len() > 1 && d.starts_with('0') => None,
            d => d.parse::<u8>().ok().and_then(Grade::it),
        };
        grade.ok_or_else(|| {
            self.at = start;
            self.fail("a grade (01, or 0 to 18)")
        })
    }
}
