//! A distribution in the terminal: one line an origin, blocks for the bins.

use crate::rounding;
use crate::spread::Family;

use super::page::{Page, plain};

/// Most blocks in a strip; finer bins are joined.
const MOST_BLOCKS: usize = 32;
/// Blocks from an eighth to the full height.
const BLOCKS: [char; 8] = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];

/// Writes the families, each with its own scale.
pub fn write(page: &mut Page, families: &[Family]) {
    for family in families.iter().filter(|family| family.count() > 0) {
        write_family(page, &family.trimmed());
    }
}

fn write_family(page: &mut Page, family: &Family) {
    let join = family.bins().div_ceil(MOST_BLOCKS).max(1);
    let strips: Vec<Vec<usize>> = family
        .rows
        .iter()
        .map(|row| joined(&row.counts, join))
        .collect();
    let highest = strips.iter().flatten().copied().max().unwrap_or(0);
    let labels: Vec<String> = family.rows.iter().map(|row| label(&row.label)).collect();
    let label_width = labels.iter().map(|l| l.chars().count()).max().unwrap_or(0);
    let blocks = strips.iter().map(Vec::len).max().unwrap_or(0);
    let count_width = family.highest_count_width();
    for ((row, strip), label) in family.rows.iter().zip(&strips).zip(&labels) {
        let picture: String = strip.iter().map(|n| block(*n, highest)).collect();
        let middle = match row.sd_mass_g {
            Some(sd) => format!(
                "mean {}, sd {}",
                rounding::places(row.mean_mass_g, 3, "g"),
                rounding::places(sd, 3, "g")
            ),
            None => format!("mean {}", rounding::places(row.mean_mass_g, 3, "g")),
        };
        page.line(&format!(
            "  {label:<label_width$}  {:>count_width$}  {picture:<blocks$}  {middle}",
            row.count
        ));
    }
    let lead = " ".repeat(2 + label_width + 2 + count_width + 2);
    let from = rounding::places(family.start_mass_g, 2, "g");
    let to = rounding::places(family.end_mass_g(), 2, "g");
    let gap = blocks
        .saturating_sub(from.chars().count() + to.chars().count())
        .max(2);
    page.line(&format!("{lead}{from}{}{to}", " ".repeat(gap)));
}

impl Family {
    fn highest_count_width(&self) -> usize {
        self.rows
            .iter()
            .map(|row| row.count.to_string().len())
            .max()
            .unwrap_or(1)
    }
}

fn label(text: &str) -> String {
    let text = plain(text);
    if text.chars().count() <= 18 {
        text
    } else {
        format!("{}…", text.chars().take(17).collect::<String>())
    }
}

fn joined(counts: &[usize], join: usize) -> Vec<usize> {
    counts.chunks(join).map(|bins| bins.iter().sum()).collect()
}

/// A part that is there is seen: only an empty bin is blank.
fn block(count: usize, highest: usize) -> char {
    if count == 0 || highest == 0 {
        return ' ';
    }
    BLOCKS[(count * BLOCKS.len())
        .div_ceil(highest)
        .clamp(1, BLOCKS.len())
        - 1]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_one_part_is_seen_and_the_fullest_bin_is_full() {
        assert_eq!(
            [block(0, 900), block(1, 900), block(900, 900)],
            [' ', '▁', '█']
        );
        assert_eq!(block(0, 0), ' ');
    }

    #[test]
    fn law_joining_bins_loses_no_part() {
        let counts: Vec<usize> = (0..101).collect();
        assert_eq!(
            joined(&counts, 4).iter().sum::<usize>(),
            counts.iter().sum::<usize>()
        );
    }
}
