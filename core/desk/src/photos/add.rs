//! Adding files and folders to a site: first the library takes a batch in, then the site's document and the photo index
//! take it in one change, so that a photo is there whole or not at all.

use std::collections::BTreeMap;
use std::num::NonZero;
use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};

use ::photos::exif::{Assume, North, Offset};
use ::photos::{Content, Found, Go, Import, Library, Line, Outcome, Taken, Watch, gather};
use record::document::{Kind as Of, Thing};
use record::edit::{Edit, NewThing};
use record::store::{PhotoRow, StoreError};
use survey::{Id, Photo, PhotoPosition, Shows, Survey};
use units::{Degrees, Length};

use super::facts::Facts;
use super::link::{Link, link};
use crate::sites::{SiteError, Sites, new_id};
use crate::wire::photos::{ImportOutcome, ImportedFile, PhotoImport};

/// So many files are worked on before what came of them is written into the site: as much is lost at most when the power
/// goes, and taken in again by the next import.
const BATCH: usize = 64;
/// The first batch is small and each is twice as long as the one before it, so that the first photos are soon there.
const FIRST_BATCH: usize = 8;
/// More hands would only wait for the drive.
const MOST_HANDS: usize = 4;

/// Files on their way into a site, batch by batch: [`Self::work`] needs no store, so that others may use it meanwhile.
pub struct Adding {
    document: String,
    library: Library,
    assume: Assume,
    /// What is still to be looked through, at the first batch.
    paths: Vec<PathBuf>,
    found: Vec<Found>,
    next: usize,
    /// So many files make the next batch.
    batch: usize,
    /// The photos of the site by content.
    known: BTreeMap<Content, Id>,
    ready: Vec<Line>,
    done: PhotoImport,
}

impl Sites {
    /// Prepares to add files, and all that is in folders, to a site. `offset` is assumed where neither a camera nor the
    /// satellites say how local time stands to UTC.
    ///
    /// # Errors
    /// There is no such site, it cannot be read, or the library's folder cannot be written.
    pub fn adding(&mut self, asked: &str, paths: &[PathBuf], offset: Option<Offset>) -> Result<Adding, SiteError> {
        let survey = self.survey(asked, None)?;
        if let Some(why) = self.read_only() {
            return Err(StoreError::ReadOnly(why.to_owned()).into());
        }
        let library = Library::open(self.home())?;
        let document = survey.site.id.as_str().to_owned();
        Ok(Adding {
            library,
            assume: Assume { offset },
            paths: paths.to_owned(),
            found: Vec::new(),
            next: 0,
            batch: FIRST_BATCH,
            known: by_content(&survey),
            ready: Vec::new(),
            done: PhotoImport {
                schema_version: 1,
                id: document.clone(),
                stopped: false,
                added: 0,
                linked: 0,
                restored: 0,
                duplicates: 0,
                refused: 0,
                not_reached: 0,
                files: Vec::new(),
            },
            document,
        })
    }

    /// Adds files, and all that is in folders, to a site. What was added before `watch` stops it stays.
    ///
    /// # Errors
    /// As [`Self::adding`]; or the store fails, and what was added before stays.
    pub fn add_photos(
        &mut self,
        asked: &str,
        paths: &[PathBuf],
        offset: Option<Offset>,
        watch: &dyn Watch,
    ) -> Result<PhotoImport, SiteError> {
        let mut adding = self.adding(asked, paths, offset)?;
        // Nobody sees the list meanwhile.
        adding.batch = BATCH;
        while adding.work(watch) {
            adding.keep(self)?;
        }
        Ok(adding.done())
    }
}

fn by_content(survey: &Survey) -> BTreeMap<Content, Id> {
    let of = |photo: &Photo| Some((Content::parse(photo.content.as_deref()?)?, photo.id.clone()));
    survey.photos.iter().filter_map(of).collect()
}

/// Looks on over all batches.
struct Counted<'a> {
    watch: &'a dyn Watch,
    before: usize,
    all: usize,
    stopped: AtomicBool,
}

impl Watch for Counted<'_> {
    fn step(&self, done: usize, _: usize, name: &str) -> Go {
        let go = self.watch.step(self.before + done, self.all, name);
        if go == Go::Stop {
            self.stopped.store(true, Ordering::Relaxed);
        }
        go
    }
}

impl Adding {
    /// Takes the next files into the library; `false` where there are none. [`Self::keep`] must follow.
    pub fn work(&mut self, watch: &dyn Watch) -> bool {
        if !self.paths.is_empty() {
            self.found = gather(&std::mem::take(&mut self.paths));
        }
        if self.next == self.found.len() || self.done.stopped {
            return false;
        }
        let batch = &self.found[self.next..self.found.len().min(self.next + self.batch)];
        // A photo whose original is not on this device is taken in again.
        let here = |content: &&Content| self.library.original(**content).is_some();
        let known: Vec<Content> = self.known.keys().filter(here).copied().collect();
        let hands = std::thread::available_parallelism().map_or(1, NonZero::get).min(MOST_HANDS);
        let import = Import { library: &self.library, known: &known, assume: self.assume, hands };
        let counted = Counted { watch, before: self.next, all: self.found.len(), stopped: AtomicBool::new(false) };
        self.ready = import.take_in(batch, &counted);
        self.next += batch.len();
        self.batch = (2 * self.batch).min(BATCH);
        let left = self.next < self.found.len() || self.ready.iter().any(|line| line.outcome == Outcome::NotReached);
        self.done.stopped = counted.stopped.into_inner() && left;
        true
    }

    /// So many files are behind it, of so many.
    pub fn reached(&self) -> (usize, usize) {
        (self.next, self.found.len())
    }

    /// Writes what was taken in into the site, with its rows of the photo index: all of the batch or nothing.
    ///
    /// # Errors
    /// The store fails; then nothing of this batch was added, and what was added before stays.
    pub fn keep(&mut self, sites: &mut Sites) -> Result<(), SiteError> {
        let lines = std::mem::take(&mut self.ready);
        let mut batch = Batch::default();
        let kept = self.keep_lines(sites, &lines, &mut batch);
        if let Err(why) = kept {
            self.give_back(sites, &batch.rows);
            let before = self.done.added + self.done.linked + self.done.restored;
            return Err(SiteError::PartAdded { before, why: Box::new(why) });
        }
        for file in batch.files {
            let count = match file.outcome {
                ImportOutcome::Added => &mut self.done.added,
                ImportOutcome::Linked => &mut self.done.linked,
                ImportOutcome::Restored => &mut self.done.restored,
                ImportOutcome::Duplicate => &mut self.done.duplicates,
                ImportOutcome::Refused => &mut self.done.refused,
                ImportOutcome::NotReached => &mut self.done.not_reached,
            };
            *count += 1;
            self.done.files.push(file);
        }
        self.known.extend(batch.new);
        Ok(())
    }

    fn keep_lines(&self, sites: &mut Sites, lines: &[Line], batch: &mut Batch) -> Result<(), SiteError> {
        // Rows first, so that what was kept for nothing can be told.
        let now = sites.now();
        for line in lines {
            if let Outcome::Photo(taken) = &line.outcome {
                batch.rows.push(row(line, taken, now));
            }
        }
        let mut site = sites.site(&self.document)?;
        let survey = crate::sites::survey_of(&site)?;
        let known = by_content(&survey);
        for line in lines {
            let file = batch.look(line, &survey, &known, now)?;
            batch.files.push(file);
        }
        if !batch.rows.is_empty() {
            site.edit_with_photos(sites.store_mut(), &batch.sentence(), &batch.edits, &batch.rows, now)?;
        }
        Ok(())
    }

    /// Originals that no row of the index names were kept for nothing: on a full drive they would stand in the way.
    fn give_back(&self, sites: &mut Sites, rows: &[PhotoRow]) {
        for row in rows {
            let unknown = sites.store_mut().photo(&row.file).is_ok_and(|row| row.is_none());
            if let (true, Some(content)) = (unknown, Content::parse(&row.file)) {
                // What stays is recognised by the next import.
                let _ = self.library.remove(content);
            }
        }
    }

    /// What became of every file.
    #[must_use]
    pub fn done(mut self) -> PhotoImport {
        for found in &self.found[self.next..] {
            self.done.not_reached += 1;
            self.done.files.push(ImportedFile {
                path: found.path.to_string_lossy().into_owned(),
                outcome: ImportOutcome::NotReached,
                photo: None,
                reason: None,
                remarks: Vec::new(),
            });
        }
        self.done
    }
}

/// What one batch brings.
#[derive(Default)]
struct Batch {
    rows: Vec<PhotoRow>,
    edits: Vec<Edit>,
    files: Vec<ImportedFile>,
    /// Photos of this batch by content.
    new: BTreeMap<Content, Id>,
    /// Photos that the survey named and that have their file now.
    linked: Vec<Id>,
}

impl Batch {
    fn look(
        &mut self,
        line: &Line,
        survey: &Survey,
        known: &BTreeMap<Content, Id>,
        now: i64,
    ) -> Result<ImportedFile, SiteError> {
        let mut file = ImportedFile {
            path: line.path.to_string_lossy().into_owned(),
            outcome: ImportOutcome::NotReached,
            photo: None,
            reason: None,
            remarks: Vec::new(),
        };
        match &line.outcome {
            Outcome::NotReached => {}
            Outcome::Refused(reason) => {
                file.outcome = ImportOutcome::Refused;
                file.reason = Some(reason.to_string());
            }
            Outcome::Duplicate { content, of } => {
                let photo = known.get(content).or_else(|| self.new.get(content));
                let named = photo.and_then(|id| survey.photos.iter().find(|photo| photo.id == *id));
                let of = of.clone().or_else(|| named.map(|photo| photo.file.clone())).unwrap_or_default();
                file.outcome = ImportOutcome::Duplicate;
                file.photo = photo.map(Id::to_string);
                file.reason = Some(format!("has the same bytes as {of}"));
            }
            Outcome::Photo(taken) => {
                file.remarks.clone_from(&taken.notes);
                let id = match known.get(&taken.content) {
                    Some(id) => {
                        file.outcome = ImportOutcome::Restored;
                        id.clone()
                    }
                    None => self.new_or_linked(line, taken, survey, now, &mut file)?,
                };
                file.photo = Some(id.to_string());
                self.new.insert(taken.content, id);
            }
        }
        Ok(file)
    }

    fn new_or_linked(
        &mut self,
        line: &Line,
        taken: &Taken,
        survey: &Survey,
        now: i64,
        file: &mut ImportedFile,
    ) -> Result<Id, SiteError> {
        let time = taken.facts.taken.as_ref().map(::photos::exif::Taken::text);
        let open = |photo: &&Photo| photo.content.is_none() && !self.linked.contains(&photo.id);
        match link(survey.photos.iter().filter(open), &line.name, time.as_deref()) {
            Link::Is(photo) => {
                let found = made(photo.id.clone(), line, taken);
                self.edits.extend(given(photo, &found));
                self.linked.push(photo.id.clone());
                file.outcome = ImportOutcome::Linked;
                return Ok(photo.id.clone());
            }
            Link::Doubtful(why) => file.remarks.push(why),
            Link::None => {}
        }
        let id = new_id(now)?;
        self.edits.push(Edit::Add(Box::new(NewThing::Photo(made(id.clone(), line, taken)))));
        file.outcome = ImportOutcome::Added;
        Ok(id)
    }

    /// What the batch does, in words.
    fn sentence(&self) -> String {
        let count = |number: usize| if number == 1 { "1 photo".to_owned() } else { format!("{number} photos") };
        let added = self.edits.iter().filter(|edit| matches!(edit, Edit::Add(_))).count();
        let restored = self.rows.len() - added - self.linked.len();
        let parts = [(added, "added"), (self.linked.len(), "given the file"), (restored, "brought back")];
        let said: Vec<String> = parts
            .into_iter()
            .filter(|(number, _)| *number > 0)
            .map(|(number, what)| format!("{} {what}", count(number)))
            .collect();
        said.join(", ")
    }
}

fn row(line: &Line, taken: &Taken, now: i64) -> PhotoRow {
    PhotoRow {
        file: taken.content.to_string(),
        name: line.name.clone(),
        kind: taken.kind.word().to_owned(),
        bytes: i64::try_from(taken.bytes).unwrap_or(i64::MAX),
        added_ms: now,
        facts: Facts::of(taken).written(),
    }
}

/// The photo as the file has it. A direction from magnetic north stays in the index: the survey counts from true north,
/// and the declination of the place is not known here.
fn made(id: Id, line: &Line, taken: &Taken) -> Photo {
    let facts = &taken.facts;
    let metres = |metres: Option<f64>| metres.and_then(|m| Length::from_mm((m * 1000.0).round()));
    let position = facts.position.and_then(|at| {
        Some(PhotoPosition {
            latitude: Degrees::checked(at.latitude_deg)?,
            longitude: Degrees::checked(at.longitude_deg)?,
            altitude: metres(at.altitude_m),
            accuracy: metres(at.accuracy_m),
        })
    });
    Photo {
        id,
        file: line.name.clone(),
        content: Some(taken.content.to_string()),
        shows: Shows::General,
        taken: facts.taken.as_ref().map(::photos::exif::Taken::text),
        position,
        heading: facts.heading.filter(|heading| heading.north == North::True).and_then(|h| Degrees::checked(h.degrees)),
        camera: facts.camera.as_ref().map(|camera| ::photos::clean(&camera.text())).filter(|name| !name.is_empty()),
        note: String::new(),
        marks: Vec::new(),
    }
}

/// What a photo that the survey names takes from its file: its content, and whatever the survey does not say itself.
fn given(named: &Photo, found: &Photo) -> Vec<Edit> {
    let thing = || Thing::new(Of::Photo, named.id.as_str());
    let mut edits = vec![Edit::set(thing(), "content", &found.content)];
    if named.taken.is_none() && found.taken.is_some() {
        edits.push(Edit::set(thing(), "taken", &found.taken));
    }
    if named.position.is_none() && found.position.is_some() {
        edits.push(Edit::set(thing(), "position", &found.position));
    }
    if named.heading.is_none() && found.heading.is_some() {
        edits.push(Edit::set(thing(), "heading_deg", &found.heading));
    }
    if named.camera.is_none() && found.camera.is_some() {
        edits.push(Edit::set(thing(), "camera", &found.camera));
    }
    edits
}
