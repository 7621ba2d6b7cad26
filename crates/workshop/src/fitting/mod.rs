//! Station card of fitting: the rim pressed on the half, from its limits to what years do to it.
//!
//! - **Comes in:** the limits of bore and spigot, the two walls and the length of the seat (said, or
//!   of the drawing), both materials, friction, temperatures, speed, years, the torque it must hold.
//! - **Leaves:** least and most interference, pressure and stresses, push-on force, torque, heat to
//!   slip on, what cold, heat, water, speed and creep change; every condition at the interference
//!   where it is just kept; the chance of a bad pair; the limits to take or the bins to sort into;
//!   what looseness does to the balance.
//! - **Effects counted:** two rings of Lamé, the sections as drawn by finite elements, thermal growth, growth by water, turning, creep by the
//!   modulus of the time, friction as a range, scatter of both parts.
//! - **Left out:** in the moments and conditions flanges, steps and the ends of the seat, which the drawn sections beside them
//!   have (they can double the pressure); roughness that is pressed flat (some micrometres on a turned bore); the modulus over
//!   temperature (a resin loses a few parts in a hundred each ten degrees); yield of the body.
//! - **Sources:** Lamé's ring and the rotating disc, ISO 286-1 (`docs/theory`); materials from the
//!   shelf.
//!
#![doc = include_str!("../../../../docs/theory/fitting.md")]
#![doc = include_str!("../../../../docs/theory/section-fit.md")]

mod advice;
mod annulus;
mod body;
mod chance;
mod condition_line;
mod conditions;
mod drawn;
mod faults;
mod given;
mod looseness;
mod material;
mod moment;
mod press;
mod run;
mod seat;
mod section_body;
mod section_conditions;
mod section_fit;
mod section_given;
mod section_solve;
mod section_words;
mod states;
mod with_section;
mod words;

pub use annulus::{Annulus, Elastic, Load};
pub use body::{
    Advice, Chance, FitBody, Looseness, Sizes, StateLine, TemperaturePoint, TimePoint, Window,
};
pub use chance::{Pairs, chance};
pub use condition_line::ConditionLine;
pub use faults::Refusal;
pub use given::{Given, Member, RingMass, Stiffness};
pub use looseness::{Loose, looseness};
pub use press::{
    Change, Part, Press, Pressed, creep_modulus_mpa, creep_slope_ratio, heat_to_slip_on_k, hold_n,
};
pub use run::{Draws, fit, of_clearance, with_clearance};
pub use section_body::{
    SeatPoint, SectionBound, SectionFitBody, SectionPeak, SectionWorst, StressPicture,
};
pub use section_fit::{SectionFit, section_fit};
pub use section_given::{SectionGiven, SectionMoment};
pub use with_section::{NOT_ASKED, sections, with_section};
