//! One raw figure, kept small: an engine may have a million of them.

use super::names::{FeatureIx, GaugeIx, PersonIx};
use std::fmt;

/// Station not given.
pub const STATION_UNSAID: u16 = u16::MAX;
/// Direction not given.
pub const DIRECTION_UNSAID: f64 = f64::NEG_INFINITY;

/// How a reading was taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ReadingKind {
    /// Between two points: a diameter, a thickness, a distance.
    Across,
    /// Dial or trace: deviation of the radius at a direction.
    Dial,
}

/// A raw figure.
#[derive(Clone, Debug)]
pub struct Reading {
    /// The figure as written, unit and all.
    pub text: Box<str>,
    /// In metres (radians for angles).
    pub si: f64,
    /// Size of the last figure as written, metres.
    pub resolution_si: f64,
    /// Direction around the axis, radians; [`DIRECTION_UNSAID`] when not given.
    pub direction_rad: f64,
    /// Temperature of the part, degrees Celsius, if given.
    pub temperature_c: Option<f32>,
    /// Feature.
    pub feature: FeatureIx,
    /// Gauge, if given.
    pub gauge: Option<GaugeIx>,
    /// Person, if given.
    pub by: Option<PersonIx>,
    /// Day.
    pub when: Option<Date>,
    /// Station; [`STATION_UNSAID`] when not given.
    pub station: u16,
    /// Times taken with this mean.
    pub repeats: u16,
    /// How.
    pub kind: ReadingKind,
    /// Which file it came from (position in the caller's list) and row there, from 1.
    pub file: u16,
    /// Row in that file.
    pub row: u32,
    /// Struck out by a person.
    pub struck: bool,
}

/// A civil day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date(jiff::civil::Date);

impl Date {
    /// From year, month and day.
    ///
    /// # Errors
    /// No such day.
    pub fn new(year: i16, month: i8, day: i8) -> Result<Date, String> {
        jiff::civil::Date::new(year, month, day)
            .map(Date)
            .map_err(|_| format!("there is no day {year:04}-{month:02}-{day:02}"))
    }

    /// From `2025-03-14` or, as a spreadsheet writes it here, `14/03/2025` or `14.03.2025` (day
    /// first: a month-first date cannot be told from it and is refused only when it cannot be
    /// day-first).
    ///
    /// # Errors
    /// Says what is wrong and the form wanted.
    pub fn parse(text: &str) -> Result<Date, String> {
        if let Some(date) = Date::plain(text.as_bytes()) {
            return Ok(date);
        }
        let wrong = || format!("\"{text}\" is not a day; write it 2025-03-14");
        let split: Vec<&str> = text.trim().split(['-', '/', '.']).collect();
        let [a, b, c] = split.as_slice() else { return Err(wrong()) };
        let number = |s: &str| s.parse::<i16>().map_err(|_| wrong());
        let (year, month, day) = if a.len() == 4 {
            (number(a)?, number(b)?, number(c)?)
        } else if c.len() == 4 {
            (number(c)?, number(b)?, number(a)?)
        } else {
            return Err(wrong());
        };
        let small = |n: i16| i8::try_from(n).map_err(|_| wrong());
        Date::new(year, small(month)?, small(day)?)
    }

    /// From `2025-03-14` and nothing else.
    fn plain(text: &[u8]) -> Option<Date> {
        let [a, b, c, d, b'-', e, f, b'-', g, h] = text else { return None };
        let figures = [a, b, c, d, e, f, g, h];
        if !figures.iter().all(|b| b.is_ascii_digit()) {
            return None;
        }
        let [a, b, c, d, e, f, g, h] = figures.map(|b| i16::from(b - b'0'));
        let small = |tens: i16, ones: i16| (10 * tens + ones) as i8;
        Date::new(1000 * a + 100 * b + 10 * c + d, small(e, f), small(g, h)).ok()
    }

    /// Days from one to another.
    pub fn days_until(self, other: Date) -> i64 {
        i64::from((other.0 - self.0).get_days())
    }

    /// So many days later, or earlier; the last day there is where it would run past it.
    #[must_use]
    pub fn plus_days(self, days: i64) -> Date {
        Date(self.0.saturating_add(jiff::Span::new().days(days.clamp(-4_000_000, 4_000_000))))
    }

    /// Day of the week, Monday first, 0 to 6.
    pub fn weekday(self) -> usize {
        usize::from(self.0.weekday().to_monday_zero_offset().unsigned_abs())
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_read_as_they_are_written() {
        assert_eq!(Date::parse("2025-03-14"), Date::new(2025, 3, 14));
        assert_eq!(Date::parse(" 14/03/2025"), Date::new(2025, 3, 14));
        assert_eq!(Date::parse("14.3.2025"), Date::new(2025, 3, 14));
        assert_eq!(Date::parse("2024-02-29"), Date::new(2024, 2, 29));
        for wrong in ["2025-02-29", "2025-13-01", "2025-00-10", "2025-3", "20a5-03-14", ""] {
            assert!(Date::parse(wrong).is_err(), "{wrong}");
        }
    }
}
