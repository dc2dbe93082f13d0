//! Sizes worked out from answers: `crank-pin`, `bore + 2 * 1 mm`, `0.5 * (stroke - 3 in)`.

use indexmap::IndexMap;
use quantity::{Dimension, Quantity, Unit};

#[derive(Clone, Copy)]
struct Value {
    si: f64,
    is_length: bool,
}

/// The text of the size: as the person wrote it where the expression is a name alone, else in the
/// unit of the first size named, to a millionth of it.
pub(super) fn evaluate(
    expression: &str,
    sizes: &IndexMap<&str, &Quantity>,
) -> Result<String, String> {
    let expression = expression.trim();
    if let Some(q) = sizes.get(expression) {
        return Ok(q.text().to_owned());
    }
    let mut reader = Reader { rest: expression, sizes, unit: None, depth: 0 };
    let value = reader.sum()?;
    if !reader.rest.trim().is_empty() {
        return Err(format!("\"{}\" is left over in \"{expression}\"", reader.rest.trim()));
    }
    if !value.is_length || !value.si.is_finite() {
        return Err(format!("\"{expression}\" is not a length"));
    }
    let unit = reader.unit.or_else(|| Unit::find("mm")).ok_or("no unit")?;
    let figure = format!("{:.6}", unit.from_si(value.si));
    let figure = figure.trim_end_matches('0').trim_end_matches('.');
    Ok(format!("{} {}", if figure == "-0" { "0" } else { figure }, unit.symbol()))
}

struct Reader<'a> {
    rest: &'a str,
    sizes: &'a IndexMap<&'a str, &'a Quantity>,
    unit: Option<Unit>,
    depth: usize,
}

impl Reader<'_> {
    /// The next sign, when it is one of those wanted and stands alone as a word or a bracket.
    fn sign(&mut self, wanted: &[char]) -> Option<char> {
        let rest = self.rest.trim_start();
        let c = rest.chars().next().filter(|c| wanted.contains(c))?;
        self.rest = &rest[c.len_utf8()..];
        Some(c)
    }

    fn sum(&mut self) -> Result<Value, String> {
        let mut total = self.product()?;
        while let Some(sign) = self.sign(&['+', '-']) {
            let next = self.product()?;
            if next.is_length != total.is_length {
                return Err("a bare number and a length cannot be added; write the unit".to_owned());
            }
            total.si += if sign == '+' { next.si } else { -next.si };
        }
        Ok(total)
    }

    fn product(&mut self) -> Result<Value, String> {
        let mut total = self.single()?;
        while self.sign(&['*']).is_some() {
            let next = self.single()?;
            if next.is_length && total.is_length {
                return Err("two lengths cannot be multiplied here".to_owned());
            }
            total = Value { si: total.si * next.si, is_length: total.is_length || next.is_length };
        }
        Ok(total)
    }

    fn single(&mut self) -> Result<Value, String> {
        if self.sign(&['(']).is_some() {
            self.depth += 1;
            if self.depth > 50 {
                return Err("brackets too deep".to_owned());
            }
            let value = self.sum()?;
            self.depth -= 1;
            return match self.sign(&[')']) {
                Some(_) => Ok(value),
                None => Err("a bracket is not closed".to_owned()),
            };
        }
        // A word runs to the next bracket, star, or sign that stands between spaces, so that
        // names may have dashes and sizes be written "8 3/16 in".
        let rest = self.rest.trim_start();
        let end = rest
            .char_indices()
            .find(|(i, c)| {
                matches!(c, '*' | '(' | ')')
                    || (matches!(c, '+' | '-') && *i > 0 && rest[..*i].ends_with(' '))
            })
            .map_or(rest.len(), |(i, _)| i);
        let word = rest[..end].trim();
        self.rest = &rest[end..];
        if let Some(q) = self.sizes.get(word) {
            self.unit.get_or_insert(q.unit());
            return Ok(Value { si: q.si(), is_length: true });
        }
        if let Ok(number) = word.parse::<f64>() {
            return Ok(Value { si: number, is_length: false });
        }
        match Quantity::parse_as(word, Dimension::Length) {
            Ok(q) => {
                self.unit.get_or_insert(q.unit());
                Ok(Value { si: q.si(), is_length: true })
            }
            Err(_) => Err(format!("\"{word}\" is neither a size asked for nor a length")),
        }
    }
}
