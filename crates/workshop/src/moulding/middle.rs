//! The middle surface of a half: rings about the axle, each as thick as the wall there, and how they hang together.

/// A short stretch of the middle line, turned about the axle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ring {
    /// Radius of the middle of its plastic.
    pub radius_mm: f64,
    /// Place of the same along the axle.
    pub axial_mm: f64,
    /// Length along the middle line.
    pub length_mm: f64,
    /// Wall thickness that carries the flow.
    pub thickness_mm: f64,
    /// Its plastic, all round: the rings together are the volume of the drawing.
    pub volume_mm3: f64,
    /// Which stretch of the section it belongs to (web, hub, …), by number in [`Middle::stretches`].
    pub stretch: usize,
}

/// Two rings that melt can pass between.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Link {
    /// One of them.
    pub one: usize,
    /// The other.
    pub other: usize,
    /// Way along the middle line from the first one's middle to where they meet.
    pub one_mm: f64,
    /// From there to the other's middle.
    pub other_mm: f64,
    /// Radius of the place where they meet.
    pub radius_mm: f64,
}

/// The middle surface of one half.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Middle {
    /// The rings, stretch after stretch.
    pub rings: Vec<Ring>,
    /// Which hang together; a tree where the section has no hollow.
    pub links: Vec<Link>,
    /// Names of the stretches as a person would say them.
    pub stretches: Vec<String>,
    /// How far the volume of thickness times middle line was from that of the drawing before it was shared out, as a share.
    pub volume_off_share: f64,
}
