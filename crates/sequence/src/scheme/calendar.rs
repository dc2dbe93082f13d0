//! Days, their hours and their crew, and the working minutes that plans are written in.

/// One working day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Day {
    /// Number of the day in the calendar year or from any other start; never falls. Two entries
    /// may share a date: a day whose crew changes at noon is two.
    /// Waits "three days at the foundry" are counted in it, so closed days between are seen.
    pub date: i64,
    /// Minute of the clock at which work begins.
    pub opens_min: u32,
    /// Minutes worked that day.
    pub minutes: u32,
    /// People there.
    pub people: u32,
}

/// The working days, first to last. Plans count *working minutes* from the first day's opening:
/// day 0 is `0..minutes`, day 1 follows on without a gap.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Calendar {
    /// The days in order of date.
    pub days: Vec<Day>,
}

impl Calendar {
    /// So many days on end, each alike, opening at 8 o'clock.
    #[must_use]
    pub fn even(days: usize, minutes: u32, people: u32) -> Self {
        let day = |d: usize| Day { date: d as i64, opens_min: 480, minutes, people };
        Self { days: (0..days).map(day).collect() }
    }

    /// Working minutes of the whole calendar.
    #[must_use]
    pub fn minutes(&self) -> u64 {
        self.days.iter().map(|d| u64::from(d.minutes)).sum()
    }

    /// Working minute at which a day opens.
    #[must_use]
    pub fn opens(&self, day: usize) -> u64 {
        self.days.iter().take(day).map(|d| u64::from(d.minutes)).sum()
    }

    /// Day and minute within it of a working minute; `None` past the end. The last minute of a
    /// day and the first of the next are told apart: `minute == minutes of day 0` is day 1, 0.
    #[must_use]
    pub fn day_of(&self, working_min: u64) -> Option<(usize, u32)> {
        let mut left = working_min;
        for (d, day) in self.days.iter().enumerate() {
            if left < u64::from(day.minutes) {
                return Some((d, left as u32));
            }
            left -= u64::from(day.minutes);
        }
        None
    }

    /// Day in which something that ends at this working minute is over: an end at the close of a
    /// day belongs to that day, not to the next morning.
    #[must_use]
    pub fn day_of_end(&self, working_min: u64) -> Option<(usize, u32)> {
        if working_min == 0 {
            return self.day_of(0);
        }
        self.day_of(working_min - 1).map(|(d, m)| (d, m + 1))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_end_at_closing_time_is_that_day() {
        let c = Calendar::even(2, 480, 2);
        assert_eq!(c.day_of(480), Some((1, 0)));
        assert_eq!(c.day_of_end(480), Some((0, 480)));
        assert_eq!(c.day_of_end(961), None);
    }
}
