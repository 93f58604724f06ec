//! Making changes: into the document, then onto the disk with the lists, and only then acknowledged.

use std::collections::{BTreeMap, BTreeSet};

use automerge::transaction::{CommitOptions, Transactable, Transaction};
use automerge::{ChangeHash, PatchLog, ROOT, ReadDoc, ScalarValue};

use super::{Author, Site, Store, StoreError};
use crate::document::{
    Cell, Content, Fields, REMOVED, Reading, SCHEMA_VERSION, STAGE, Stage, Thing, compose, maps_in, part, part_of,
};
use crate::edit::{Edit, Note, Put, Way, WrittenPut, apply, apply_all, like, open, sentence, together, write};
use crate::sign::Claim;
use crate::store::changes::{self, ChangeRow};
use crate::store::{PhotoRow, devices, photos, projection, snapshots};

/// Where a site stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shelf {
    /// Among the sites at work.
    Work,
    /// In the archive.
    Archive,
}

/// So many changes make a new snapshot worth its while; one takes as long as some ten edits.
const WORTH_A_SNAPSHOT: usize = 400;

/// Fills a change and says what it does.
type Make<'a> = Box<dyn FnOnce(&mut Transaction<'_>, &mut Content) -> Result<Note, StoreError> + 'a>;

impl Site {
    /// Makes an edit and says it in words. When this returns, it is on the disk; writing what stands there already is no
    /// change and says so.
    ///
    /// # Errors
    /// The edit does not fit the document, the store is open for reading only, or the database fails; then nothing is
    /// changed.
    pub fn edit(&mut self, store: &mut Store, edit: &Edit, time_ms: i64) -> Result<String, StoreError> {
        self.edit_all(store, std::slice::from_ref(edit), time_ms)
    }

    /// Makes edits, each built on those before it, as one change: signed once and taken back at once.
    ///
    /// # Errors
    /// As [`Self::edit`]; where one of them does not fit, none is made.
    pub fn edit_all(&mut self, store: &mut Store, edits: &[Edit], time_ms: i64) -> Result<String, StoreError> {
        self.catch_up(store)?;
        let about = match edits {
            [one] => crate::edit::puts(&self.content, one)?.first().map(|put| self.about(&put.thing, &put.field)),
            _ => None,
        };
        let made = self.commit(store, vec![Box::new(|tx, content| fill(tx, content, edits))], &[], time_ms)?;
        Ok(made.into_iter().next().unwrap_or_else(|| match about {
            Some(about) => format!("nothing to change: {about} is so already"),
            None => "nothing to change: everything is so already".to_owned(),
        }))
    }

    /// What the site would say after edits, of which nothing is kept.
    ///
    /// # Errors
    /// One of them does not fit the document.
    pub fn rehearse(&mut self, store: &Store, edits: &[Edit]) -> Result<Reading, StoreError> {
        self.catch_up(store)?;
        let mut content = self.content.clone();
        let mut tx = self.doc.transaction();
        let filled = fill(&mut tx, &mut content, edits);
        tx.rollback();
        let mut parts = self.parts.clone();
        for written in filled?.puts {
            let head = part_of(&written.put.thing);
            parts.insert(head.clone(), part(&content, &head));
        }
        Ok(compose(&content, &parts))
    }

    /// Makes edits as one change under a sentence of its own, together with rows of the photo index: all of it is on the
    /// disk when this returns, or nothing. One step takes it back. No edit builds on another.
    ///
    /// # Errors
    /// As [`Self::edit`].
    pub fn edit_with_photos(
        &mut self,
        store: &mut Store,
        sentence: &str,
        edits: &[Edit],
        rows: &[PhotoRow],
        time_ms: i64,
    ) -> Result<(), StoreError> {
        self.catch_up(store)?;
        let make = |tx: &mut Transaction<'_>, content: &mut Content| fill_at_once(tx, content, edits, sentence);
        self.commit(store, vec![Box::new(make)], rows, time_ms).map(drop)
    }

    /// Archives the site, or takes it out of the archive.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails; then nothing is changed.
    pub fn archive(&mut self, store: &mut Store, shelf: Shelf, time_ms: i64) -> Result<(), StoreError> {
        self.catch_up(store)?;
        if shelf == self.shelf() && !self.cell(&Thing::site(), REMOVED).is_some_and(Cell::is_disputed) {
            return Ok(());
        }
        let archived = shelf == Shelf::Archive;
        let put = Put { thing: Thing::site(), field: REMOVED.to_owned(), value: ScalarValue::Boolean(archived) };
        let said = if archived { "site archived" } else { "site taken out of the archive" };
        let put = WrittenPut::over(&self.content, put);
        self.put_all(store, said.to_owned(), Way::Do, vec![put], time_ms)
    }

    /// Whether the site is in the archive.
    #[must_use]
    pub fn shelf(&self) -> Shelf {
        let archived = self.content.things.get(&Thing::site()).is_some_and(Fields::is_removed);
        if archived { Shelf::Archive } else { Shelf::Work }
    }

    /// Says how far the job has come.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails; then nothing is changed.
    pub fn put_stage(&mut self, store: &mut Store, stage: Stage, time_ms: i64) -> Result<String, StoreError> {
        self.edit(store, &Edit::set(Thing::site(), STAGE, &stage), time_ms)
    }

    /// Writes values as one change; where a put has several values, each in a change of its own beside the others, so
    /// that they are in dispute as they were.
    pub(in crate::store) fn put_all(
        &mut self,
        store: &mut Store,
        sentence: String,
        way: Way,
        puts: Vec<WrittenPut>,
        time_ms: i64,
    ) -> Result<(), StoreError> {
        let most = puts.iter().map(|written| written.others.len()).max().unwrap_or(0);
        let mut all: Vec<Make<'_>> = Vec::new();
        // The change that comes last wins, so the value that counted before is written last.
        for n in 0..most {
            let other = |w: &WrittenPut| Some(Put { value: w.others.get(n)?.clone(), ..w.put.clone() });
            let values = puts.iter().filter_map(other).flat_map(afresh).collect();
            let said = format!("{sentence} (another value in dispute)");
            all.push(Box::new(put_each(values, Note { sentence: said, way: Way::Other, puts: Vec::new() })));
        }
        let values =
            puts.iter().flat_map(|w| if w.others.is_empty() { vec![w.put.clone()] } else { afresh(w.put.clone()) });
        let values = values.collect();
        all.push(Box::new(put_each(values, Note { sentence, way, puts })));
        self.commit(store, all, &[], time_ms).map(drop)
    }

    /// Writes a whole document, which only ever creates one.
    pub(crate) fn create(
        &mut self,
        store: &mut Store,
        sentence: String,
        time_ms: i64,
        make: impl FnOnce(&mut Transaction<'_>) -> Result<(), StoreError>,
    ) -> Result<(), StoreError> {
        let note = Note { sentence, way: Way::Other, puts: Vec::new() };
        self.commit(store, vec![Box::new(|tx, _| make(tx).map(|()| note))], &[], time_ms).map(drop)
    }

    /// Adds a thing with its fields; it is taken back by removing it.
    pub(in crate::store) fn add(
        &mut self,
        store: &mut Store,
        sentence: String,
        thing: &Thing,
        fields: &[(&str, ScalarValue)],
        time_ms: i64,
    ) -> Result<(), StoreError> {
        let put = Put { thing: thing.clone(), field: REMOVED.to_owned(), value: ScalarValue::Boolean(false) };
        let note = Note { sentence, way: Way::Do, puts: vec![WrittenPut::new(put, ScalarValue::Boolean(true))] };
        let make = |tx: &mut Transaction<'_>, _: &mut Content| {
            let map = open(tx, &thing.path())?;
            tx.put(&map, REMOVED, false)?;
            for (name, value) in fields {
                tx.put(&map, *name, value.clone())?;
            }
            Ok(note)
        };
        self.commit(store, vec![Box::new(make)], &[], time_ms).map(drop)
    }

    /// Writes changes that know nothing of each other into the document and the database, and says what each did; where
    /// either fails, the document is as before.
    fn commit(
        &mut self,
        store: &mut Store,
        all: Vec<Make<'_>>,
        files: &[PhotoRow],
        time_ms: i64,
    ) -> Result<Vec<String>, StoreError> {
        store.access.may_write()?;
        let made = self.make(all, time_ms).and_then(|made| {
            if !made.is_empty() || !files.is_empty() {
                self.keep(store, &made, files, time_ms)?;
            }
            Ok(made.into_iter().map(|(note, _)| note.sentence).collect())
        });
        if made.is_err() {
            // What is not on the disk must not be on the screen.
            *self = match Self::load(store, &self.document) {
                Ok(site) => site,
                Err(StoreError::Missing(_)) => Self::empty(&self.document, store.access.document(), store.arrivals),
                Err(why) => return Err(why),
            };
        }
        made
    }

    fn make(&mut self, all: Vec<Make<'_>>, time_ms: i64) -> Result<Vec<(Note, ChangeHash)>, StoreError> {
        let heads = self.doc.get_heads();
        let mut made = Vec::new();
        for make in all {
            let mut tx = if made.is_empty() {
                self.doc.transaction()
            } else {
                self.doc.transaction_at(PatchLog::inactive(), &heads).map_err(automerge::AutomergeError::from)?
            };
            let note = match make(&mut tx, &mut self.content) {
                Ok(note) => note,
                Err(why) => {
                    tx.rollback();
                    return Err(why);
                }
            };
            if note.way == Way::Do && note.puts.is_empty() {
                tx.rollback();
                continue;
            }
            // An older document takes this release's shape with the first change that this release makes.
            if self.content.schema_version.is_some_and(|found| found < SCHEMA_VERSION) {
                tx.put(ROOT, "schema_version", SCHEMA_VERSION)?;
            }
            let options = || CommitOptions::default().with_message(note.message()).with_time(time_ms.div_euclid(1000));
            let hash = match tx.commit_with(options()).0 {
                Some(hash) => hash,
                // What takes back or makes again is counted even where the value stands already.
                None if matches!(note.way, Way::Undo | Way::Redo) => self.doc.empty_commit(options()),
                None => continue,
            };
            made.push((note, hash));
        }
        Ok(made)
    }

    fn keep(
        &mut self,
        store: &mut Store,
        made: &[(Note, ChangeHash)],
        files: &[PhotoRow],
        time_ms: i64,
    ) -> Result<(), StoreError> {
        let device = store.device.id();
        let mut rows = Vec::new();
        for (_, hash) in made {
            let change = self.doc.get_change_by_hash(hash).ok_or(StoreError::Nothing("keep"))?;
            let actor = change.actor_id().to_bytes().to_vec();
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
            rows.push((row, actor));
        }
        let touched: BTreeSet<&Thing> =
            made.iter().flat_map(|(note, _)| &note.puts).map(|written| &written.put.thing).collect();
        let (old, new) = if touched.is_empty() {
            let old = std::mem::take(&mut self.projected);
            self.look();
            (old, self.projected.clone())
        } else {
            self.look_at(&touched.into_iter().collect::<Vec<_>>())
        };
        // Whoever has opened a store and changed nothing leaves nothing in it.
        let certificates: Vec<devices::ActorRow> = rows
            .iter()
            .filter(|(_, actor)| !store.certified.contains(actor))
            .map(|(_, actor)| devices::ActorRow {
                actor: actor.clone(),
                device,
                signature: store.device.sign(&Claim::Actor { actor }),
            })
            .collect();
        let tx = store.write()?;
        for certificate in &certificates {
            devices::insert_actor(&tx, certificate)?;
        }
        for (row, _) in &rows {
            changes::insert(&tx, row)?;
        }
        for row in files {
            photos::put(&tx, row)?;
        }
        projection::write(&tx, &old, &new)?;
        tx.commit()?;
        store.certified.extend(certificates.into_iter().map(|certificate| certificate.actor));
        self.since_snapshot += rows.len();
        if self.since_snapshot >= WORTH_A_SNAPSHOT {
            self.since_snapshot = 0;
            // A snapshot only makes the next opening quicker: where it cannot be kept, nothing is lost.
            let _ = snapshots::put(&store.db, &self.document, &self.doc);
        }
        Ok(())
    }
}

/// Writes a value even where it stands already: the document leaves out a put that changes nothing, and what stands there
/// is replaced by the values beside it.
fn afresh(put: Put) -> Vec<Put> {
    vec![Put { value: ScalarValue::Null, ..put.clone() }, put]
}

fn put_each(
    values: Vec<Put>,
    note: Note,
) -> impl FnOnce(&mut Transaction<'_>, &mut Content) -> Result<Note, StoreError> {
    move |tx, content| {
        for put in &values {
            write(tx, content, put)?;
        }
        Ok(note)
    }
}

/// The puts of an edit with what stands there before. An addition is taken back by removing it.
fn written_by(content: &Content, edit: &Edit) -> Result<Vec<WrittenPut>, StoreError> {
    Ok(match edit {
        Edit::Add(_) => {
            let put = Put { thing: edit.thing(), field: REMOVED.to_owned(), value: ScalarValue::Boolean(false) };
            vec![WrittenPut::new(put, ScalarValue::Boolean(true))]
        }
        _ => crate::edit::puts(content, edit)?.into_iter().map(|put| WrittenPut::over(content, put)).collect(),
    })
}

/// Says of what an edit has added that it is there, so that taking it back is a value like any other.
fn say_added(tx: &mut Transaction<'_>, edit: &Edit) -> Result<(), StoreError> {
    if let Edit::Add(_) = edit {
        for map in maps_in(tx, &edit.thing().path()) {
            tx.put(&map, REMOVED, false)?;
        }
    }
    Ok(())
}

/// Fills one change with edits of which none builds on another, under a sentence of its own.
fn fill_at_once(
    tx: &mut Transaction<'_>,
    content: &Content,
    edits: &[Edit],
    sentence: &str,
) -> Result<Note, StoreError> {
    let mut puts = Vec::new();
    for edit in edits {
        puts.extend(written_by(content, edit)?);
    }
    apply_all(tx, content, edits)?;
    for edit in edits {
        say_added(tx, edit)?;
    }
    Ok(Note { sentence: sentence.to_owned(), way: Way::Do, puts })
}

/// Fills one change with edits, each built on those before it. The content follows what is written. A field that is
/// written more than once is noted with what stood there at first and what stands there in the end; what stands there
/// already is left out.
fn fill(tx: &mut Transaction<'_>, content: &mut Content, edits: &[Edit]) -> Result<Note, StoreError> {
    let (mut said, mut puts, mut places) = (Vec::new(), Vec::<WrittenPut>::new(), BTreeMap::new());
    for edit in edits {
        let thing = edit.thing();
        let written = written_by(content, edit)?;
        if written.iter().all(|written| written.put.value == written.before && written.disputed.is_empty()) {
            continue;
        }
        said.push((like(content, edit), sentence(content, edit)));
        apply(tx, content, edit)?;
        say_added(tx, edit)?;
        content.refresh(tx, &thing);
        for written in written {
            match places.get(&(written.put.thing.clone(), written.put.field.clone())) {
                Some(&at) => {
                    let first: &mut WrittenPut = &mut puts[at];
                    first.put.value = written.put.value;
                }
                None => {
                    places.insert((written.put.thing.clone(), written.put.field.clone()), puts.len());
                    puts.push(written);
                }
            }
        }
    }
    Ok(Note { sentence: together(said), way: Way::Do, puts })
}

pub(crate) fn claim(row: &ChangeRow) -> Claim<'_> {
    Claim::Change { document: &row.document, person: &row.person, time_ms: row.time_ms, chunk: &row.chunk }
}
