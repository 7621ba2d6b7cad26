//! Bringing in what was measured of a spin: the form, and what it sends.

use std::path::PathBuf;

use axum::extract::Multipart;
use maud::{Markup, html};

use crate::desk::spin::sent::Sent;
use crate::error::Trouble;
use crate::web::upload::plain_name;

/// What the file can be: the word the form sends, and what it says.
pub const KINDS: [(&str, &str); 4] = [
    ("log", "A log of one spin (CSV)"),
    ("recording", "A recording of one spin (WAV)"),
    ("compare", "Logs of several throws, to compare (CSV)"),
    ("bearings", "A tray of bearings, spun one by one (CSV)"),
];

/// The form.
pub fn forms(jobs: &[PathBuf]) -> Markup {
    html! {
        details open[jobs.is_empty()] {
            summary { "Bring in what was measured" }
            form.limits method="post" action="/spin" enctype="multipart/form-data" data-busy="Reading …" {
                label { "What it is"
                    select name="kind" { @for (word, says) in KINDS { option value=(word) { (says) } } } }
                label { "File, or files" span.hint { "a log has a header such as time_s,speed_rpm" }
                    input type="file" name="file" required multiple accept=".csv,.txt,.tsv,.wav"; }
                label { "Design it belongs to"
                    select name="job" {
                        @for path in jobs { option value=(crate::keep::file_name(path)) { (crate::keep::file_name(path)) } }
                        option value="" { "none" }
                    } }
                label { "Marks that pass in a turn" input type="number" name="marks" min="1" max="100" value="1"; }
                label { "Unit of the speeds" span.hint { "only where the header is wrong" }
                    select name="speed_unit" {
                        option value="" { "as the header says" }
                        @for unit in ["rpm", "rad/s", "Hz"] { option value=(unit) { (unit) } }
                    } }
                label { "Full scale of the pick-up" span.hint { "of a recording, such as 50 m/s2" }
                    input type="text" name="full_scale" autocomplete="off"; }
                label { "Inertia of the disc" span.hint { "of a tray, such as 900 g·mm2" }
                    input type="text" name="flywheel" autocomplete="off"; }
                label.tick { input type="checkbox" name="skip_refused" value="true"; "Leave out lines that cannot be read" }
                button.main type="submit" { "Read it" }
            }
        }
    }
}

/// The most files of one form.
const MOST_FILES: usize = 20;

/// Reads what the form sends.
///
/// # Errors
/// It did not arrive whole, or holds no file, or too many.
pub async fn read(mut form: Multipart) -> Result<Sent, Trouble> {
    let broken = |e: axum::extract::multipart::MultipartError| {
        Trouble::Input(format!("the form did not arrive whole: {}", e.body_text()))
    };
    let mut sent = Sent::default();
    while let Some(field) = form.next_field().await.map_err(broken)? {
        let name = field.name().unwrap_or_default().to_owned();
        if name == "file" {
            let file = plain_name(field.file_name().unwrap_or_default());
            let bytes = field.bytes().await.map_err(broken)?.to_vec();
            if !file.is_empty() {
                sent.files.push((file, bytes));
            }
            continue;
        }
        let text = field.text().await.map_err(broken)?.trim().to_owned();
        match name.as_str() {
            "kind" => sent.kind = text,
            "job" => sent.job = text,
            "marks" => sent.marks = text,
            "speed_unit" => sent.speed_unit = text,
            "full_scale" => sent.full_scale = text,
            "flywheel" => sent.flywheel = text,
            "skip_refused" => sent.skip_refused = text == "true",
            _ => {}
        }
    }
    match sent.files.len() {
        0 => Err(Trouble::Input("no file was chosen".to_owned())),
        n if n > MOST_FILES => Err(Trouble::Input(format!(
            "{n} files were sent; at most {MOST_FILES} are compared at once"
        ))),
        _ => Ok(sent),
    }
}

/// The job file that was chosen, if any.
///
/// # Errors
/// There is none of that name.
pub fn job_of(sent: &Sent, jobs: &[PathBuf]) -> Result<Option<PathBuf>, Trouble> {
    let named = |path: &&PathBuf| crate::keep::file_name(path) == sent.job;
    match jobs.iter().find(named) {
        Some(path) => Ok(Some(path.clone())),
        None if sent.job.is_empty() => Ok(None),
        None => Err(Trouble::NotFound(format!(
            "there is no job file `{}`",
            sent.job
        ))),
    }
}
