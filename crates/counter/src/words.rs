//! Receipts as text, for command and page; stations' answers are written by paper.

use std::path::PathBuf;

use crate::desk::demo::Demo;
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
                whirlwright_paper::words::kinds(receipt.kind),
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

/// What the demo did, the main answer in full, and how to open the page.
pub fn demo(demo: &Demo) -> String {
    let folder = demo.folder.display();
    let mut text = format!("{}\n\n", whirlwright_paper::words::INVENTED);
    text += &format!("The design: {}\n", demo.section.headline);
    for receipt in &demo.imported.receipts {
        text += &format!(
            "Came in: {} {} into lot {}\n",
            receipt.new_parts,
            whirlwright_paper::words::kinds(receipt.kind),
            receipt.lot
        );
    }
    text += &format!("The lot: {}\n\n", demo.measuring.headline);
    text += &whirlwright_paper::text::pair(&demo.pairing);
    text += &format!(
        "\nRecorded: {} sets of lot {}\n",
        demo.recorded.numbers.len(),
        demo.lot
    );
    text += &format!("In {folder}: {}\n", demo.written.join(", "));
    text += &format!(
        "\nTo see it on a page of this machine:\n  {}\n  (or: cargo run --release -- {})\n",
        demo.open,
        demo.open.trim_start_matches("whirlwright ")
    );
    text
}

/// The files that were written, one a line.
pub fn written(paths: &[PathBuf]) -> String {
    paths
        .iter()
        .map(|path| format!("written: {}\n", path.display()))
        .collect()
}
