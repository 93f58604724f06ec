//! One open site: its document in memory, every edit made durable before it is acknowledged.

use std::collections::{BTreeMap, BTreeSet};

use automerge::transaction::{CommitOptions, Transactable, Transaction};
use automerge::{Automerge, Change, ChangeHash, ObjId, ReadDoc, ScalarValue};

use super::changes::{self, ChangeRow};
use super::projection::{self, Projected};
use super::{Store, StoreError, devices};
use crate::document::{Content, REMOVED, Reading, STAGE, Stage, Thing, field, read, read_content};
use crate::edit::{Edit, Note, Put, Way, apply, changed, name, sentence, write};
use crate::sign::{Claim, DeviceId};
use crate::stored::{Stored, say, say_length};

/// Who made a change, and when.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Author {
    pub device: DeviceId,
    pub person: String,
    pub time_ms: i64,
}

/// A line of the history.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// The change; [`Site::at`] shows the site as it was with it.
    pub change: ChangeHash,
    /// Who.
    pub person: String,
    /// The device.
    pub device: DeviceId,
    /// When, milliseconds since 1970.
    pub time_ms: i64,
    /// What, in words.
    pub sentence: String,
}

/// One of several values of a disputed field.
#[derive(Clone, Debug, PartialEq)]
pub struct Position {
    /// The value as stored.
    pub value: ScalarValue,
    /// The value in words.
    pub said: String,
    /// Who wrote it.
    pub person: String,
    /// When, milliseconds since 1970.
    pub time_ms: i64,
}

/// A field that people changed at once to different values.
#[derive(Clone, Debug, PartialEq)]
pub struct Disagreement {
    /// The thing.
    pub thing: Thing,
    /// The field's name.
    pub field: String,
    /// What it is about, in words.
    pub about: String,
    /// The values, the one shown meanwhile first.
    pub positions: Vec<Position>,
}

/// A change that does not count, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetAside {
    /// Who signed it, by its own word.
    pub person: String,
    /// The device.
    pub device: DeviceId,
    /// Why it does not count.
    pub why: String,
}

/// An open site.
pub struct Site {
    document: String,
    doc: Automerge,
    content: Content,
    authors: BTreeMap<[u8; 32], Author>,
    aside: Vec<SetAside>,
    projected: Projected,
    /// How much this store had taken in when the site was loaded.
    arrivals: u64,
}

impl Site {
    pub(crate) fn empty(document: &str, doc: Automerge, arrivals: u64) -> Self {
        Self {
            document: document.to_owned(),
            doc,
            content: Content::default(),
            authors: BTreeMap::new(),
            aside: Vec::new(),
            projected: Projected::default(),
            arrivals,
        }
    }

    /// Loads a document from its changes; what is not signed by a known device is set aside and named.
    pub(crate) fn load(store: &Store, document: &str) -> Result<Self, StoreError> {
        let rows = changes::of(&store.db, document)?;
        if rows.is_empty() {
            return Err(StoreError::Missing(document.to_owned()));
        }
        let known = devices::all(&store.db)?;
        let certified = devices::certified(&store.db)?;
        let mut site = Self::empty(document, store.access.document(), store.arrivals()?);
        let mut good = Vec::new();
        for row in rows {
            let device = known.get(&row.device);
            let why = match Change::from_bytes(row.chunk.clone()) {
                Err(why) => format!("it is damaged: {why}"),
                Ok(_) if !device.is_some_and(|d| d.known) => "its device is not known here".to_owned(),
                Ok(change) if !certified.contains(&(change.actor_id().to_bytes().to_vec(), row.device)) => {
                    "its device did not certify who wrote it".to_owned()
                }
                Ok(change) if !row.device.signed(&claim(&row), &row.signature) || change.hash().0 != row.hash => {
                    "its signature does not hold".to_owned()
                }
                Ok(change) => {
                    let author = Author { device: row.device, person: row.person, time_ms: row.time_ms };
                    site.authors.insert(row.hash, author);
                    good.push(change);
                    continue;
                }
            };
            site.aside.push(SetAside { person: row.person, device: row.device, why });
        }
        site.doc.apply_changes(good)?;
        let applied: BTreeSet<[u8; 32]> = site.doc.get_changes(&[]).iter().map(|c| c.hash().0).collect();
        for (hash, author) in &site.authors {
            if !applied.contains(hash) {
                let why = "it builds on a change that is not here yet".to_owned();
                site.aside.push(SetAside { person: author.person.clone(), device: author.device, why });
            }
        }
        site.content = Content::walk(&site.doc);
        site.projected = projection::project(&site);
        Ok(site)
    }

    /// Loads again where the store has taken something in since, so that nobody edits a site that is behind.
    ///
    /// # Errors
    /// The database fails.
    pub fn catch_up(&mut self, store: &Store) -> Result<(), StoreError> {
        if self.arrivals != store.arrivals()? {
            *self = Self::load(store, &self.document)?;
        }
        Ok(())
    }

    /// The document's id.
    #[must_use]
    pub fn document(&self) -> &str {
        &self.document
    }

    /// What the document says.
    #[must_use]
    pub fn reading(&self) -> Reading {
        read_content(&self.content)
    }

    /// Everything in the document, thing by thing.
    #[must_use]
    pub fn content(&self) -> &Content {
        &self.content
    }

    /// Changes that do not count.
    #[must_use]
    pub fn set_aside(&self) -> &[SetAside] {
        &self.aside
    }

    pub(crate) fn last_change_ms(&self) -> i64 {
        self.authors.values().map(|author| author.time_ms).max().unwrap_or(0)
    }

    /// Makes an edit and says it in words. When this returns, it is on the disk; writing what stands there already is no
    /// change and says so.
    ///
    /// # Errors
    /// The edit does not fit the document, or the database fails; then nothing is changed.
    pub fn edit(&mut self, store: &mut Store, edit: &Edit, time_ms: i64) -> Result<String, StoreError> {
        self.catch_up(store)?;
        let said = sentence(&self.content, edit);
        let puts = match edit {
            // An addition is taken back by removing it.
            Edit::Add(new) => {
                vec![Put { thing: new.thing(), field: REMOVED.to_owned(), value: ScalarValue::Boolean(false) }]
            }
            _ => crate::edit::puts(&self.content, edit)?,
        };
        let puts = puts
            .into_iter()
            .map(|put| match edit {
                Edit::Add(_) => (put, ScalarValue::Boolean(true)),
                _ => {
                    let before = self.before(&put);
                    (put, before)
                }
            })
            .collect::<Vec<_>>();
        if puts.iter().all(|(put, before)| put.value == *before && !self.is_disputed(put)) {
            let about = puts.first().map(|(put, _)| self.about(&put.thing, &put.field)).unwrap_or_default();
            return Ok(format!("nothing to change: {about} is so already"));
        }
        let note = Note { sentence: said.clone(), way: Way::Do, puts };
        self.commit(store, &note, time_ms, |tx, content| {
            apply(tx, content, edit)?;
            if let Edit::Add(new) = edit {
                let maps = crate::document::maps_in(tx, &new.thing().path());
                for map in maps {
                    tx.put(&map, REMOVED, false)?;
                }
            }
            Ok(())
        })?;
        Ok(said)
    }

    fn is_disputed(&self, put: &Put) -> bool {
        let fields = self.content.things.get(&put.thing);
        fields.and_then(|fields| fields.cells.get(&put.field)).is_some_and(crate::document::Cell::is_disputed)
    }

    fn before(&self, put: &Put) -> ScalarValue {
        let cell = self.content.things.get(&put.thing).and_then(|fields| fields.cells.get(&put.field));
        match cell {
            Some(cell) => cell.value().clone(),
            // Not removed is the same as never removed.
            None if put.field == REMOVED => ScalarValue::Boolean(false),
            None => ScalarValue::Null,
        }
    }

    /// Archives the site, or takes it out of the archive.
    ///
    /// # Errors
    /// The database fails; then nothing is changed.
    pub fn archive(&mut self, store: &mut Store, shelf: Shelf, time_ms: i64) -> Result<(), StoreError> {
        self.catch_up(store)?;
        let archived = shelf == Shelf::Archive;
        let put = Put { thing: Thing::site(), field: REMOVED.to_owned(), value: ScalarValue::Boolean(archived) };
        let said = if archived { "site archived" } else { "site taken out of the archive" };
        let before = self.before(&put);
        self.put_all(store, said.to_owned(), Way::Do, vec![(put, before)], time_ms)
    }

    /// How far the job has come.
    #[must_use]
    pub fn stage(&self) -> Stage {
        let cell = self.content.things.get(&Thing::site()).and_then(|fields| fields.cells.get(STAGE));
        let Some(cell) = cell else { return Stage::default() };
        let values = cell.0.iter().filter_map(|written| Stage::from_scalar(&written.value).ok());
        values.min().unwrap_or_default()
    }

    /// Says how far the job has come.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails; then nothing is changed.
    pub fn put_stage(&mut self, store: &mut Store, stage: Stage, time_ms: i64) -> Result<String, StoreError> {
        self.edit(store, &Edit::set(Thing::site(), STAGE, &stage), time_ms)
    }

    /// Takes back this device's last change, if its values are still its own.
    ///
    /// # Errors
    /// There is none, or somebody has changed a value since.
    pub fn undo(&mut self, store: &mut Store, time_ms: i64) -> Result<String, StoreError> {
        self.catch_up(store)?;
        let (done, _) = self.stacks(store.device.id());
        let note = done.last().cloned().ok_or(StoreError::Nothing("take back"))?;
        self.invert(store, &note, Way::Undo, time_ms)
    }

    /// Makes again what this device took back last, if the values are still its own.
    ///
    /// # Errors
    /// There is none, or somebody has changed a value since.
    pub fn redo(&mut self, store: &mut Store, time_ms: i64) -> Result<String, StoreError> {
        self.catch_up(store)?;
        let (_, undone) = self.stacks(store.device.id());
        let note = undone.last().cloned().ok_or(StoreError::Nothing("make again"))?;
        self.invert(store, &note, Way::Redo, time_ms)
    }

    fn invert(&mut self, store: &mut Store, note: &Note, way: Way, time_ms: i64) -> Result<String, StoreError> {
        let mine = store.device.id();
        for (put, _) in &note.puts {
            let cell = self.content.things.get(&put.thing).and_then(|fields| fields.cells.get(&put.field));
            let theirs = cell.and_then(|cell| {
                cell.0.iter().find(|written| {
                    written.value != put.value || self.author(&written.by).is_none_or(|author| author.device != mine)
                })
            });
            if let Some(written) = theirs {
                let about = self.about(&put.thing, &put.field);
                let who = self.author(&written.by).map_or_else(|| "somebody".to_owned(), |a| a.person.clone());
                return Err(StoreError::ChangedSince { what: about, who });
            }
        }
        let puts: Vec<(Put, ScalarValue)> = note
            .puts
            .iter()
            .map(|(put, before)| (Put { value: before.clone(), ..put.clone() }, put.value.clone()))
            .collect();
        let said = match way {
            Way::Undo => format!("taken back: {}", note.sentence),
            _ => format!("made again: {}", note.sentence.trim_start_matches("taken back: ")),
        };
        self.put_all(store, said.clone(), way, puts, time_ms)?;
        Ok(said)
    }

    /// This device's changes that can be taken back, and those that can be made again, oldest first.
    fn stacks(&self, mine: DeviceId) -> (Vec<Note>, Vec<Note>) {
        let (mut done, mut undone) = (Vec::new(), Vec::new());
        for change in self.doc.get_changes(&[]) {
            if self.authors.get(&change.hash().0).is_none_or(|author| author.device != mine) {
                continue;
            }
            let note = Note::read(change.message().unwrap_or_default());
            match note.way {
                Way::Other => {}
                Way::Do => {
                    done.push(note);
                    undone.clear();
                }
                Way::Undo => {
                    done.pop();
                    undone.push(note);
                }
                Way::Redo => {
                    undone.pop();
                    done.push(note);
                }
            }
        }
        (done, undone)
    }

    /// Fields over which people disagree, those of removed things included.
    #[must_use]
    pub fn disagreements(&self) -> Vec<Disagreement> {
        let mut found = Vec::new();
        for (thing, fields) in &self.content.things {
            for (name, cell) in fields.cells.iter().filter(|(_, cell)| cell.is_disputed()) {
                let length = field(thing.kind, name).is_some_and(|f| f.length);
                let positions = cell
                    .distinct()
                    .into_iter()
                    .map(|written| {
                        let author = self.author(&written.by);
                        Position {
                            value: written.value.clone(),
                            said: if length { say_length(&written.value) } else { say(&written.value) },
                            person: author.map(|a| a.person.clone()).unwrap_or_default(),
                            time_ms: author.map_or(0, |a| a.time_ms),
                        }
                    })
                    .collect();
                let about = self.about(thing, name);
                found.push(Disagreement { thing: thing.clone(), field: name.clone(), about, positions });
            }
        }
        found
    }

    /// Settles a disagreement by one value, which need not be one of those in dispute.
    ///
    /// # Errors
    /// The thing is not there, or the database fails.
    pub fn settle(
        &mut self,
        store: &mut Store,
        about: &Disagreement,
        value: &ScalarValue,
        time_ms: i64,
    ) -> Result<String, StoreError> {
        self.catch_up(store)?;
        let name = name(&self.content, &about.thing);
        let said = changed(&self.content, &about.thing, &name, &about.field, value);
        let said = format!("settled: {said}");
        let put = Put { thing: about.thing.clone(), field: about.field.clone(), value: value.clone() };
        let before = self.before(&put);
        self.put_all(store, said.clone(), Way::Other, vec![(put, before)], time_ms)?;
        Ok(said)
    }

    /// Every change in an order in which each follows what it builds on.
    #[must_use]
    pub fn history(&self) -> Vec<Entry> {
        let changes = self.doc.get_changes(&[]);
        let entries = changes.iter().filter_map(|change| {
            let author = self.authors.get(&change.hash().0)?;
            Some(Entry {
                change: change.hash(),
                person: author.person.clone(),
                device: author.device,
                time_ms: author.time_ms,
                sentence: Note::read(change.message().unwrap_or_default()).sentence,
            })
        });
        entries.collect()
    }

    /// The site as it was with a change and everything that it builds on.
    ///
    /// # Errors
    /// The change is not of this site.
    pub fn at(&self, change: ChangeHash) -> Result<Reading, StoreError> {
        Ok(read(&self.doc.fork_at(&[change])?))
    }

    /// The site as it was at a time: every change up to then whose ground was laid by then.
    ///
    /// # Errors
    /// The document fails.
    pub fn at_time(&self, time_ms: i64) -> Result<Reading, StoreError> {
        let mut within: BTreeSet<ChangeHash> = BTreeSet::new();
        let mut heads: BTreeSet<ChangeHash> = BTreeSet::new();
        for change in self.doc.get_changes(&[]) {
            let early = self.authors.get(&change.hash().0).is_some_and(|author| author.time_ms <= time_ms);
            if early && change.deps().iter().all(|dep| within.contains(dep)) {
                within.insert(change.hash());
                for dep in change.deps() {
                    heads.remove(dep);
                }
                heads.insert(change.hash());
            }
        }
        let heads: Vec<ChangeHash> = heads.into_iter().collect();
        Ok(read(&self.doc.fork_at(&heads)?))
    }

    fn author(&self, by: &ObjId) -> Option<&Author> {
        self.doc.hash_for_opid(by).and_then(|hash| self.authors.get(&hash.0))
    }

    fn about(&self, thing: &Thing, written: &str) -> String {
        let words = field(thing.kind, written).map_or(written, |field| field.words);
        format!("{words} of {}", name(&self.content, thing))
    }

    fn put_all(
        &mut self,
        store: &mut Store,
        sentence: String,
        way: Way,
        puts: Vec<(Put, ScalarValue)>,
        time_ms: i64,
    ) -> Result<(), StoreError> {
        let note = Note { sentence, way, puts };
        self.commit(store, &note, time_ms, |tx, content| {
            for (put, _) in &note.puts {
                write(tx, content, put)?;
            }
            Ok(())
        })
    }

    /// Writes a change into the document and the database; where the database fails, the document is as before.
    pub(crate) fn commit(
        &mut self,
        store: &mut Store,
        note: &Note,
        time_ms: i64,
        make: impl FnOnce(&mut Transaction<'_>, &Content) -> Result<(), StoreError>,
    ) -> Result<(), StoreError> {
        store.access.may_write()?;
        let mut tx = self.doc.transaction();
        if let Err(why) = make(&mut tx, &self.content) {
            tx.rollback();
            return Err(why);
        }
        let options = CommitOptions::default().with_message(note.message()).with_time(time_ms.div_euclid(1000));
        let (Some(hash), _) = tx.commit_with(options) else { return Ok(()) };
        let kept = self.keep(store, note, hash, time_ms);
        if kept.is_err() {
            // What is not on the disk must not be on the screen.
            *self = match Self::load(store, &self.document) {
                Ok(site) => site,
                Err(StoreError::Missing(_)) => Self::empty(&self.document, store.access.document(), store.arrivals),
                Err(why) => return Err(why),
            };
        }
        kept
    }

    fn keep(&mut self, store: &mut Store, note: &Note, hash: ChangeHash, time_ms: i64) -> Result<(), StoreError> {
        let change = self.doc.get_change_by_hash(&hash).ok_or(StoreError::Nothing("keep"))?;
        let device = store.device.id();
        let mut row = ChangeRow {
            document: self.document.clone(),
            hash: hash.0,
            chunk: change.raw_bytes().to_vec(),
            device,
            person: store.device.person.clone(),
            time_ms,
            signature: [0; 64],
        };
        row.signature = store.device.sign(&claim(&row));
        self.authors.insert(hash.0, Author { device, person: row.person.clone(), time_ms });
        let touched: BTreeSet<&Thing> = note.puts.iter().map(|(put, _)| &put.thing).collect();
        if touched.is_empty() || touched.iter().any(|t| !self.content.things.contains_key(*t)) {
            self.content = Content::walk(&self.doc);
        } else {
            for thing in touched {
                self.content.refresh(&self.doc, thing);
            }
        }
        let projected = projection::project(self);
        let tx = store.write()?;
        changes::insert(&tx, &row)?;
        projection::write(&tx, &self.projected, &projected)?;
        tx.commit()?;
        self.projected = projected;
        Ok(())
    }
}

/// Where a site stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shelf {
    /// Among the sites at work.
    Work,
    /// In the archive.
    Archive,
}

pub(crate) fn claim(row: &ChangeRow) -> Claim<'_> {
    Claim::Change { document: &row.document, person: &row.person, time_ms: row.time_ms, chunk: &row.chunk }
}
