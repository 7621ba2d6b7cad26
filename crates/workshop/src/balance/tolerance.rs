//! One error of the drawing, turned into static unbalance and couple.

use super::given::ErrorBody;
use crate::part::balance_wishes::ErrorKind;

/// What an error does at its worst.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Worst {
    /// Static unbalance, g·mm.
    pub static_g_mm: f64,
    /// Couple about the piece's centre, g·mm²: with its sign where it comes of the static's place along
    /// the axle.
    pub couple_g_mm2: f64,
    /// Whether the error always takes its full size (play is taken up) or anything up to it.
    pub always_full: bool,
}

/// The worst an error does to a body, for a piece whose centre of mass is at `centre_mm`.
pub(super) fn worst(kind: ErrorKind, body: &ErrorBody, centre_mm: f64) -> Worst {
    let at = |static_g_mm: f64, x_mm: f64, always_full: bool| Worst {
        static_g_mm,
        couple_g_mm2: static_g_mm * (x_mm - centre_mm),
        always_full,
    };
    match kind {
        ErrorKind::RunOut { movement_mm } => at(
            0.5 * movement_mm * body.enclosed_mass_g,
            body.enclosed_centre_mm,
            false,
        ),
        ErrorKind::Eccentric { offset_mm } => at(offset_mm * body.mass_g, body.centre_mm, false),
        ErrorKind::Clearance { clearance_mm } => {
            at(0.5 * clearance_mm * body.mass_g, body.centre_mm, true)
        }
        ErrorKind::FaceRunOut {
            movement_mm,
            at_diameter_mm,
        } => {
            let diameter = at_diameter_mm.unwrap_or(2.0 * body.outer_radius_mm);
            let inertia = body.inertia;
            Worst {
                static_g_mm: 0.0,
                couple_g_mm2: (inertia.polar_g_mm2 - inertia.transverse_g_mm2)
                    * (movement_mm / diameter),
                always_full: false,
            }
        }
        ErrorKind::Spot { mass_g, radius_mm } => at(
            mass_g * radius_mm.unwrap_or(body.outer_radius_mm),
            body.centre_mm,
            false,
        ),
    }
}

/// The tolerance as it was said.
pub(super) fn said(kind: ErrorKind) -> String {
    match kind {
        ErrorKind::RunOut { movement_mm } => {
            format!("{movement_mm} mm full movement, outside against bore")
        }
        ErrorKind::Eccentric { offset_mm } => format!("up to {offset_mm} mm off the axis"),
        ErrorKind::Clearance { clearance_mm } => format!("up to {clearance_mm} mm clearance"),
        ErrorKind::FaceRunOut {
            movement_mm,
            at_diameter_mm,
        } => match at_diameter_mm {
            Some(diameter) => {
                format!("{movement_mm} mm full movement of the face at {diameter} mm")
            }
            None => format!("{movement_mm} mm full movement of the face at its outside"),
        },
        ErrorKind::Spot { mass_g, .. } => format!("up to {mass_g} g at one place"),
    }
}

/// How it was reckoned.
pub(super) fn words(kind: ErrorKind, body: &ErrorBody) -> String {
    match kind {
        ErrorKind::RunOut { movement_mm } => format!(
            "half the movement, {:.4} mm, times {:.2} g that the outside encloses, hollow counted full",
            0.5 * movement_mm,
            body.enclosed_mass_g
        ),
        ErrorKind::Eccentric { offset_mm } => {
            format!("{offset_mm} mm times {:.2} g", body.mass_g)
        }
        ErrorKind::Clearance { clearance_mm } => format!(
            "half the clearance, {:.4} mm, times {:.2} g",
            0.5 * clearance_mm,
            body.mass_g
        ),
        ErrorKind::FaceRunOut { .. } => {
            "tilt times the body's polar less transverse inertia: a couple and no static".to_owned()
        }
        ErrorKind::Spot { mass_g, radius_mm } => format!(
            "{mass_g} g times {:.2} mm",
            radius_mm.unwrap_or(body.outer_radius_mm)
        ),
    }
}
