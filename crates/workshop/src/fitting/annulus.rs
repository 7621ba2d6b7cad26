//! One elastic ring in plane stress: what pressure and turning do to it (Lamé; the rotating disc).

/// What a ring is made of, as far as small strains go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Elastic {
    /// Modulus of elasticity; infinite for a rigid body.
    pub modulus_mpa: f64,
    /// Poisson's ratio.
    pub poisson_ratio: f64,
    /// Linear thermal expansion, in 1/K.
    pub expansion_per_k: f64,
    /// Density.
    pub density_g_cm3: f64,
}

/// A ring of constant section between two radii; an inner radius of 0 is a solid disc.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Annulus {
    /// Inner radius.
    pub inner_mm: f64,
    /// Outer radius.
    pub outer_mm: f64,
    /// Its material.
    pub elastic: Elastic,
}

/// What loads a ring: pressure on its two faces (positive presses on the material), and turning.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Load {
    /// Pressure on the inner face.
    pub inner_mpa: f64,
    /// Pressure on the outer face.
    pub outer_mpa: f64,
    /// Speed of turning.
    pub speed_rad_s: f64,
}

/// g/cm³ in t/mm³, so that density · (speed · mm)² is in MPa.
const TONNES: f64 = 1e-9;

impl Annulus {
    /// Radial and hoop stress at a radius, in MPa.
    ///
    /// Lamé's ring under pressure and the rotating disc, both plane stress: pressure gives
    /// `A ∓ B/r²`; turning adds `(3+ν)/8 ρω² (a² + b² − a²b²/r² − r²)` radially and
    /// `(3+ν)/8 ρω² (a² + b² + a²b²/r² − (1+3ν)/(3+ν) r²)` along the hoop. Exact at both faces.
    #[must_use]
    pub fn stresses_mpa(&self, load: &Load, radius_mm: f64) -> (f64, f64) {
        let (a, b, r) = (self.inner_mm, self.outer_mm, radius_mm);
        let (aa, bb, rr) = (a * a, b * b, r * r);
        let wall = (b - a) * (b + a);
        let even = (load.inner_mpa * aa - load.outer_mpa * bb) / wall;
        // The part that falls with the square of the radius; none in a solid disc.
        let steep = |top: f64| if a > 0.0 { top / rr } else { 0.0 };
        let bent = steep((load.inner_mpa - load.outer_mpa) * aa * bb) / wall;
        let nu = self.elastic.poisson_ratio;
        let speed = load.speed_rad_s;
        let flung = self.elastic.density_g_cm3 * TONNES * speed * speed / 8.0;
        let hollow = steep(aa * bb);
        let radial = even - bent + flung * (3.0 + nu) * (aa + bb - hollow - rr);
        let hoop = even + bent + flung * ((3.0 + nu) * (aa + bb + hollow) - (1.0 + 3.0 * nu) * rr);
        (radial, hoop)
    }

    /// Hoop strain at a radius: what the radius grows by, as a share of itself.
    #[must_use]
    pub fn hoop_strain_share(&self, load: &Load, radius_mm: f64) -> f64 {
        let (radial, hoop) = self.stresses_mpa(load, radius_mm);
        (hoop - self.elastic.poisson_ratio * radial) / self.elastic.modulus_mpa
    }

    /// Growth of a radius.
    #[must_use]
    pub fn growth_mm(&self, load: &Load, radius_mm: f64) -> f64 {
        radius_mm * self.hoop_strain_share(load, radius_mm)
    }
}
