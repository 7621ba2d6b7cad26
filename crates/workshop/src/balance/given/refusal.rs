//! Questions about balance that have no answer, and why.

/// Why a question is refused: what was read, what was expected, what to do.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Refusal {
    /// A number that cannot be.
    #[error("{what} is {read}; {expected}")]
    Impossible {
        /// Which number.
        what: String,
        /// What was read, with its unit.
        read: String,
        /// What was expected.
        expected: &'static str,
    },
    /// Neither grade nor limit.
    #[error(
        "neither a grade nor a permissible unbalance is said: write grade = \"G 6.3\" or limit = \"0.76 g·mm\" in [balance]"
    )]
    NoLimit,
    /// No speed.
    #[error(
        "no speed is said: a grade belongs to a speed; write speed = \"5000 rpm\" in [balance]"
    )]
    NoSpeed,
    /// A piece that the job does not have.
    #[error("the job has no piece `{piece}`; it has {known}")]
    NoSuchPiece {
        /// The piece.
        piece: String,
        /// Those there are.
        known: String,
    },
    /// A piece that sits elsewhere.
    #[error("the piece `{piece}` sits {sits}, and has no section on the side `{side}`")]
    NotOnThatSide {
        /// The piece.
        piece: String,
        /// The side asked for.
        side: &'static str,
        /// Where it sits.
        sits: &'static str,
    },
    /// A piece whose section cannot be used.
    #[error("the section of `{piece}` cannot be used: {what}")]
    NoSection {
        /// The piece.
        piece: String,
        /// Why.
        what: String,
    },
    /// Two planes at one place.
    #[error(
        "both planes stand at x = {x_mm} mm: two planes at one place cannot take up a couple; set them apart"
    )]
    PlanesTogether {
        /// Where, in mm.
        x_mm: f64,
    },
    /// The wrong number of something.
    #[error("{what}: {read} read, {expected} expected; {todo}")]
    Count {
        /// What is counted.
        what: String,
        /// How many were read.
        read: usize,
        /// How many were expected, in words.
        expected: String,
        /// What to do.
        todo: &'static str,
    },
    /// A run that is needed and is not there.
    #[error("a run is missing: {what}; {todo}")]
    MissingRun {
        /// Which.
        what: String,
        /// What to do.
        todo: String,
    },
    /// A trial mass of nothing.
    #[error(
        "the trial mass of run `{run}` is 0 g: a run without a trial tells nothing of the plane; state the mass that was put on"
    )]
    TrialOfNothing {
        /// The run.
        run: String,
    },
    /// Two runs that read the same.
    #[error(
        "runs `{first}` and `{second}` read exactly the same although the masses differ: one was entered twice, or the trial mass fell off; measure `{second}` again"
    )]
    SameRuns {
        /// The first.
        first: String,
        /// The second.
        second: String,
    },
    /// Phases that are not degrees.
    #[error(
        "{what}: these phases seem to be {seem}; write them in degrees, or say that they were looked at (phases_are_degrees = true)"
    )]
    PhaseUnit {
        /// What was read.
        what: String,
        /// What they seem to be.
        seem: &'static str,
    },
    /// Readings from which the planes cannot be told apart.
    #[error("the readings cannot tell the planes apart (condition {condition:.0}): {todo}")]
    PlanesAlike {
        /// Condition of the influence coefficients.
        condition: f64,
        /// What to do.
        todo: &'static str,
    },
    /// Amplitudes that no rotor has.
    #[error("the amplitudes do not fit together: {what}; {todo}")]
    DoNotFit {
        /// What does not fit.
        what: String,
        /// What to do.
        todo: &'static str,
    },
    /// A tool or place that cannot be.
    #[error("{what}")]
    Work {
        /// What cannot be and what to do.
        what: String,
    },
}
