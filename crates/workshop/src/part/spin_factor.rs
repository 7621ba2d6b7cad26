//! What a forecast of a spin rests on.

/// A factor of the forecast that is known to a range.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Factor {
    /// Speed of the hand, m/s.
    HandSpeed,
    /// Time in which it stops, s.
    StopTime,
    /// Speed after the throw where the job says it, rpm.
    ThrowSpeed,
    /// Speed at which it no longer returns, rpm.
    EndSpeed,
    /// Dry torque of the bearing, µN·m.
    DryTorque,
    /// How much of a flooded bearing's drag there is.
    Oil,
    /// Viscosity of the lubricant as it runs, cSt.
    Viscosity,
    /// Rim drag by the long cylinder's.
    Rim,
    /// Drag of the gap's flare by that of an open face.
    Gap,
    /// Temperature of the air, °C.
    Temperature,
    /// Pressure of the air, kPa.
    Pressure,
    /// Relative humidity, %.
    Humidity,
    /// Force of the string on a wall, mN.
    WallForce,
    /// Friction of the string there.
    Friction,
    /// Share of the wound space that is string.
    Packing,
    /// Moment of inertia by that of the drawing.
    Inertia,
}

impl Factor {
    /// Every factor, in the order of a forecast's values.
    pub const ALL: [Self; 16] = [
        Self::HandSpeed,
        Self::StopTime,
        Self::ThrowSpeed,
        Self::EndSpeed,
        Self::DryTorque,
        Self::Oil,
        Self::Viscosity,
        Self::Rim,
        Self::Gap,
        Self::Temperature,
        Self::Pressure,
        Self::Humidity,
        Self::WallForce,
        Self::Friction,
        Self::Packing,
        Self::Inertia,
    ];

    /// Its key, with the unit.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::HandSpeed => "hand_speed_m_per_s",
            Self::StopTime => "stop_time_s",
            Self::ThrowSpeed => "speed_rpm",
            Self::EndSpeed => "ends_at_rpm",
            Self::DryTorque => "dry_torque_un_m",
            Self::Oil => "f0_factor",
            Self::Viscosity => "viscosity_cst",
            Self::Rim => "rim_factor",
            Self::Gap => "gap_factor",
            Self::Temperature => "temperature_degc",
            Self::Pressure => "pressure_kpa",
            Self::Humidity => "humidity_percent",
            Self::WallForce => "wall_force_mn",
            Self::Friction => "friction_coefficient",
            Self::Packing => "packing_share",
            Self::Inertia => "inertia_ratio",
        }
    }

    /// What it is, in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::HandSpeed => "speed of the hand",
            Self::StopTime => "time in which the hand stops",
            Self::ThrowSpeed => "speed after the throw",
            Self::EndSpeed => "speed at which it no longer returns",
            Self::DryTorque => "dry torque of the bearing",
            Self::Oil => "amount of lubricant in the bearing",
            Self::Viscosity => "viscosity of the lubricant",
            Self::Rim => "air drag of the rim",
            Self::Gap => "air drag of the gap's flare",
            Self::Temperature => "temperature of the air",
            Self::Pressure => "pressure of the air",
            Self::Humidity => "humidity of the air",
            Self::WallForce => "force of the string on a wall",
            Self::Friction => "friction of the string",
            Self::Packing => "packing of the wound string",
            Self::Inertia => "moment of inertia",
        }
    }
}
