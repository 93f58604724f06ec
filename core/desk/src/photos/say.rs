//! Photos as text for people: one line for each thing, nothing in it that steers a terminal.

use std::fmt::Write as _;

use crate::sites::{count, safe};
use crate::wire::photos::{
    ImportOutcome, ImportedFile, North, OffsetSource, PhotoCopies, PhotoImport, PhotoLine, PhotoList, PhotoShown,
    PhotoState,
};

impl PhotoImport {
    /// What came of the files, and the numbers; [`Self::refusals`] are told apart.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text = String::new();
        for file in self.files.iter().filter(|file| file.outcome != ImportOutcome::Refused) {
            let _ = writeln!(text, "{}", imported(file));
        }
        let parts = [
            (self.added, "added"),
            (self.linked, "linked to photos of the survey"),
            (self.restored, "brought back"),
            (self.duplicates, "there already"),
            (self.refused, "refused"),
            (self.not_reached, "not looked at"),
        ];
        let parts = parts.into_iter().filter(|(number, what)| *number > 0 || *what == "added");
        let said: Vec<String> = parts.map(|(number, what)| format!("{number} {what}")).collect();
        let stopped = if self.stopped { "stopped: " } else { "" };
        let _ = writeln!(text, "{stopped}{}: {}", count(self.files.len(), "file"), said.join(", "));
        text
    }

    /// One line for each file that was refused.
    #[must_use]
    pub fn refusals(&self) -> Vec<String> {
        let refused = self.files.iter().filter(|file| file.outcome == ImportOutcome::Refused);
        refused
            .map(|file| format!("{} {}", safe(&file.path), safe(file.reason.as_deref().unwrap_or_default())))
            .collect()
    }
}

fn imported(file: &ImportedFile) -> String {
    let mut parts = vec![match file.outcome {
        ImportOutcome::Added => "added".to_owned(),
        ImportOutcome::Linked => "linked".to_owned(),
        ImportOutcome::Restored => "brought back".to_owned(),
        ImportOutcome::Duplicate => "there already".to_owned(),
        ImportOutcome::Refused => "refused".to_owned(),
        ImportOutcome::NotReached => "not looked at".to_owned(),
    }];
    parts.push(safe(&file.path));
    parts.extend(file.photo.as_deref().map(safe));
    parts.extend(file.reason.iter().chain(&file.remarks).map(|remark| safe(remark)));
    parts.join("  ")
}

impl PhotoList {
    /// One line for each photo, then what seems wrong, then the number.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text: String = self.photos.iter().map(|photo| format!("{}\n", line(photo))).collect();
        for sentence in
            self.away.iter().map(|away| &away.sentence).chain(self.clocks.iter().map(|clock| &clock.sentence))
        {
            let _ = writeln!(text, "{}", safe(sentence));
        }
        let missing = self.photos.iter().filter(|photo| photo.state != PhotoState::Here).count();
        let _ = writeln!(text, "{}, {missing} of them missing here", count(self.photos.len(), "photo"));
        text
    }
}

fn line(photo: &PhotoLine) -> String {
    let mut parts = vec![safe(&photo.id), safe(&photo.file)];
    parts.push(photo.taken.as_deref().map_or_else(|| "no time".to_owned(), safe));
    parts.push(safe(&photo.shows_text));
    parts.extend(state(photo).map(str::to_owned));
    if photo.marks > 0 {
        parts.push(count(photo.marks as usize, "mark"));
    }
    if !photo.note.is_empty() {
        parts.push(safe(&photo.note));
    }
    parts.join("  ")
}

fn state(photo: &PhotoLine) -> Option<&'static str> {
    match photo.state {
        PhotoState::Here => None,
        PhotoState::Missing => Some("missing: not on this device"),
        PhotoState::Named => Some("missing: the survey merely names it"),
    }
}

impl PhotoShown {
    /// Everything that is known of a photo, a line for each.
    #[must_use]
    pub fn to_text(&self) -> String {
        let photo = &self.photo;
        let mut lines = vec![format!("{}  {}", safe(&photo.id), safe(&photo.file))];
        let mut add = |name: &str, value: Option<String>| {
            lines.extend(value.filter(|value| !value.is_empty()).map(|value| format!("  {name}: {}", safe(&value))));
        };
        add("original", self.original.clone().or_else(|| state(photo).map(str::to_owned)));
        add("SHA-256", photo.content_sha256.clone());
        let size = photo.width_px.zip(photo.height_px).map(|(width, height)| format!(", {width} x {height} pixels"));
        let bytes = photo.bytes.map(|bytes| format!(", {bytes} bytes")).unwrap_or_default();
        add("file", photo.file_kind.as_ref().map(|kind| format!("{kind}{}{bytes}", size.unwrap_or_default())));
        let offset = photo.offset_source.map(|source| match source {
            OffsetSource::Camera => " (offset by the camera)",
            OffsetSource::Satellites => " (offset by the satellites' time)",
            OffsetSource::Assumed => " (offset assumed)",
            OffsetSource::Unknown => " (offset unknown)",
        });
        add("taken", photo.taken.as_ref().map(|taken| format!("{taken}{}", offset.unwrap_or_default())));
        add(
            "position",
            photo.position.as_ref().map(|at| {
                let metres = |name: &str, mm: f64| format!(", {name} {:.1} m", mm / 1000.0);
                let altitude =
                    at.altitude_mm.map(|altitude| metres("altitude", altitude.0.to_mm())).unwrap_or_default();
                let accuracy =
                    at.accuracy_mm.map(|accuracy| metres("accuracy", accuracy.0.to_mm())).unwrap_or_default();
                format!("{}, {}{altitude}{accuracy}", at.latitude_deg.0.get(), at.longitude_deg.0.get())
            }),
        );
        add(
            "heading",
            photo.heading.as_ref().map(|heading| {
                let north = match heading.north {
                    North::True => "true north",
                    North::Magnetic => "magnetic north",
                    North::NotStated => "a north that is not stated",
                };
                format!("{}° from {north}", heading.degrees)
            }),
        );
        add("camera", photo.camera.clone());
        add("focal length", photo.focal_length_mm.map(|mm| format!("{mm} mm")));
        add("shows", Some(photo.shows_text.clone()));
        add("proposed", photo.nearest.as_ref().map(|near| near.sentence.clone()));
        add(
            "from the site",
            photo.from_site.as_ref().map(|way| format!("{:.1} m towards {:.0}°", way.distance_m, way.bearing_deg)),
        );
        add("note", Some(photo.note.clone()));
        add("marks", Some(count(self.marks.len(), "mark")));
        for remark in &photo.remarks {
            add("remark", Some(remark.clone()));
        }
        lines.join("\n") + "\n"
    }
}

impl PhotoCopies {
    /// The paths of the copies.
    #[must_use]
    pub fn to_text(&self) -> String {
        self.copies.iter().filter_map(|copy| copy.copy.as_deref()).map(|path| format!("{}\n", safe(path))).collect()
    }

    /// One line for each photo of which there is no copy.
    #[must_use]
    pub fn refusals(&self) -> Vec<String> {
        self.copies.iter().filter_map(|copy| copy.reason.as_deref()).map(safe).collect()
    }
}
