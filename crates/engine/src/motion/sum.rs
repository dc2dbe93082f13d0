//! Sums as a person writes them: `frame.left.to-cylinder + axlebox.driving.left.front`,
//! `26 in`, `0.5 tread.left + 0.5 tread.right`.

use quantity::{Dimension, Quantity};

/// One term.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Term {
    /// A written quantity, SI, sign included.
    Written(f64),
    /// Factor, sign included, and a name.
    Named(f64, String),
    /// It cannot be read: what, and the mend.
    Fault(String, String),
}

/// The terms of a sum. A plus or minus joins terms when it has a space on both sides, or stands
/// before the first; ids may have dashes in them.
pub(super) fn terms(text: &str, dimension: Dimension) -> Vec<Term> {
    let mut out = Vec::new();
    let mut sign = 1.0;
    let mut words: Vec<&str> = Vec::new();
    let mut any = false;
    for word in text.split_whitespace() {
        any = true;
        match word {
            "+" | "-" | "\u{2212}" => {
                if !words.is_empty() {
                    out.push(term(sign, &words, dimension));
                    words.clear();
                } else if !out.is_empty() {
                    out.push(fault(text, "two signs stand together"));
                }
                sign = if word == "+" { 1.0 } else { -1.0 };
            }
            _ => words.push(word),
        }
    }
    if !any {
        return vec![fault(text, "nothing is written here")];
    }
    if words.is_empty() {
        out.push(fault(text, "nothing stands after the last sign"));
    } else {
        out.push(term(sign, &words, dimension));
    }
    out
}

fn fault(text: &str, what: &str) -> Term {
    Term::Fault(
        format!("\"{text}\": {what}"),
        "write a size with its unit, or names joined by \" + \" and \" - \"".to_owned(),
    )
}

fn term(sign: f64, words: &[&str], dimension: Dimension) -> Term {
    let whole = words.join(" ");
    let refused = match Quantity::parse_as(&whole, dimension) {
        Ok(q) => return Term::Written(sign * q.si()),
        Err(e) => e,
    };
    let (factor, name) = match words {
        [first, name] if first.parse::<f64>().is_ok_and(f64::is_finite) => {
            (first.parse::<f64>().unwrap_or(1.0), *name)
        }
        [name] => (1.0, *name),
        _ => ("nan".parse().unwrap_or(f64::NAN), ""),
    };
    // A name begins with a letter; anything else was meant as a size.
    if factor.is_nan() || !name.starts_with(char::is_alphabetic) {
        return Term::Fault(
            format!("\"{whole}\": {}", refused.reason()),
            refused.hint().to_string(),
        );
    }
    Term::Named(sign * factor, name.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn sizes_names_and_factors() {
        let t = |s: &str| terms(s, Dimension::Length);
        assert_eq!(t("26 in"), [Term::Written(0.6604)]);
        assert_eq!(
            t("a.b-c + d - 16 e.f"),
            [
                Term::Named(1.0, "a.b-c".into()),
                Term::Named(1.0, "d".into()),
                Term::Named(-16.0, "e.f".into())
            ]
        );
        assert_eq!(t("- 0.5 x"), [Term::Named(-0.5, "x".into())]);
        assert_eq!(t("4 ft 2 in - x").len(), 2);
        assert!(matches!(t("8 3/16 inn")[0], Term::Fault(..)));
        assert!(matches!(t("a +")[1], Term::Fault(..)));
        assert!(matches!(t("")[0], Term::Fault(..)));
        assert!(matches!(t("26")[0], Term::Fault(..)));
    }

    proptest! {
        #[test]
        fn no_text_crashes(text in ".{0,60}") {
            prop_assert!(!terms(&text, Dimension::Length).is_empty());
        }
    }
}
