//! The page as a person has it before them: in a browser, at the width of a desk and of a tablet,
//! without a network.

#[path = "common/browser.rs"]
mod browser;
mod common;

use std::fs;
use std::path::Path;

use browser::Browser;
use common::{Served, program, root};

/// Desk, 10-inch tablet upright, and a phone; a desk at 200 % zoom is 640 wide.
const WIDTHS: [(u32, u32); 4] = [(1280, 800), (800, 1280), (640, 400), (390, 844)];

fn workshop(folder: &Path) {
    for file in ["halves.csv", "rims.csv", "dunlin.toml", "readings.toml"] {
        fs::copy(
            root().join("examples/first_lot").join(file),
            folder.join(file),
        )
        .expect(file);
    }
    let done = program(folder)
        .args([
            "lot",
            "import",
            "D26",
            "--halves",
            "halves.csv",
            "--rims",
            "rims.csv",
        ])
        .output()
        .expect("the program runs");
    assert!(
        done.status.success(),
        "{}",
        String::from_utf8_lossy(&done.stderr)
    );
}

/// No word on the console, nothing wider than the window, every button large enough.
fn sound(browser: &Browser, place: &str) {
    let console = browser.console();
    assert!(console.is_empty(), "{place}: the console says {console:?}");
    let over = browser
        .run("return document.documentElement.scrollWidth - document.documentElement.clientWidth");
    assert_eq!(
        over.as_i64(),
        Some(0),
        "{place}: scrolls sideways by {over} px"
    );
    // 44 px: the enhanced size of a target in the accessibility guidelines (WCAG 2.2, 2.5.5).
    let small = browser.run(
        "return [...document.querySelectorAll('button,.button,input:not([type=hidden]):not([type=checkbox]),select,summary,label.tick')] \
         .filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 43.5) \
         .map(e => e.outerHTML.slice(0, 80))",
    );
    assert_eq!(
        small.as_array().map(Vec::len),
        Some(0),
        "{place}: small targets {small}"
    );
    let outside = browser.run(
        "return performance.getEntriesByType('resource').map(e => e.name) \
         .filter(n => !n.startsWith(location.origin) && !n.startsWith('data:'))",
    );
    assert_eq!(
        outside.as_array().map(Vec::len),
        Some(0),
        "{place}: reaches outside: {outside}"
    );
}

const DRAWN: &str = "const p = [...document.querySelectorAll('[data-plot]')]; \
    return p.length > 0 && p.every(e => e.dataset.drawn === 'yes' && e.querySelector('svg.main-svg') !== null)";

#[test]
fn scene_the_pages_are_sound_at_every_width_and_need_no_network() {
    let folder = tempfile::tempdir().expect("a folder");
    workshop(folder.path());
    let served = Served::start(folder.path());
    let home = format!("http://{}", served.host);
    for (width, height) in WIDTHS {
        let browser = Browser::start(width, height);
        for path in [
            "/",
            "/lot/D26",
            "/lot/D26/pairing",
            "/lot/D26/part/D26-H0012",
            "/design",
            "/mould",
            "/mould/dunlin.toml/study/fill",
            "/rim",
            "/rim/dunlin.toml/recut?mass=18.17%20g",
            "/spin",
            "/balance",
            "/balance/readings.toml",
            "/nothing",
        ] {
            browser.go(&format!("{home}{path}"));
            let place = format!("{path} at {width} px");
            if ["/lot/D26", "/lot/D26/pairing", "/spin"].contains(&path) {
                browser.wait(&format!("{place}: plots are drawn"), DRAWN);
            }
            if path == "/nothing" {
                // The browser itself notes the status of a page that is not there.
                browser.console();
            }
            sound(&browser, &place);
        }
    }
}

#[test]
fn scene_the_form_pairs_again_and_records_once() {
    let folder = tempfile::tempdir().expect("a folder");
    workshop(folder.path());
    let served = Served::start(folder.path());
    let browser = Browser::start(1280, 800);
    browser.go(&format!("http://{}/lot/D26/pairing", served.host));
    browser.wait("plots are drawn", DRAWN);
    browser.run(
        "document.querySelector('[name=mass_within]').value = '0.08 g'; \
         document.querySelector('form.limits').requestSubmit(); return null",
    );
    browser.wait(
        "the trial is shown",
        "return location.search.includes('mass_within=0.08')",
    );
    browser.wait("plots are drawn", DRAWN);
    browser.run("document.querySelector('form[action*=record]').requestSubmit(); return null");
    browser.wait(
        "the sets are recorded",
        "return document.body.innerText.includes('Recorded ')",
    );
    browser.wait("plots are drawn", DRAWN);
    sound(&browser, "the recorded pairing");
    let shown = browser.run("return document.querySelector('.answer').innerText");
    assert!(
        shown
            .as_str()
            .is_some_and(|text| text.contains("Decided by")),
        "{shown}"
    );
    let done = program(folder.path())
        .args(["lot", "D26", "--format", "json"])
        .output()
        .expect("runs");
    let lot: serde_json::Value = serde_json::from_slice(&done.stdout).expect("JSON");
    assert_eq!(lot["decisions"].as_array().map(Vec::len), Some(1));
    assert_eq!(lot["decisions"][0]["options"]["mass_within"], "0.08 g");
}

#[test]
fn scene_readings_are_brought_in_and_show_what_to_drill() {
    let folder = tempfile::tempdir().expect("a folder");
    workshop(folder.path());
    let served = Served::start(folder.path());
    for (width, height) in [(1280, 800), (800, 1280)] {
        let browser = Browser::start(width, height);
        browser.go(&format!("http://{}/balance", served.host));
        let readings = fs::read_to_string(folder.path().join("readings.toml")).expect("readings");
        let readings = serde_json::to_string(&readings).expect("a text");
        browser.run(&format!(
            "const sent = new DataTransfer(); \
             sent.items.add(new File([{readings}], 'rig.toml', {{ type: 'text/plain' }})); \
             document.querySelector('input[type=file]').files = sent.files; \
             document.querySelector('form[action=\"/balance\"] button.main').click(); return null"
        ));
        browser.wait(
            "the correction is shown",
            "return document.querySelectorAll('figure.drawing svg').length === 1",
        );
        sound(&browser, &format!("the correction at {width} px"));
        let drawn = browser.run(
            "const svg = document.querySelector('figure.drawing svg').getBoundingClientRect(); \
             return svg.width > 300 && svg.height > svg.width / 2 && svg.right <= innerWidth",
        );
        assert_eq!(
            drawn,
            serde_json::Value::Bool(true),
            "the picture at {width} px"
        );
        let table = browser.run("return document.querySelector('table.large').innerText");
        assert!(
            table.as_str().is_some_and(|t| t.contains("Angle")),
            "{table}"
        );
    }
}

#[test]
fn reads_plots_in_dark_and_with_a_pointer() {
    let folder = tempfile::tempdir().expect("a folder");
    workshop(folder.path());
    let served = Served::start(folder.path());
    let browser = Browser::start(800, 1280);
    browser.go(&format!("http://{}/lot/D26", served.host));
    browser.wait("plots are drawn", DRAWN);
    let ink = "return getComputedStyle(document.querySelector('.xtick text')).fill";
    let light = browser.run(ink);
    browser.prefer("dark");
    browser.wait(
        "plots follow the dark page",
        &format!("const ink = () => {{ {ink} }}; return ink() !== {light}"),
    );
    let bars = browser.run("return document.querySelectorAll('.bars .point').length");
    assert!(bars.as_u64().is_some_and(|n| n > 20), "{bars} bars");
    assert!(browser.picture().len() > 10_000);
}
