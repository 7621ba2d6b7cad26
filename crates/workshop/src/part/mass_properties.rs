//! Mass, centre of mass and inertia of a body, and how bodies add up.

use serde::{Deserialize, Serialize};

/// A vector by its three components: along the axle, upward on the drawing, and across.
pub type Vector = [f64; 3];

/// A symmetric tensor: xx, yy, zz, xy, xz, yz, in the unit of the field it stands in.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Tensor {
    /// About the axle's direction.
    pub xx: f64,
    /// About the drawing's upward direction.
    pub yy: f64,
    /// About the direction across the drawing.
    pub zz: f64,
    /// Product `−∫ x y dm`.
    pub xy: f64,
    /// Product `−∫ x z dm`.
    pub xz: f64,
    /// Product `−∫ y z dm`.
    pub yz: f64,
}

impl Tensor {
    fn combine(self, other: Self, sign: f64) -> Self {
        Self {
            xx: self.xx + sign * other.xx,
            yy: self.yy + sign * other.yy,
            zz: self.zz + sign * other.zz,
            xy: self.xy + sign * other.xy,
            xz: self.xz + sign * other.xz,
            yz: self.yz + sign * other.yz,
        }
    }

    /// The inertia of a point mass at `r`.
    #[must_use]
    pub fn of_point(mass: f64, [x, y, z]: Vector) -> Self {
        Self {
            xx: mass * (y * y + z * z),
            yy: mass * (x * x + z * z),
            zz: mass * (x * x + y * y),
            xy: -mass * x * y,
            xz: -mass * x * z,
            yz: -mass * y * z,
        }
    }

    /// The tensor of the body turned by `angle_rad` about the axle, from `y` to `z`.
    #[must_use]
    pub fn turned(self, angle_rad: f64) -> Self {
        let (s, c) = angle_rad.sin_cos();
        Self {
            xx: self.xx,
            yy: c * c * self.yy + s * s * self.zz - 2.0 * s * c * self.yz,
            zz: s * s * self.yy + c * c * self.zz + 2.0 * s * c * self.yz,
            xy: c * self.xy - s * self.xz,
            xz: s * self.xy + c * self.xz,
            yz: s * c * (self.yy - self.zz) + (c * c - s * s) * self.yz,
        }
    }
}

/// Mass properties of a body: units are mm, g and g·mm²; coordinates are the piece's (x along the
/// axle from the middle of the gap, y upward, z across so that the three are right-handed).
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct MassProperties {
    /// Mass in g; negative for material that is taken away.
    pub mass_g: f64,
    /// Centre of mass in mm.
    pub centre_mm: Vector,
    /// Inertia about the centre of mass in g·mm².
    pub inertia_g_mm2: Tensor,
}

impl MassProperties {
    /// A body that is round about the axle.
    #[must_use]
    pub fn round(mass_g: f64, centre_mm: f64, polar_g_mm2: f64, transverse_g_mm2: f64) -> Self {
        Self {
            mass_g,
            centre_mm: [centre_mm, 0.0, 0.0],
            inertia_g_mm2: Tensor {
                xx: polar_g_mm2,
                yy: transverse_g_mm2,
                zz: transverse_g_mm2,
                ..Tensor::default()
            },
        }
    }

    /// This body and others as one, about their common centre.
    ///
    /// Offsets are taken from the common centre before they are squared, so bodies far from the
    /// origin lose no digits; first moments are taken about the origin, so that a body and its
    /// mirror, one after the other, balance to the last digit. A sum without mass keeps the first
    /// body's centre.
    #[must_use]
    pub fn sum(bodies: &[Self]) -> Self {
        let mass_g: f64 = bodies.iter().map(|b| b.mass_g).sum();
        let Some(first) = bodies.first() else {
            return Self::default();
        };
        let mut centre_mm = first.centre_mm;
        if mass_g != 0.0 {
            for (axis, centre) in centre_mm.iter_mut().enumerate() {
                let moment: f64 = bodies.iter().map(|b| b.mass_g * b.centre_mm[axis]).sum();
                *centre = moment / mass_g;
            }
        }
        let about = |b: &Self| {
            let away: Vector = std::array::from_fn(|k| b.centre_mm[k] - centre_mm[k]);
            b.inertia_g_mm2
                .combine(Tensor::of_point(b.mass_g, away), 1.0)
        };
        let inertia_g_mm2 = bodies
            .iter()
            .map(about)
            .fold(Tensor::default(), |sum, t| sum.combine(t, 1.0));
        Self {
            mass_g,
            centre_mm,
            inertia_g_mm2,
        }
    }

    /// The same body counted negative: what a hole takes away.
    #[must_use]
    pub fn taken_away(self) -> Self {
        Self {
            mass_g: -self.mass_g,
            inertia_g_mm2: Tensor::default().combine(self.inertia_g_mm2, -1.0),
            ..self
        }
    }

    /// So many of the body at one place.
    #[must_use]
    pub fn times(self, count: f64) -> Self {
        Self {
            mass_g: self.mass_g * count,
            inertia_g_mm2: Tensor::default().combine(self.inertia_g_mm2, count),
            ..self
        }
    }

    /// The body moved along the axle.
    #[must_use]
    pub fn shifted(self, by_mm: f64) -> Self {
        let [x, y, z] = self.centre_mm;
        Self {
            centre_mm: [x + by_mm, y, z],
            ..self
        }
    }

    /// The body turned about the axle, from `y` to `z`.
    #[must_use]
    pub fn turned(self, angle_rad: f64) -> Self {
        let (s, c) = angle_rad.sin_cos();
        let [x, y, z] = self.centre_mm;
        Self {
            centre_mm: [x, c * y - s * z, s * y + c * z],
            inertia_g_mm2: self.inertia_g_mm2.turned(angle_rad),
            ..self
        }
    }

    /// The body seen in a mirror standing at the middle of the gap (`x = 0`).
    #[must_use]
    pub fn mirrored(self) -> Self {
        let [x, y, z] = self.centre_mm;
        let t = self.inertia_g_mm2;
        Self {
            centre_mm: [-x, y, z],
            inertia_g_mm2: Tensor {
                xy: -t.xy,
                xz: -t.xz,
                ..t
            },
            ..self
        }
    }

    /// Inertia about the axle's direction through the centre of mass, in g·mm².
    #[must_use]
    pub fn polar_g_mm2(&self) -> f64 {
        self.inertia_g_mm2.xx
    }

    /// Mean inertia about the two directions across, through the centre of mass, in g·mm².
    #[must_use]
    pub fn transverse_g_mm2(&self) -> f64 {
        0.5 * (self.inertia_g_mm2.yy + self.inertia_g_mm2.zz)
    }
}
