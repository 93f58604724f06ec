//! Lists and search: what can be rebuilt from the changes at any time, kept up part by part.

mod originals;
mod sites;
mod texts;

use std::collections::{BTreeMap, BTreeSet};

use automerge::ScalarValue;
use rusqlite::Connection;
use survey::{Verdict, consistency};

use super::site::{Shelf, Site};
use super::team::TEAM;
use super::{StoreError, hash_of, hex};
use crate::document::{Cell, Kind, Part, Thing};
use crate::stored::Stored;

use originals::Original;
pub use sites::SiteRow;
pub(crate) use sites::list;
pub use texts::Hit;
pub(crate) use texts::{Text, search};

pub(crate) const STEP_1: [&str; 2] = [sites::STEP_1, texts::STEP_1];
pub(crate) const STEP_2: &str = sites::STEP_2;
pub(crate) const STEP_3: &str = texts::STEP_3;
pub(crate) const STEP_5: &str = originals::STEP_5;

/// The fields whose texts are found.
const FOUND: [&str; 5] = ["label", "note", "address", "concerns", "file"];

/// What one part of a site shows in lists and search.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Share {
    rails: i64,
    features: i64,
    photos: i64,
    stops: i64,
    findings: i64,
    unreadable: i64,
    /// Fields over which people disagree.
    pub disputed: Vec<(Thing, String)>,
    texts: BTreeSet<Text>,
    /// The content of the photo that it is.
    original: Option<[u8; 32]>,
}

impl Share {
    /// Works it out of a part as it was read.
    pub(crate) fn of(site: &Site, head: &Thing, part: &Part) -> Self {
        let content = site.content();
        let mut share = Self::default();
        let own = content.things.get_key_value(head).into_iter();
        let within = [Kind::Piece, Kind::Feature].into_iter().filter(|_| head.kind == Kind::Rail);
        for (thing, fields) in own.chain(within.flat_map(|kind| content.of(kind, &head.id))) {
            let disputed = fields.cells.iter().filter(|(_, cell)| cell.is_disputed());
            share.disputed.extend(disputed.map(|(name, _)| (thing.clone(), name.clone())));
            if thing.kind.is_single() || content.is_visible(thing) {
                share.texts.extend(FOUND.into_iter().filter_map(
                    |name| match fields.cells.get(name).map(Cell::value) {
                        Some(ScalarValue::Str(text)) if !text.is_empty() => {
                            Some(Text { thing: thing.clone(), field: name.to_owned(), text: text.to_string() })
                        }
                        _ => None,
                    },
                ));
            }
        }
        let mut findings = site.concerns_of(head, part, &share.disputed);
        if let Some(rail) = part.rail() {
            (share.rails, share.features) = (1, count(rail.features.len()));
            findings.extend(consistency::of_rail(rail));
        }
        share.photos = i64::from(part.is_photo());
        let file = content.things.get(head).filter(|_| part.is_photo()).and_then(|fields| fields.cells.get("content"));
        let file = file.and_then(|cell| Option::<String>::from_scalar(cell.value()).ok().flatten());
        share.original = file.as_deref().and_then(hash_of);
        share.stops = count(findings.iter().filter(|f| f.verdict == Verdict::Stop).count());
        share.findings = count(findings.iter().filter(|f| f.verdict != Verdict::Pass).count());
        share.unreadable = count(part.notes.len());
        share
    }
}

/// What a site, or some parts of it, shows in lists and search.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Projected {
    pub row: SiteRow,
    pub shares: BTreeMap<Thing, Share>,
}

impl Projected {
    /// Adds the shares of a site up.
    pub(crate) fn new(site: &Site, shares: BTreeMap<Thing, Share>) -> Self {
        let sum = |count: fn(&Share) -> i64| shares.values().map(count).sum();
        let mut row = SiteRow {
            document: site.document().to_owned(),
            rails: sum(|share| share.rails),
            features: sum(|share| share.features),
            photos: sum(|share| share.photos),
            stops: sum(|share| share.stops),
            findings: sum(|share| share.findings),
            disagreements: sum(|share| count(share.disputed.len())),
            unreadable: sum(|share| share.unreadable) + count(site.content().strange.len()),
            set_aside: count(site.set_aside().len()),
            archived: site.shelf() == Shelf::Archive,
            last_change_ms: site.last_change_ms(),
            stage: site.stage(),
            ..SiteRow::default()
        };
        if let Some(read) = site.parts().find_map(|(_, part)| part.site()) {
            row.label.clone_from(&read.label);
            row.address.clone_from(&read.address);
        }
        Self { row, shares }
    }

    fn originals(&self) -> BTreeSet<Original> {
        let of = |(thing, share): (&Thing, &Share)| Some((thing.id.clone(), share.original?));
        self.shares.iter().filter_map(of).collect()
    }

    fn texts(&self) -> BTreeSet<&Text> {
        self.shares.values().flat_map(|share| &share.texts).collect()
    }
}

fn count(n: usize) -> i64 {
    i64::try_from(n).unwrap_or(i64::MAX)
}

/// Writes what changed between two projections of the same parts of one site; the team document is in no list.
pub(crate) fn write(db: &Connection, old: &Projected, new: &Projected) -> Result<(), StoreError> {
    if new.row.document == TEAM {
        return Ok(());
    }
    if old.row != new.row {
        sites::put(db, &new.row)?;
    }
    originals::replace(db, &new.row.document, &old.originals(), &new.originals())?;
    replace(db, &new.row.document, &old.texts(), &new.texts())
}

/// Writes a projection over whatever the database shows of the site.
pub(crate) fn write_over(db: &Connection, new: &Projected) -> Result<(), StoreError> {
    if new.row.document == TEAM {
        return Ok(());
    }
    sites::put(db, &new.row)?;
    originals::replace(db, &new.row.document, &originals::of(db, &new.row.document)?, &new.originals())?;
    let old = texts::of(db, &new.row.document)?;
    replace(db, &new.row.document, &old.iter().collect(), &new.texts())
}

fn replace(db: &Connection, document: &str, old: &BTreeSet<&Text>, new: &BTreeSet<&Text>) -> Result<(), StoreError> {
    for text in old.difference(new) {
        texts::remove(db, document, text)?;
    }
    for text in new.difference(old) {
        texts::insert(db, document, text)?;
    }
    Ok(())
}

/// Forgets everything, before a rebuild.
pub(crate) fn clear(db: &Connection) -> Result<(), StoreError> {
    db.execute("DELETE FROM sites", [])?;
    originals::clear(db)?;
    texts::clear(db)
}

/// Everything in order, for comparing.
pub(crate) fn dump(db: &Connection) -> Result<String, StoreError> {
    let mut sites = list(db)?;
    sites.sort_by(|a, b| a.document.cmp(&b.document));
    let mut text = String::new();
    for row in sites {
        text.push_str(&format!("{row:?}\n"));
        for found in texts::of(db, &row.document)? {
            text.push_str(&format!("{} {found:?}\n", row.document));
        }
        for (photo, content) in originals::of(db, &row.document)? {
            text.push_str(&format!("{} {photo} {}\n", row.document, hex(&content)));
        }
    }
    Ok(text)
}
