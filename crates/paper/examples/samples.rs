//! Writes every picture and sheet, filled with made-up answers, into a folder to be looked at:
//! `cargo run -p whirlwright-paper --example samples -- FOLDER`.

#[path = "../tests/invented/mod.rs"]
mod invented;

use std::path::PathBuf;

use whirlwright_paper::sheet::{self, Head, Traveller};
use whirlwright_paper::{picture, spread, text};
use whirlwright_workshop::moulding::StudyKind;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = std::env::args_os()
        .nth(1)
        .map_or_else(|| PathBuf::from("."), PathBuf::from);
    std::fs::create_dir_all(&folder)?;
    let write = |name: &str, bytes: &[u8]| std::fs::write(folder.join(name), bytes);
    let head = Head {
        lot: "D26".to_owned(),
        design: "Dunlin".to_owned(),
        revision: "B".to_owned(),
        printed: "2026-03-03 09:12".to_owned(),
        note: Some("invented".to_owned()),
        link: None,
    };
    let (four, two) = (invented::four_parts(240), invented::dressed(48));
    let (section, measuring) = (invented::section(), invented::measuring());
    write("cut.svg", picture::cut(&section.body).as_bytes())?;
    write("shares.svg", picture::shares(&section.body).as_bytes())?;
    write("pairing.svg", picture::pairing(&four.body).as_bytes())?;
    write(
        "pairing-dressed.svg",
        picture::pairing(&two.body).as_bytes(),
    )?;
    let families = spread::of_pairing(&four.body);
    write(
        "distribution.svg",
        picture::distribution(&families).as_bytes(),
    )?;
    let families = spread::of_measuring(&measuring.body);
    write(
        "distribution-halves.svg",
        picture::distribution(&families).as_bytes(),
    )?;
    let drawn = [
        (
            "polar.svg",
            picture::polar_drawing("Unbalance", &invented::balance::planes()),
        ),
        (
            "polar-one.svg",
            picture::polar_drawing("Unbalance", &invented::balance::single()),
        ),
        (
            "rim.svg",
            picture::rim_view_drawing(&invented::balance::rim()),
        ),
        (
            "holes.svg",
            picture::cut_works_drawing(&invented::balance::cuts()),
        ),
    ];
    for (name, drawing) in drawn {
        write(name, drawing.to_svg().as_bytes())?;
    }
    let (correct, limit) = (invented::balance::correct(), invented::balance::limit());
    let view = invented::balance::view();
    write(
        "balance.svg",
        picture::balance(&correct.body, &view).as_bytes(),
    )?;
    write(
        "balance.pdf",
        &sheet::balance_sheet(&correct, &view, &head)?,
    )?;
    write("budget.svg", picture::budget(&limit.body).as_bytes())?;
    write("limit.pdf", &sheet::limit_sheet(&limit, &head)?)?;
    let (mould, view) = (invented::mould::mould(), invented::mould::view());
    write(
        "shot.svg",
        picture::mould::mould(&mould.body, &view).as_bytes(),
    )?;
    write("set-up.pdf", &sheet::mould_sheet(&mould, &view, &head)?)?;
    let window = invented::mould::study(StudyKind::Window);
    write("window.svg", picture::mould::study(&window.body).as_bytes())?;
    write("window.pdf", &sheet::study_sheet(&window, &head)?)?;
    write("pick-list.pdf", &sheet::pick_list(&four, &head)?)?;
    write("pick-list-dressed.pdf", &sheet::pick_list(&two, &head)?)?;
    write("sets.pdf", &sheet::set_list(&four, &head)?)?;
    write("sets-dressed.pdf", &sheet::set_list(&two, &head)?)?;
    write("recut-list.pdf", &sheet::recut_list(&four, &head)?)?;
    write("pairing.pdf", &sheet::pairing_sheet(&four, &head)?)?;
    write(
        "traveller.pdf",
        &sheet::traveller(&Traveller::of_pairing(&four.body), &head)?,
    )?;
    write("section.pdf", &sheet::section_sheet(&section, &head)?)?;
    write("pair.txt", text::pair(&four).as_bytes())?;
    write("pair-dressed.txt", text::pair(&two).as_bytes())?;
    write("section.txt", text::section(&section).as_bytes())?;
    write("measuring.txt", text::measuring(&measuring).as_bytes())?;
    Ok(())
}
