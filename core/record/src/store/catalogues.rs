//! Catalogues in the team document. A catalogue keeps its id while what it holds is revised; each revision is kept by the
//! SHA-256 of its bytes, and going from one to the next is one value, so that it can be taken back and so that two people who
//! did so at once are both heard.

use super::team::text;
use super::{Disagreement, Position, Store, StoreError, Team, contents};
use crate::document::{CONTENT, Fields, IN_FORCE, Kind, Thing};
use crate::stored::Stored;

/// A catalogue that the team has.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CatalogueRow {
    /// What it is known by, whatever it holds: the SHA-256 of the bytes that it was added with, or that and a number.
    pub id: String,
    /// The SHA-256 of its bytes as they are now, in hexadecimal; of the value shown meanwhile where people differ.
    pub hash: String,
    /// What people call it.
    pub name: String,
    /// Whether it is the one in force.
    pub in_force: bool,
    /// Whether people changed it at once to different ones, which is not settled.
    pub disputed: bool,
}

/// Whether a change of such things is one of catalogues.
fn is_of_catalogues(thing: &Thing) -> bool {
    matches!(thing.kind, Kind::Catalogue | Kind::Firm)
}

impl Store {
    /// The bytes of a catalogue, by the SHA-256 under which the team document or a paper names it.
    ///
    /// # Errors
    /// The database fails.
    pub fn catalogue(&self, hash: &str) -> Result<Option<Vec<u8>>, StoreError> {
        contents::get(&self.db, hash)
    }

    fn keep_content(&mut self, bytes: &[u8]) -> Result<String, StoreError> {
        let tx = self.write()?;
        let hash = contents::put(&tx, bytes)?;
        tx.commit()?;
        Ok(hash)
    }
}

impl Team {
    /// The catalogues that the team has.
    #[must_use]
    pub fn catalogues(&self) -> Vec<CatalogueRow> {
        let in_force = self.in_force();
        let things = self.0.content().of(Kind::Catalogue, "").filter(|(_, fields)| !fields.is_removed());
        let row = |(thing, fields): (&Thing, &Fields)| CatalogueRow {
            id: thing.id.clone(),
            hash: shown_content(thing, fields),
            name: text(fields, "label"),
            in_force: in_force.as_deref() == Some(&thing.id),
            disputed: fields.cells.get(CONTENT).is_some_and(|cell| cell.is_disputed()),
        };
        things.map(row).collect()
    }

    /// The SHA-256 of everything that catalogues hold or held when they were added, each value of a dispute among them.
    #[must_use]
    pub fn catalogue_contents(&self) -> Vec<String> {
        let mut all = Vec::new();
        for (thing, fields) in self.0.content().of(Kind::Catalogue, "") {
            let written = fields.cells.get(CONTENT).into_iter().flat_map(|cell| &cell.0);
            all.extend(written.filter_map(|w| Option::<String>::from_scalar(&w.value).ok().flatten()));
            all.push(thing.id.clone());
        }
        all.sort();
        all.dedup();
        all
    }

    /// What people made of a catalogue that they changed at once, each in another way, with the SHA-256 of each version;
    /// `None` where nobody did.
    #[must_use]
    pub fn disputed_catalogue(&self, id: &str) -> Option<(Disagreement, Vec<String>)> {
        let about = self.0.disagreement(&Thing::new(Kind::Catalogue, id), CONTENT)?;
        let hash = |position: &Position| {
            let written = Option::<String>::from_scalar(&position.value).ok().flatten();
            written.unwrap_or_else(|| id.to_owned())
        };
        let hashes: Vec<String> = about.positions.iter().map(hash).collect();
        (hashes.len() > 1).then_some((about, hashes))
    }

    /// The catalogue in force, by its id; where people put different ones in force there is none until it is settled.
    #[must_use]
    pub fn in_force(&self) -> Option<String> {
        let cell = self.0.content().things.get(&Thing::firm())?.cells.get(IN_FORCE)?;
        if cell.is_disputed() { None } else { Option::from_scalar(cell.value()).ok()? }
    }

    /// Keeps a catalogue and gives its id, which is the SHA-256 of its bytes; where a catalogue that was added with the same
    /// bytes holds others by now, that and a number. Where one holds them already it stays as it is, name and all, and its id is given.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails.
    pub fn add_catalogue(
        &mut self,
        store: &mut Store,
        name: &str,
        bytes: &[u8],
        time_ms: i64,
    ) -> Result<String, StoreError> {
        self.0.catch_up(store)?;
        if let Some(there) = self.catalogue_of(bytes) {
            return Ok(there.id);
        }
        let hash = store.keep_content(bytes)?;
        let id = self.id_for(&hash);
        let said = format!("catalogue {name} added");
        let mut fields = vec![("label", name.to_owned().to_scalar())];
        if id != hash {
            fields.push((CONTENT, Some(hash).to_scalar()));
        }
        self.put(store, said, &Thing::new(Kind::Catalogue, &id), &fields, time_ms)?;
        Ok(id)
    }

    /// The catalogue that holds these very bytes.
    #[must_use]
    pub fn catalogue_of(&self, bytes: &[u8]) -> Option<CatalogueRow> {
        let hash = contents::name(bytes);
        self.catalogues().into_iter().find(|row| row.hash == hash)
    }

    /// The first id for these contents that is free or has them already.
    fn id_for(&self, hash: &str) -> String {
        let ids = std::iter::once(hash.to_owned()).chain((2_u32..).map(|n| format!("{hash}-{n}")));
        let fits = |id: &String| {
            let thing = Thing::new(Kind::Catalogue, id);
            self.0.content().things.get(&thing).is_none_or(|fields| shown_content(&thing, fields) == hash)
        };
        ids.into_iter().find(fits).unwrap_or_default()
    }

    /// Goes on to another revision of a catalogue, which may give it another name, as one change under a sentence.
    ///
    /// # Errors
    /// There is none of this id, the store is open for reading only, or the database fails; then nothing is changed.
    pub fn revise_catalogue(
        &mut self,
        store: &mut Store,
        id: &str,
        (name, bytes): (&str, &[u8]),
        said: String,
        time_ms: i64,
    ) -> Result<(), StoreError> {
        self.0.catch_up(store)?;
        if !self.catalogues().iter().any(|row| row.id == id) {
            return Err(StoreError::NoCatalogue(id.to_owned()));
        }
        let hash = store.keep_content(bytes)?;
        let fields = [("label", name.to_owned().to_scalar()), (CONTENT, Some(hash).to_scalar())];
        self.put(store, said, &Thing::new(Kind::Catalogue, id), &fields, time_ms)
    }

    /// Takes back this device's last change of a catalogue, or of which is in force, if the values are still its own.
    ///
    /// # Errors
    /// There is none, or somebody has changed a value since.
    pub fn undo_catalogues(&mut self, store: &mut Store, time_ms: i64) -> Result<String, StoreError> {
        self.0.undo_of(store, is_of_catalogues, time_ms)
    }

    /// Makes again what [`Self::undo_catalogues`] took back last.
    ///
    /// # Errors
    /// There is none, or somebody has changed a value since.
    pub fn redo_catalogues(&mut self, store: &mut Store, time_ms: i64) -> Result<String, StoreError> {
        self.0.redo_of(store, is_of_catalogues, time_ms)
    }

    /// What [`Self::undo_catalogues`] would take back, and what [`Self::redo_catalogues`] would make again, in words.
    #[must_use]
    pub fn catalogue_steps(&self, store: &Store) -> (Option<String>, Option<String>) {
        self.0.steps_of(store, is_of_catalogues)
    }

    /// Puts a catalogue in force, by its id.
    ///
    /// # Errors
    /// There is none of this id, the store is open for reading only, or the database fails.
    pub fn put_in_force(&mut self, store: &mut Store, id: &str, time_ms: i64) -> Result<(), StoreError> {
        self.0.catch_up(store)?;
        let known = self.catalogues().into_iter().find(|row| row.id == id);
        let row = known.ok_or_else(|| StoreError::NoCatalogue(id.to_owned()))?;
        let said = format!("catalogue {} put in force", row.name);
        self.put(store, said, &Thing::firm(), &[(IN_FORCE, Some(id.to_owned()).to_scalar())], time_ms)
    }
}

/// What a catalogue holds now: what it was added with, until it is revised.
fn shown_content(thing: &Thing, fields: &Fields) -> String {
    let written = fields.cells.get(CONTENT).and_then(|cell| Option::<String>::from_scalar(cell.value()).ok().flatten());
    written.unwrap_or_else(|| thing.id.clone())
}
