//! Finding a site by what a person calls it: its id, the beginning of its id, or its label.

use record::document::Reading;
use record::store::{Site, SiteRow};
use survey::Survey;

use super::{SiteError, Sites};

const MOST_NAMED: usize = 8;

impl Sites {
    /// The id of the site that is called so.
    pub(crate) fn document(&self, asked: &str) -> Result<String, SiteError> {
        choose(&self.store.sites()?, asked)
    }

    /// The site that is called so.
    pub(crate) fn site(&mut self, asked: &str) -> Result<Site, SiteError> {
        let document = self.document(asked)?;
        Ok(self.store.site(&document)?)
    }
}

/// The survey of a reading, or why there is none.
pub fn survey(document: &str, reading: Reading) -> Result<Survey, SiteError> {
    let Reading { survey, unreadable, .. } = reading;
    survey.ok_or_else(|| {
        let why: Vec<String> =
            unreadable.iter().take(3).map(|u| format!("{} of {}: {}", u.field, u.thing, u.why)).collect();
        let why = if why.is_empty() { "none of its changes counts yet".to_owned() } else { why.join("; ") };
        SiteError::Unreadable { document: document.to_owned(), why }
    })
}

/// The survey of a site as it stands, or why there is none.
pub fn survey_of(site: &Site) -> Result<Survey, SiteError> {
    survey(site.document(), site.reading())
}

/// The whole id or label comes before the beginning of an id, and that before a label in other letters.
fn choose(rows: &[SiteRow], asked: &str) -> Result<String, SiteError> {
    let lower = asked.to_lowercase();
    let ways: [&dyn Fn(&SiteRow) -> bool; 4] = [
        &|row| row.document == asked,
        &|row| row.label == asked,
        &|row| !asked.is_empty() && row.document.starts_with(asked),
        &|row| row.label.to_lowercase() == lower,
    ];
    for way in ways {
        let fits: Vec<&SiteRow> = rows.iter().filter(|row| way(row)).collect();
        match fits.as_slice() {
            [] => {}
            [one] => return Ok(one.document.clone()),
            several => {
                return Err(SiteError::Several { asked: asked.to_owned(), fitting: names(several.iter().copied()) });
            }
        }
    }
    let known = if rows.is_empty() { "none yet; add one with newel site add".to_owned() } else { names(rows.iter()) };
    Err(SiteError::NoSite { asked: asked.to_owned(), known })
}

fn names<'a>(rows: impl ExactSizeIterator<Item = &'a SiteRow>) -> String {
    let more = if rows.len() > MOST_NAMED { ", …" } else { "" };
    let named: Vec<String> = rows.take(MOST_NAMED).map(|row| format!("{} ({})", row.document, row.label)).collect();
    named.join(", ") + more
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_site_is_found_by_id_beginning_or_label() {
        let row = |document: &str, label: &str| SiteRow {
            document: document.to_owned(),
            label: label.to_owned(),
            ..SiteRow::default()
        };
        let rows = [row("ab-1", "Mill stair"), row("ab-2", "Quay"), row("ab", "ab-1"), row("x-9", "Quay")];
        let found = |asked: &str| choose(&rows, asked);
        assert_eq!(found("ab-1").ok().as_deref(), Some("ab-1"), "an id comes before a label");
        assert_eq!(found("ab").ok().as_deref(), Some("ab"), "a whole id comes before its being a beginning");
        assert_eq!(found("x").ok().as_deref(), Some("x-9"));
        assert_eq!(found("mill STAIR").ok().as_deref(), Some("ab-1"));
        assert_eq!(
            found("Quay").map_err(|why| why.to_string()),
            Err("\"Quay\" fits several sites; accepted: one of ab-2 (Quay), x-9 (Quay)".to_owned())
        );
        assert!(found("").is_err());
        assert!(choose(&[], "a").is_err());
    }
}
