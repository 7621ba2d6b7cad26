//! Small lists and receipts as text; stations' answers are written by paper.

use whirlwright_workshop::part::Kind;

use crate::desk::lot::Imported;

/// What came of bringing files in.
pub fn imported(imported: &Imported) -> String {
    let mut text = String::new();
    for receipt in &imported.receipts {
        let told = if receipt.already_in {
            format!("already in ({}), 0 new", receipt.written.time)
        } else {
            format!(
                "{} new {}, {} measured again, {} readings",
                receipt.new_parts,
                several(receipt.kind),
                receipt.parts_measured_again,
                receipt.new_readings
            )
        };
        text += &format!("{} → lot {}: {told}\n", receipt.file_name, receipt.lot);
        if !receipt.broken_sets.is_empty() {
            text += &format!("  sets that need new measures: {:?}\n", receipt.broken_sets);
        }
        if !receipt.also_in_lots.is_empty() {
            text += &format!(
                "  the same file is in: {}\n",
                receipt.also_in_lots.join(", ")
            );
        }
    }
    for remark in &imported.remarks {
        text += &format!("  {remark}\n");
    }
    for flag in &imported.flags {
        text += &format!("▲ look: {flag}\n");
    }
    for refused in &imported.refused {
        text += &format!("■ left out: {refused}\n");
    }
    text
}

/// The kind of part in the plural.
pub fn several(kind: Kind) -> &'static str {
    match kind {
        Kind::Half => "halves",
        Kind::Rim => "rims",
        Kind::Dressed => "dressed halves",
        Kind::Other => "parts",
    }
}
