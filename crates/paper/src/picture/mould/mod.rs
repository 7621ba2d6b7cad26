//! Pictures of moulding: the front, the course of a shot, the wall, and the studies.

mod contour;
mod course;
mod front;
mod middle;
mod study;
mod weights;

pub use course::{course_drawing, mass_drawing, wall_drawing};
pub use front::{front, front_drawing};
pub use middle::middle_drawing;
pub use study::{study, study_drawing};
pub use weights::{weights, weights_drawing};

use whirlwright_workshop::moulding::{MouldBody, MouldView};

use crate::ink::Drawing;
use crate::picture::WIDTH;

/// Every picture of a set-up below each other, as SVG.
#[must_use]
pub fn mould(body: &MouldBody, view: &MouldView) -> String {
    let drawings = mould_drawings(body, view);
    let height = drawings.iter().map(|d| d.height).sum();
    let mut whole = Drawing::new(WIDTH, height, "A shot", "Front, pressures, mass, wall.");
    let mut y = 0.0;
    for drawing in &drawings {
        y += whole.put(0.0, y, WIDTH, drawing);
    }
    whole.to_svg()
}

/// Every picture of a set-up, one by one.
#[must_use]
pub fn mould_drawings(body: &MouldBody, view: &MouldView) -> Vec<Drawing> {
    vec![
        front_drawing(&view.fill),
        course_drawing(body),
        mass_drawing(body),
        wall_drawing(body),
        middle_drawing(body, view),
    ]
}
