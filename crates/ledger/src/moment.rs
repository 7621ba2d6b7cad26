//! The time of an entry, handed in by the caller: the ledger reads no clock.

use jiff::{Timestamp, ZonedDateTime};

use crate::Error;

/// A time with its offset from UTC, as text such as `2026-03-03T08:00:04+01:00`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Moment {
    text: String,
    at: Timestamp,
}

/// A leap of more than a day is marked: the clock of a shop computer with a flat battery leaps.
const MOST_LEAP_S: i64 = 24 * 60 * 60;

impl Moment {
    /// Reads a time with its offset from UTC.
    ///
    /// # Errors
    /// [`Error::Time`] if the text is not such a time.
    pub fn parse(text: &str) -> Result<Self, Error> {
        let text = text.trim();
        match text.parse() {
            Ok(at) => Ok(Self {
                text: text.to_owned(),
                at,
            }),
            Err(why) => Err(Error::Time {
                read: text.to_owned(),
                why: why.to_string(),
            }),
        }
    }

    /// The text as it was handed in.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.text
    }

    /// Whether the clock is doubtful against the entry before: it went back, or leapt more than
    /// a day.
    #[must_use]
    pub fn doubtful_after(&self, before: &Self) -> bool {
        let step_s = self.at.as_second() - before.at.as_second();
        self.at < before.at || step_s > MOST_LEAP_S
    }
}

impl From<&ZonedDateTime> for Moment {
    fn from(time: &ZonedDateTime) -> Self {
        Self {
            text: time.strftime("%Y-%m-%dT%H:%M:%S%:z").to_string(),
            at: time.timestamp(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn moment(text: &str) -> Moment {
        Moment::parse(text).unwrap()
    }

    #[test]
    fn law_the_clock_is_doubtful_when_it_goes_back_or_leaps_a_day() {
        let noon = moment("2026-03-03T12:00:00+01:00");
        assert!(!moment("2026-03-03T12:00:00+01:00").doubtful_after(&noon));
        assert!(!moment("2026-03-04T12:00:00+01:00").doubtful_after(&noon));
        assert!(moment("2026-03-04T12:00:01+01:00").doubtful_after(&noon));
        assert!(moment("2026-03-03T11:59:59+01:00").doubtful_after(&noon));
        assert!(moment("1970-01-01T00:00:00Z").doubtful_after(&noon));
    }

    #[test]
    fn law_summer_time_is_no_doubt() {
        // The wall clock goes back an hour; the offset says why.
        let before = moment("2026-10-25T02:59:00+02:00");
        assert!(!moment("2026-10-25T02:01:00+01:00").doubtful_after(&before));
    }

    #[test]
    fn law_a_time_without_offset_is_refused() {
        for text in ["", "2026-03-03T12:00:00", "yesterday", "12:00"] {
            assert!(Moment::parse(text).is_err(), "{text} was taken");
        }
    }
}
