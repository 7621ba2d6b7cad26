//! Why a shot cannot be reckoned: what was read, what was expected, what to do.

/// A question that has no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Refusal {
    /// The job has no such piece.
    #[error("[mould] names the piece `{name}`, and the job has none of that name")]
    NoPiece {
        /// The name.
        name: String,
    },
    /// Nothing of the job is moulded.
    #[error(
        "no piece of the job is of a moulding resin: give the piece a `material` such as \"pc-abs\", or name one with `piece` in [mould]"
    )]
    NothingMoulded,
    /// The shelf has no such resin and the job brings no card.
    #[error(
        "the press does not know the resin `{read}`; it knows {known}: name one with `card` in [resin], and give there what differs"
    )]
    NoResin {
        /// What was read.
        read: String,
        /// The words it knows.
        known: String,
    },
    /// A card that cannot be a resin.
    #[error("the resin card: {why}")]
    Card {
        /// What is wrong.
        why: String,
    },
    /// The section has no middle line.
    #[error("the section of the half cannot be parted into walls: {why}")]
    Section {
        /// What is wrong.
        why: String,
    },
    /// A number that must be above zero.
    #[error("{what} is {read}: more than 0 was expected")]
    NotPositive {
        /// Which number.
        what: String,
        /// What was read, in the unit of its name.
        read: f64,
    },
    /// A number out of the range it can have.
    #[error("{what} is {read}: {low} to {high} was expected")]
    OutOfRange {
        /// Which number.
        what: String,
        /// What was read, in the unit of its name.
        read: f64,
        /// The least that can be.
        low: f64,
        /// The most that can be.
        high: f64,
    },
    /// The mould has no hollow.
    #[error("the mould has no cavity: give `cavities` in [mould], 1 or more")]
    NoCavity,
    /// A cavity without a gate.
    #[error("cavity `{cavity}` has no gate: give a [[mould.gate]] for it, or one for all")]
    NoGate {
        /// The cavity.
        cavity: String,
    },
    /// A name that stands for nothing.
    #[error("{who} names the {what} `{name}`, and there is none; there are {known}")]
    NoSuch {
        /// Who names it.
        who: String,
        /// What it is, such as runner or cavity.
        what: &'static str,
        /// The name.
        name: String,
        /// The names there are.
        known: String,
    },
    /// A runner that would have to begin before itself.
    #[error(
        "the runner `{name}` begins at `{after}`, which stands after it or is itself: list runners from the sprue outward"
    )]
    Backward {
        /// The runner.
        name: String,
        /// Where it says it begins.
        after: String,
    },
    /// Runners and cavities do not match.
    #[error(
        "{cavities_count} cavities and {ends_count} runner ends: give each cavity its `runner` in [[mould.cavity]]"
    )]
    RunnersAndCavities {
        /// How many cavities.
        cavities_count: usize,
        /// How many runners that lead to no other.
        ends_count: usize,
    },
    /// A gate that does not touch the half.
    #[error(
        "the gate at x = {axial_mm} mm, radius {radius_mm} mm is {off_mm:.2} mm off the half: its nearest place is x = {near_axial_mm:.2} mm, radius {near_radius_mm:.2} mm"
    )]
    GateOff {
        /// Along the axle.
        axial_mm: f64,
        /// From the axle.
        radius_mm: f64,
        /// How far from the half.
        off_mm: f64,
        /// The half's nearest place, along the axle.
        near_axial_mm: f64,
        /// The same, from the axle.
        near_radius_mm: f64,
    },
    /// The melt would not flow.
    #[error(
        "the melt is {melt_degc} °C and {resin} does not flow below {no_flow_degc} °C: take a melt of {usual_low_degc:.0} to {usual_high_degc:.0} °C"
    )]
    TooColdToFlow {
        /// The melt.
        melt_degc: f64,
        /// The resin.
        resin: String,
        /// Where flow ends.
        no_flow_degc: f64,
        /// Usual melt, least.
        usual_low_degc: f64,
        /// Usual melt, most.
        usual_high_degc: f64,
    },
    /// The resin would break down.
    #[error(
        "the melt is {melt_degc} °C and {resin} breaks down above {most_degc} °C: take a melt of {usual_low_degc:.0} to {usual_high_degc:.0} °C; overheated melt gives off gas and can spit from the nozzle"
    )]
    BreaksDown {
        /// The melt.
        melt_degc: f64,
        /// The resin.
        resin: String,
        /// The most it stands.
        most_degc: f64,
        /// Usual melt, least.
        usual_low_degc: f64,
        /// Usual melt, most.
        usual_high_degc: f64,
    },
    /// The half would never be stiff enough.
    #[error(
        "the mould wall is {wall_degc} °C and {resin} is stiff enough to be pushed out only below {eject_degc} °C: take a wall of {usual_low_degc:.0} to {usual_high_degc:.0} °C"
    )]
    NeverStiff {
        /// The wall.
        wall_degc: f64,
        /// The resin.
        resin: String,
        /// Below this it is stiff.
        eject_degc: f64,
        /// Usual wall, least.
        usual_low_degc: f64,
        /// Usual wall, most.
        usual_high_degc: f64,
    },
    /// The press cannot push that hard.
    #[error(
        "the hold asks for {asked_mpa} MPa and the press gives {most_mpa} MPa at most: hold lower, or take a smaller screw"
    )]
    HoldTooHigh {
        /// What is asked.
        asked_mpa: f64,
        /// What the press gives.
        most_mpa: f64,
    },
    /// Two resins that must never meet in a barrel.
    #[error(
        "STOP: {before} ran before, and {after} must never meet it in a hot barrel or hot runner: together they break down with violent gas (hydrogen chloride, formaldehyde). Do not heat up. Have the barrel stripped and cleaned, as the maker's instructions say, before this resin goes in"
    )]
    NeverTogether {
        /// What ran before.
        before: String,
        /// What shall run.
        after: String,
    },
}
