//! What shelf and job know of a material, and what it is like after years.

use super::annulus::Elastic;
use super::faults::Refusal;
use super::given::{Member, Stiffness};
use super::press::creep_modulus_mpa;
use crate::part::Range;
use crate::part::fit_wishes::MechanicsWishes;
use crate::part::job::Piece;
use crate::shelf;

impl Member {
    /// From a piece of the design, the job's own figures first.
    ///
    /// # Errors
    /// A material of which neither shelf nor job knows stiffness and growth.
    pub fn new(piece: &Piece, said: &MechanicsWishes) -> Result<Self, Refusal> {
        let known = piece
            .material
            .shelf_id
            .as_deref()
            .and_then(shelf::mechanics);
        let lacks = |what| Refusal::NoMechanics {
            piece: piece.name.clone(),
            what,
        };
        let modulus_mpa = said.modulus_mpa.or(known.map(|k| k.modulus_mpa));
        let poisson = said.poisson_ratio.or(known.map(|k| k.poisson_ratio.likely));
        let expansion = said.expansion_per_k.or(known.map(|k| k.expansion_per_k));
        let own_creep = said.creep_1h_mpa.zip(said.creep_1000h_mpa);
        let mut why: Vec<String> = known.map(|k| k.why.clone()).unwrap_or_default();
        if *said != MechanicsWishes::default() {
            why.insert(
                0,
                "as far as the job file says them, its own figures".to_owned(),
            );
        }
        let member = Self {
            name: piece.name.clone(),
            kind: piece.material.kind,
            modulus_mpa: modulus_mpa.ok_or_else(|| lacks("modulus"))?,
            poisson_ratio: poisson.ok_or_else(|| lacks("poisson"))?,
            expansion_per_k: expansion.ok_or_else(|| lacks("expansion"))?,
            density_g_cm3: piece.material.density_g_cm3,
            creep_mpa: own_creep.or(known.and_then(|k| k.creep_mpa)),
            short_strain_share: said
                .short_strain_share
                .or(known.and_then(|k| k.short_strain_share)),
            long_strain_share: said
                .long_strain_share
                .map(Range::exactly)
                .or(known.and_then(|k| k.long_strain_share)),
            proof_stress_mpa: said
                .proof_stress_mpa
                .or(known.and_then(|k| k.proof_stress_mpa)),
            temperature_degc: known.and_then(|k| k.temperature_degc),
            moisture_share: Range::exactly(0.0),
            why,
        };
        member.checked()
    }

    fn checked(self) -> Result<Self, Refusal> {
        let positive = |what: &'static str, value: f64| {
            if value > 0.0 {
                Ok(())
            } else {
                Err(Refusal::NotPositive {
                    what: format!("{what} of {}", self.name),
                    read: value,
                })
            }
        };
        positive("modulus", self.modulus_mpa.low)?;
        if let Some((hour, later)) = self.creep_mpa {
            positive("creep modulus after an hour", hour)?;
            positive("creep modulus after 1000 hours", later)?;
        }
        if !(0.0..0.5).contains(&self.poisson_ratio) {
            return Err(Refusal::Poisson {
                piece: self.name,
                read: self.poisson_ratio,
            });
        }
        Ok(self)
    }

    /// The material as it is after so many hours in the fit; 0 hours is the moment of pressing.
    #[must_use]
    pub fn elastic(&self, stiffness: Stiffness, hours: f64) -> Elastic {
        let short = match stiffness {
            Stiffness::Soft => self.modulus_mpa.low,
            Stiffness::Likely => self.modulus_mpa.likely,
            Stiffness::Stiff => self.modulus_mpa.high,
        };
        // A grade that is softer when new is softer by the same share when it has crept.
        let share = short / self.modulus_mpa.likely;
        let crept = |(hour, later)| share * creep_modulus_mpa(hour, later, hours);
        let modulus_mpa = match self.creep_mpa {
            Some(creep) if hours > 0.0 => crept(creep).min(short),
            _ => short,
        };
        Elastic {
            modulus_mpa,
            poisson_ratio: self.poisson_ratio,
            expansion_per_k: self.expansion_per_k,
            density_g_cm3: self.density_g_cm3,
        }
    }
}
