//! Resins as the press sees them, from `shelf/resins.toml`, and cards of the same form that a user brings.

use std::sync::OnceLock;

use toml::Table;

use crate::part::Range;
use crate::part::resin::{Flow, Handling, Heat, Resin, Room, RoomSide};

/// A percent as a share.
const PERCENT: f64 = 0.01;
/// A kilojoule in joules.
const KILO: f64 = 1e3;
/// A hundredth of a square millimetre per second: the file gives diffusivities in it.
const HUNDREDTH_MM2_PER_S: f64 = 1e-8;

fn file() -> &'static Table {
    static FILE: OnceLock<Table> = OnceLock::new();
    FILE.get_or_init(|| {
        toml::from_str(include_str!("../../../../shelf/resins.toml")).expect("a shelf file is TOML")
    })
}

/// Every resin, in the order of the file.
#[must_use]
pub fn resins() -> &'static [Resin] {
    static RESINS: OnceLock<Vec<Resin>> = OnceLock::new();
    RESINS.get_or_init(|| {
        let rows = file().iter().filter(|(id, _)| *id != "law");
        let rows = rows.filter_map(|(id, row)| Some((id, row.as_table()?)));
        rows.map(|(id, row)| resin_card(id, row).unwrap_or_else(|says| panic!("{says}")))
            .collect()
    })
}

/// The resin a word stands for.
#[must_use]
pub fn resin(id: &str) -> Option<&'static Resin> {
    resins().iter().find(|resin| resin.id == id)
}

/// A resin from a card: the tables `flow`, `room`, `heat` and `handling`, as `shelf/resins.toml` has them.
///
/// # Errors
/// What the card lacks or what is no number, in words.
pub fn resin_card(id: &str, row: &Table) -> Result<Resin, String> {
    let card = Card { id, row };
    Ok(Resin {
        id: id.to_owned(),
        flow: card.flow()?,
        room: card.room()?,
        heat: card.heat()?,
        handling: card.handling()?,
        why: card.why(),
    })
}

/// One card and its name.
struct Card<'a> {
    id: &'a str,
    row: &'a Table,
}

impl Card<'_> {
    /// The table at a dotted place, if it is there.
    fn at(&self, place: &str) -> Option<&Table> {
        place
            .split('.')
            .try_fold(self.row, |table, step| table.get(step)?.as_table())
    }

    fn text(&self, place: &str, key: &str) -> Option<&str> {
        self.at(place)?.get(key)?.as_str()
    }

    fn parsed(&self, place: &str, key: &str) -> Result<Option<f64>, String> {
        let Some(text) = self.text(place, key) else {
            return Ok(None);
        };
        match text.parse::<f64>() {
            Ok(number) if number.is_finite() => Ok(Some(number)),
            _ => Err(format!(
                "{key} of {place} of the resin {} is `{text}`; a number is expected",
                self.id
            )),
        }
    }

    fn number(&self, place: &str) -> Result<f64, String> {
        self.parsed(place, "value")?.ok_or_else(|| {
            format!(
                "the card of the resin {} has no {place}: give its value",
                self.id
            )
        })
    }

    fn range(&self, place: &str) -> Result<Range, String> {
        let likely = self.number(place)?;
        let range = Range {
            low: self.parsed(place, "low")?.unwrap_or(likely),
            likely,
            high: self.parsed(place, "high")?.unwrap_or(likely),
        };
        if range.is_in_order() {
            Ok(range)
        } else {
            Err(format!(
                "{place} of the resin {}: low, value and high are not in order",
                self.id
            ))
        }
    }

    fn maybe<T>(
        &self,
        place: &str,
        read: impl Fn(&str) -> Result<T, String>,
    ) -> Result<Option<T>, String> {
        self.at(place).map(|_| read(place)).transpose()
    }

    fn flow(&self) -> Result<Flow, String> {
        let of = |name: &str| self.number(&format!("flow.{name}"));
        Ok(Flow {
            index_ratio: of("index")?,
            bend_pa: of("bend")?,
            rest_pa_s: of("rest")?,
            reference_k: of("reference")?,
            rise_k_per_pa: of("rise")?,
            first_factor: of("first")?,
            second_k: of("second")?,
        })
    }

    fn room(&self) -> Result<Room, String> {
        let of = |name: &str| self.number(&format!("room.{name}"));
        let side = |side: &str| -> Result<RoomSide, String> {
            let of = |name: &str| of(&format!("{side}.{name}"));
            Ok(RoomSide {
                volume_m3_per_kg: of("volume")?,
                growth_m3_per_kg_k: of("growth")?,
                stiffness_pa: of("stiffness")?,
                softening_per_k: of("softening")?,
            })
        };
        Ok(Room {
            transition_k: of("transition")?,
            rise_k_per_pa: of("rise")?,
            melt: side("melt")?,
            solid: side("solid")?,
            extra_m3_per_kg: of("extra")?,
            extra_per_k: of("extra_per_k")?,
            extra_per_pa: of("extra_per_pa")?,
            tait_factor: super::sourced::sourced(file(), "law.tait").number,
        })
    }

    fn heat(&self) -> Result<Heat, String> {
        let of = |name: &str| self.number(&format!("heat.{name}"));
        Ok(Heat {
            melt_w_m_k: of("melt_conductivity")?,
            solid_w_m_k: of("solid_conductivity")?,
            melt_j_kg_k: of("melt_capacity")?,
            solid_j_kg_k: of("solid_capacity")?,
            latent_j_kg: of("latent")? * KILO,
            diffusivity_m2_per_s: self
                .range("heat.diffusivity")?
                .map(|step| step * HUNDREDTH_MM2_PER_S),
            no_flow_degc: of("no_flow")?,
            eject_degc: of("eject")?,
        })
    }

    fn handling(&self) -> Result<Handling, String> {
        let share = |place: &str| Ok::<f64, String>(self.number(place)? * PERCENT);
        let family = self.text("handling", "family");
        Ok(Handling {
            family: family
                .ok_or_else(|| format!("the card of the resin {} names no family", self.id))?
                .to_owned(),
            melt_degc: self.range("handling.melt")?,
            most_melt_degc: self.number("handling.most_melt")?,
            wall_degc: self.range("handling.wall")?,
            shrinkage_share: self.range("handling.shrinkage")?.map(|p| p * PERCENT),
            drying_hours: self.maybe("handling.drying", |place| self.range(place))?,
            drying_degc: self.maybe("handling.drying_at", |place| self.range(place))?,
            moisture_share: self.maybe("handling.moisture", share)?,
            regrind_share: self.maybe("handling.regrind", share)?,
        })
    }

    /// How each group of figures is known, a sentence a group.
    fn why(&self) -> Vec<String> {
        let groups = [
            ("flow", "viscosity"),
            ("room", "specific volume"),
            ("heat", "heat"),
            ("handling", "melt, wall, shrinkage, drying"),
        ];
        let sentence = |(place, words): (&str, &str)| {
            let said = |key: &str| self.text(place, key).unwrap_or_default();
            let from = match said("tag") {
                "read" => format!("read in {}, {}", said("source"), said("locator")),
                "memory" => "from memory".to_owned(),
                "practice" => "common practice, no source".to_owned(),
                "" => "as the card gives it".to_owned(),
                tag => tag.to_owned(),
            };
            match said("note") {
                "" => format!("{words}: {from}"),
                note => format!("{words}: {from}; {note}"),
            }
        };
        groups.map(sentence).to_vec()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_every_resin_is_also_a_material_and_its_temperatures_stand_in_order() {
        assert!(resins().len() >= 7);
        for resin in resins() {
            assert!(crate::shelf::material(&resin.id).is_some(), "{}", resin.id);
            let (heat, handling) = (&resin.heat, &resin.handling);
            assert!(heat.eject_degc < heat.no_flow_degc, "{}", resin.id);
            assert!(heat.no_flow_degc < handling.melt_degc.low, "{}", resin.id);
            assert!(
                handling.melt_degc.low < handling.most_melt_degc,
                "{}",
                resin.id
            );
            assert!(handling.wall_degc.high < heat.no_flow_degc, "{}", resin.id);
            let why = resin.why.join("\n");
            assert!(why.contains("generic, constructed") && why.contains("from memory"));
        }
    }

    #[test]
    fn law_a_card_that_lacks_a_number_says_which() {
        let mut row = file()["abs"].as_table().unwrap().clone();
        row["room"].as_table_mut().unwrap().remove("rise");
        let says = resin_card("mine", &row).unwrap_err();
        assert!(
            says.contains("mine") && says.contains("room.rise"),
            "{says}"
        );
        row = file()["abs"].as_table().unwrap().clone();
        row["flow"]["index"]["value"] = "0,3".into();
        assert!(resin_card("mine", &row).unwrap_err().contains("`0,3`"));
        assert!(resin("abs").is_some() && resin("law").is_none());
    }
}
