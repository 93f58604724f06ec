//! The photo log as CSV (RFC 4180).

use survey::{Photo, Shows, Survey};
use units::Length;

use crate::geojson::shown;

const HEAD: &[&str] = &[
    "id",
    "file",
    "taken",
    "shows",
    "chainage_mm",
    "latitude_deg",
    "longitude_deg",
    "altitude_mm",
    "accuracy_mm",
    "heading_deg",
    "camera",
    "marks",
    "note",
];

/// One row for each photo, in the survey's order.
#[must_use]
pub fn photo_log(survey: &Survey) -> String {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    // Writing to memory fails only for rows of unequal length, which these are not.
    let _ = writer.write_record(HEAD);
    for photo in &survey.photos {
        let _ = writer.write_record(row(photo));
    }
    String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
}

fn row(photo: &Photo) -> Vec<String> {
    let position = photo.position.as_ref();
    let length = |value: Option<Length>| value.map_or_else(String::new, |value| value.to_mm().to_string());
    let chainage = if let Shows::Rail { chainage, .. } = &photo.shows { *chainage } else { None };
    let words = |text: &str| safe(text);
    vec![
        words(photo.id.as_str()),
        words(&photo.file),
        photo.taken.clone().unwrap_or_default(),
        words(&shown(&photo.shows)),
        length(chainage),
        position.map_or_else(String::new, |p| p.latitude.get().to_string()),
        position.map_or_else(String::new, |p| p.longitude.get().to_string()),
        length(position.and_then(|p| p.altitude)),
        length(position.and_then(|p| p.accuracy)),
        photo.heading.map_or_else(String::new, |heading| heading.get().to_string()),
        words(photo.camera.as_deref().unwrap_or_default()),
        photo.marks.len().to_string(),
        words(&photo.note),
    ]
}

/// Words that a spreadsheet would take for a formula get an apostrophe before them.
fn safe(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r']) { format!("'{text}") } else { text.to_owned() }
}
