//! Why something is not the log of a piece that slows down.

/// The fewest readings a log is taken from: three unknowns, and five more to judge the fit by.
pub const LEAST_READINGS: usize = 8;

/// Why something is not the log of a piece that slows down.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NotALog {
    /// No reading at all.
    #[error("the log is empty: at least {LEAST_READINGS} readings of time and speed are wanted")]
    Empty,
    /// Too few readings.
    #[error(
        "the log holds {count} usable reading(s); at least {LEAST_READINGS} are wanted, spread over the fall: log \
         longer, or read more often"
    )]
    TooFew {
        /// How many there are.
        count: usize,
    },
    /// Two columns of different lengths.
    #[error("there are {times} times and {speeds} speeds; one speed a time is wanted")]
    Lengths {
        /// How many times.
        times: usize,
        /// How many speeds.
        speeds: usize,
    },
    /// Not a number.
    #[error("the {what} of reading {reading} is not a number: mend or remove that line")]
    NotANumber {
        /// Which reading, from 1.
        reading: usize,
        /// Time, speed or pulse.
        what: &'static str,
    },
    /// All at the same time.
    #[error("every reading has the time {time_s} s: is the column of times the right one?")]
    OneTime {
        /// That time, s.
        time_s: f64,
    },
    /// The clock starts again.
    #[error(
        "at reading {reading} the time goes back from {before_s} s to {time_s} s: these are two logs in one; \
         give each in a file of its own"
    )]
    TwoLogs {
        /// Which reading, from 1.
        reading: usize,
        /// Its time, s.
        time_s: f64,
        /// The time before it, s.
        before_s: f64,
    },
    /// Out of order in a log too long to be sorted.
    #[error(
        "reading {reading} ({time_s} s) is earlier than the one before it; a log of more than {held} readings is \
         averaged as it comes and must be in order of time: sort the file"
    )]
    OutOfOrder {
        /// Which reading, from 1.
        reading: usize,
        /// Its time, s.
        time_s: f64,
        /// How many readings are held to be sorted.
        held: usize,
    },
    /// Speeds of both signs, or too many at nought.
    #[error(
        "{count} of {readings} speeds are nought or negative before the last positive one (first: reading \
         {reading}): a tachometer that drops out, or the wrong column"
    )]
    Dropouts {
        /// How many.
        count: usize,
        /// Of how many.
        readings: usize,
        /// The first, from 1.
        reading: usize,
    },
    /// It does not slow down.
    #[error(
        "the speed stays at {speed_rad_s:.4} rad/s: from first to last it falls by {fall_rad_s:.3} rad/s, no more \
         than the readings scatter ({scatter_rad_s:.3} rad/s); nothing slows the piece, or the instrument stood still"
    )]
    Constant {
        /// Mean speed, rad/s.
        speed_rad_s: f64,
        /// How far it falls, rad/s.
        fall_rad_s: f64,
        /// What that would have to exceed, rad/s.
        scatter_rad_s: f64,
    },
    /// It speeds up.
    #[error(
        "the speed rises from {from_rad_s:.4} to {to_rad_s:.4} rad/s: a log of a spin-down starts when the drive \
         has let go; are the times in the right order?"
    )]
    Rising {
        /// First speed, rad/s.
        from_rad_s: f64,
        /// Largest speed, rad/s.
        to_rad_s: f64,
    },
    /// It is driven again on the way.
    #[error(
        "near {time_s:.4} s the speed rises from {from_rad_s:.4} to {to_rad_s:.4} rad/s: it was driven again, or \
         two throws are in one log; cut the log there"
    )]
    DrivenAgain {
        /// Where, s.
        time_s: f64,
        /// Speed before, rad/s.
        from_rad_s: f64,
        /// Speed after, rad/s.
        to_rad_s: f64,
    },
    /// Pulses that cannot be counted.
    #[error(
        "{count} of {pulses} pulses had to be put in or taken out, more than one in ten: the turns cannot be counted; \
         set the sensor closer, or use the recording itself"
    )]
    Patchy {
        /// How many.
        count: usize,
        /// Of how many.
        pulses: usize,
    },
    /// A number of marks that cannot be.
    #[error("{marks} marks a turn cannot be: 1 or more are wanted")]
    Marks {
        /// How many were said.
        marks: u32,
    },
}
