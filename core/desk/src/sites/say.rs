//! Answers as text for people: one line for each thing, nothing in it that steers a terminal.

use std::fmt::Write as _;

use super::moment;
use crate::safe::safe;
use crate::wire::sites::{
    CatalogueLine, CatalogueList, DeviceList, SiteArrival, SiteDisagreements, SiteHistory, SiteHits, SiteLine,
    SiteList, SiteSent,
};

/// What was done to a site.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Said {
    /// The site's id.
    pub id: String,
    /// What was done, in words.
    pub sentence: String,
}

/// A time as a person reads it, from the form for programs.
pub fn when(written: &str) -> String {
    moment::named(written).map_or_else(|| written.to_owned(), moment::said)
}

impl SiteList {
    /// One line for each site, and one that counts them.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text: String = self.sites.iter().map(|line| format!("{}\n", site(line))).collect();
        let archived = self.sites.iter().filter(|line| line.archived).count();
        let _ = writeln!(text, "{}, {archived} of them in the archive", count(self.sites.len(), "site"));
        text
    }
}

fn site(line: &SiteLine) -> String {
    let mut parts = vec![
        safe(&line.id),
        safe(&line.label),
        line.stage.clone(),
        count(line.rails as usize, "rail"),
        count(line.features as usize, "feature"),
        count(line.photos as usize, "photo"),
        format!("survey: {} stop, {} open", line.findings.stop, line.findings.open),
    ];
    for (number, word) in
        [(line.disagreements, "disagreement"), (line.unreadable, "unreadable value"), (line.set_aside, "change")]
    {
        if number > 0 {
            let aside = if word == "change" { " set aside" } else { "" };
            parts.push(count(number as usize, word) + aside);
        }
    }
    if line.archived {
        parts.push("archived".to_owned());
    }
    parts.push(format!("changed {}", when(&line.last_change)));
    parts.join("  ")
}

/// "1 rail", "2 rails", "0 rails".
pub fn count(number: usize, word: &str) -> String {
    format!("{number} {word}{}", if number == 1 { "" } else { "s" })
}

impl SiteHistory {
    /// One line for each change: name, when, who, what.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text = String::new();
        for line in &self.changes {
            let (name, who) = (&line.change[..line.change.len().min(12)], safe(&line.person));
            let _ = writeln!(text, "{name}  {}  {who}  {}", when(&line.when), safe(&line.sentence));
        }
        for line in &self.set_aside {
            let device = &line.device[..line.device.len().min(16)];
            let _ = writeln!(text, "set aside: a change by {} on device {device}: {}", safe(&line.person), line.why);
        }
        text
    }
}

impl SiteDisagreements {
    /// Each disagreement with its values and how to settle it.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text = String::new();
        for line in &self.disagreements {
            let stops = if line.stops { " (counts as stop until it is settled)" } else { "" };
            let _ = writeln!(text, "{}{stops}", safe(&line.about));
            for position in &line.positions {
                let who = safe(&position.person);
                let _ = writeln!(
                    text,
                    "  {}  {}  by {who}, {}",
                    position.number,
                    safe(&position.value),
                    when(&position.when)
                );
            }
            let _ = writeln!(text, "  settle: newel site settle '{}' '{}' NUMBER", safe(&self.id), safe(&line.name));
        }
        let _ = writeln!(text, "{}", count(self.disagreements.len(), "disagreement"));
        text
    }
}

impl SiteHits {
    /// One line for each place.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text = String::new();
        for hit in &self.hits {
            let (label, thing, words) = (safe(&hit.label), safe(&hit.thing), safe(&hit.text));
            let _ = writeln!(text, "{}  {label}  {thing}, {}: {words}", safe(&hit.id), hit.field);
        }
        let _ = writeln!(text, "{}", count(self.hits.len(), "place"));
        text
    }
}

impl SiteArrival {
    /// What came, in one sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        let waiting = match self.unknown_devices.len() {
            0 => "",
            _ => "; what came from a device that is not known here waits",
        };
        let photos =
            if self.photos > 0 { format!(", {}", count(self.photos as usize, "photo")) } else { String::new() };
        let aside = match self.photos_set_aside.len() {
            0 => String::new(),
            aside => format!("; {} damaged on the way and not taken in", count(aside, "photo")),
        };
        format!("taken in: {}{photos}{aside}{waiting}", count(self.new_changes as usize, "new change"))
    }

    /// What came, and who has to be vouched for.
    #[must_use]
    pub fn to_text(&self) -> String {
        let sites = self.sites.iter().map(|id| safe(id)).collect::<Vec<_>>().join(", ");
        let photos =
            if self.photos > 0 { format!(", {}", count(self.photos as usize, "photo")) } else { String::new() };
        let mut text = format!("{sites}: {}{photos}\n", count(self.new_changes as usize, "new change"));
        for photo in &self.photos_set_aside {
            let _ = writeln!(text, "photo {} was not taken in: {}", safe(&photo.file), safe(&photo.why));
        }
        for device in &self.unknown_devices {
            let _ = writeln!(
                text,
                "{} on {} is not known here, so what came from there waits; ask whether it is theirs, then: newel device know {}",
                safe(&device.person),
                safe(&device.device),
                &device.id[..16]
            );
        }
        text
    }
}

impl SiteSent {
    /// How many photos do not travel, to go on a sentence; nothing where all do.
    pub(crate) fn left_out(&self) -> String {
        match self.photos_left_out.len() {
            0 => String::new(),
            left => format!("; without {} that could not be read here", count(left, "photo")),
        }
    }

    /// What travels, and what does not.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text = format!("{} with its history and {}\n", safe(&self.id), count(self.photos as usize, "photo"));
        for photo in &self.photos_left_out {
            let _ = writeln!(text, "photo {} does not travel with it: {}", safe(&photo.file), safe(&photo.why));
        }
        text
    }
}

/// As many digits of a SHA-256 as tell catalogues apart; what others wrote in its place may be anything.
pub(super) fn short(hash: &str) -> String {
    safe(&hash.chars().take(12).collect::<String>())
}

impl CatalogueList {
    /// One line for each catalogue.
    #[must_use]
    pub fn to_text(&self) -> String {
        let line = |line: &CatalogueLine| {
            let force = if line.in_force { "  in force" } else { "" };
            format!("{}  {}{force}\n", short(&line.content_sha256), safe(&line.name))
        };
        self.catalogues.iter().map(line).collect()
    }
}

impl DeviceList {
    /// One line for each device.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text = String::new();
        for line in &self.devices {
            let state = match (line.this, line.known) {
                (true, _) => "this device",
                (false, true) => "known",
                (false, false) => "not known, its changes wait",
            };
            let _ = writeln!(text, "{}  {}  {}  {state}", &line.id[..16], safe(&line.person), safe(&line.device));
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hash_that_is_none_is_cut_short_like_any() {
        let bytes = "é\u{1b}[2J".repeat(9);
        assert_eq!(short(&bytes), safe(&bytes.chars().take(12).collect::<String>()));
        for (hash, shown) in [("0123456789abcdef", "0123456789ab"), ("0123", "0123"), ("", "")] {
            assert_eq!(short(hash), shown);
        }
    }
}
