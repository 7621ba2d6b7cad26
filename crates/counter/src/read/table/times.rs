//! The times of weighing, kept as written and never trusted: order comes from the rows.

use jiff::civil::DateTime;
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};

/// Goes along the rows and doubts a time that lies ahead of now, goes back, or is none.
#[derive(Debug, Clone)]
pub struct Clock {
    now: Option<Timestamp>,
    last: Option<Timestamp>,
}

/// A clock without an offset may stand anywhere on the earth: that far ahead is not doubted.
const WITHOUT_OFFSET: SignedDuration = SignedDuration::from_hours(14);
/// Clocks of two machines differ by minutes without anybody noticing.
const LEEWAY: SignedDuration = SignedDuration::from_mins(10);

impl Clock {
    /// Starts before the first row. Without a `now` nothing is found to lie in the future.
    #[must_use]
    pub fn new(now: Option<Timestamp>) -> Self {
        Self { now, last: None }
    }

    /// Why the time of the next row is doubted; none if it is not.
    pub fn doubt(&mut self, text: &str) -> Option<String> {
        let Some((time, leeway)) = read(text) else {
            return Some("it cannot be read as a date and time".to_owned());
        };
        let now = self.now.and_then(|now| now.checked_add(leeway).ok());
        if now.is_some_and(|now| time > now) {
            return Some("it lies in the future".to_owned());
        }
        if self.last.is_some_and(|last| time < last) {
            return Some("it goes back behind the row before".to_owned());
        }
        self.last = Some(time);
        None
    }
}

/// The moment, and how far it may lie ahead of now without being doubted.
fn read(text: &str) -> Option<(Timestamp, SignedDuration)> {
    if let Ok(time) = text.parse::<Timestamp>() {
        return Some((time, LEEWAY));
    }
    let civil: DateTime = text.parse().ok()?;
    let time = TimeZone::UTC.to_timestamp(civil).ok()?;
    Some((time, WITHOUT_OFFSET))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_times_and_doubts_what_cannot_be() {
        let now: Timestamp = "2026-03-04T00:00:00Z".parse().expect("a time");
        let mut clock = Clock::new(Some(now));
        let mut said = |text: &str| clock.doubt(text).unwrap_or_default();
        assert_eq!(said("2026-03-03T08:00:00+01:00"), "");
        assert_eq!(said("2031-03-03T08:00:04+01:00"), "it lies in the future");
        assert_eq!(said("2026-03-03T08:00:08+01:00"), "");
        assert_eq!(said("2026-03-03 07:00:09"), "");
        assert_eq!(
            said("2026-03-03T07:59:00+01:00"),
            "it goes back behind the row before"
        );
        assert_eq!(
            said("half past eight"),
            "it cannot be read as a date and time"
        );
        assert_eq!(Clock::new(None).doubt("2031-03-03"), None);
    }
}
