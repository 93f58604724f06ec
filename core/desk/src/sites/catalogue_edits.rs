//! Changes of the firm's catalogues: each makes a new revision, which is read before it is kept and can be taken back.

use std::sync::Arc;

use record::store::{Position, StoreError};
use serde_json::{Value as Json, json};
use sha2::{Digest, Sha256};

use super::{Said, SiteError, Sites, count, moment};
use crate::demo;
use crate::hex::hex;
use crate::parts::{self, CsvStyle, Edit, Preview, Sheet};
use crate::read::read_catalogue;
use crate::wire::sites::{DisagreementLine, PositionLine};

/// What the built-in demo catalogue is known by; no kept one has such an id.
pub const DEMO: &str = "demo";

/// A catalogue with what it holds.
#[derive(Clone, Debug)]
pub struct KeptCatalogue {
    /// What it is known by.
    pub id: String,
    /// What people call it.
    pub name: String,
    /// Its file.
    pub bytes: Vec<u8>,
    /// SHA-256 of the file.
    pub content_sha256: String,
    /// Whether people changed it at once, each in another way.
    pub disputed: bool,
}

/// The full form of a catalogue.
pub(super) struct ReadCatalogue {
    /// SHA-256 of its file; the built-in one is known by its id.
    file: String,
    full: Arc<Json>,
}

impl KeptCatalogue {
    /// Whether it is the built-in one.
    #[must_use]
    pub fn is_built_in(&self) -> bool {
        self.id == DEMO
    }

    /// Its full form.
    ///
    /// # Errors
    /// This release cannot read it.
    pub(crate) fn full(&self) -> Result<Json, SiteError> {
        Ok(parts::full_form(&read_catalogue(&self.bytes, &self.name)?))
    }
}

impl Sites {
    /// A catalogue by its id, its name or the beginning of its SHA-256; `demo` is the built-in one.
    ///
    /// # Errors
    /// There is none, or the database fails.
    pub fn kept_catalogue(&self, asked: &str) -> Result<KeptCatalogue, SiteError> {
        if asked == DEMO {
            let bytes = demo::CATALOGUE.to_vec();
            let name = read_catalogue(&bytes, demo::CATALOGUE_NAME)?.label;
            let content_sha256 = sha256(&bytes);
            return Ok(KeptCatalogue { id: DEMO.to_owned(), name, bytes, content_sha256, disputed: false });
        }
        let row = self.catalogue_row(asked)?;
        let missing = || StoreError::NoCatalogue(row.hash.clone());
        let bytes = self.store.catalogue(&row.hash)?.ok_or_else(missing)?;
        Ok(KeptCatalogue { id: row.id, name: row.name, bytes, content_sha256: row.hash, disputed: row.disputed })
    }

    /// The full form of a catalogue. The one that was read last is kept, as long as its file is the same.
    ///
    /// # Errors
    /// There is none, this release cannot read it, or the database fails.
    pub(crate) fn full_catalogue(&mut self, asked: &str) -> Result<Arc<Json>, SiteError> {
        let file = if asked == DEMO { DEMO.to_owned() } else { self.catalogue_row(asked)?.hash };
        if let Some(read) = self.read.as_ref().filter(|read| read.file == file) {
            return Ok(read.full.clone());
        }
        let full = Arc::new(self.kept_catalogue(asked)?.full()?);
        self.read = Some(ReadCatalogue { file, full: full.clone() });
        Ok(full)
    }

    /// Changes a catalogue, as one step to take back; `said` is the sentence, without the catalogue's name.
    ///
    /// # Errors
    /// There is none, it is built in, or it would not be a catalogue any more; then nothing is changed.
    pub(crate) fn edit_catalogue(&mut self, asked: &str, edits: &[Edit], said: &str) -> Result<Said, SiteError> {
        let kept = self.changeable(asked)?;
        let full = kept.full()?;
        let text = parts::edited(&kept.bytes, &full, edits)?;
        // People call it by what it says of itself, once somebody says so.
        let label = edits.iter().find_map(|edit| match edit {
            Edit::Catalogue { head } if head["label"] != full["label"] => head["label"].as_str().map(str::to_owned),
            _ => None,
        });
        if let Some(label) = label.as_ref().filter(|label| **label != kept.name) {
            self.name_is_free(label)?;
        }
        let name = label.unwrap_or_else(|| kept.name.clone());
        let sentence = format!("catalogue {name}: {said}");
        let now = self.now();
        let mut team = self.store.team(now)?;
        team.revise_catalogue(&mut self.store, &kept.id, (&name, text.as_bytes()), sentence.clone(), now)?;
        Ok(Said { id: kept.id, sentence })
    }

    /// Takes a part out of a catalogue.
    ///
    /// # Errors
    /// There is no such part; and as [`Self::edit_catalogue`].
    pub(crate) fn remove_part(&mut self, asked: &str, part: &str) -> Result<Said, SiteError> {
        let kept = self.changeable(asked)?;
        if parts::find(&kept.full()?, part).is_none() {
            return Err(SiteError::NoPart { part: part.to_owned(), catalogue: kept.name });
        }
        let edit = Edit::Remove { part: part.to_owned() };
        self.edit_catalogue(&kept.id, &[edit], &format!("part {part} taken out"))
    }

    /// Copies a catalogue under another name, which it also says of itself.
    ///
    /// # Errors
    /// There is none, the name is taken or empty, or the database fails.
    pub fn copy_catalogue(&mut self, asked: &str, name: &str) -> Result<Said, SiteError> {
        let kept = self.kept_catalogue(asked)?;
        let full = kept.full()?;
        let mut head = json!({});
        for field in ["currency", "priced_on", "invented"] {
            head[field] = full[field].clone();
        }
        head["label"] = json!(name);
        self.name_is_free(name)?;
        let text = parts::edited(&kept.bytes, &full, &[Edit::Catalogue { head }])?;
        self.add_catalogue(text.as_bytes(), name, name)
    }

    /// What a file would change in a catalogue; in none, what it would be as one of its own. Nothing is kept.
    ///
    /// # Errors
    /// There is no such catalogue, or nothing of the file can be taken: every fault.
    pub fn preview_import(&self, into: Option<&str>, bytes: &[u8], file: &str) -> Result<Preview, SiteError> {
        Ok(self.weighed(into, bytes, file)?.0)
    }

    /// Takes what a file brings into a catalogue, as one step; refused parts stay out. `seen` holds the SHA-256 of the file
    /// and of the catalogue that were looked at, which must be as they were.
    ///
    /// # Errors
    /// As [`Self::preview_import`]; or the catalogue is built in, or something is not as it was looked at.
    pub fn import_parts(
        &mut self,
        into: Option<&str>,
        bytes: &[u8],
        file: &str,
        seen: Option<(&str, &str)>,
    ) -> Result<Said, SiteError> {
        let (found, edits) = self.weighed(into, bytes, file)?;
        if let Some((of_file, of_catalogue)) = seen {
            if found.file_sha256 != of_file {
                return Err(SiteError::Stale(file.to_owned()));
            }
            if found.content_sha256 != of_catalogue {
                return Err(SiteError::Stale(format!("catalogue {}", found.catalogue)));
            }
        }
        let Some(into) = into else { return self.take_file(&found, bytes, file, &edits) };
        let kept = self.changeable(into)?;
        let taken = count(found.added.len() + found.changed.len(), "change");
        if edits.is_empty() {
            return Ok(Said { id: kept.id, sentence: format!("{file} changes nothing in catalogue {}", kept.name) });
        }
        self.edit_catalogue(&kept.id, &edits, &format!("{taken} taken in from {file}"))
    }

    /// A file becomes a catalogue: as it is written where every part is good, else without the others.
    fn take_file(&mut self, found: &Preview, bytes: &[u8], file: &str, edits: &[Edit]) -> Result<Said, SiteError> {
        if found.refused.is_empty() {
            return self.add_catalogue(bytes, file, &found.catalogue);
        }
        let incoming = parts::read(bytes, file, &Json::Null)?;
        let mut full = incoming.head.unwrap_or_default();
        full["labour"] = incoming.labour.unwrap_or_default();
        let text = parts::edited(parts::whole(&full).as_bytes(), &with_lists(full), edits)?;
        self.add_catalogue(text.as_bytes(), file, &found.catalogue)
    }

    fn weighed(&self, into: Option<&str>, bytes: &[u8], file: &str) -> Result<(Preview, Vec<Edit>), SiteError> {
        let kept = into.map(|asked| self.kept_catalogue(asked)).transpose()?;
        let full = kept.as_ref().map(KeptCatalogue::full).transpose()?;
        let incoming = parts::read(bytes, file, full.as_ref().unwrap_or(&Json::Null))?;
        let label = incoming.head.as_ref().and_then(|head| head["label"].as_str()).unwrap_or_default().to_owned();
        let (mut found, edits) = parts::preview(incoming, full.as_ref(), file)?;
        found.file_sha256 = sha256(bytes);
        match kept {
            Some(kept) => (found.catalogue, found.content_sha256) = (kept.name, kept.content_sha256),
            None => found.catalogue = self.free_name(if label.is_empty() { file } else { &label })?,
        }
        Ok((found, edits))
    }

    /// A catalogue as its TOML file. One kept as JSON is written as TOML.
    ///
    /// # Errors
    /// There is none, or it cannot be read.
    pub fn catalogue_toml(&self, asked: &str) -> Result<Vec<u8>, SiteError> {
        let kept = self.kept_catalogue(asked)?;
        let is_json = kept.bytes.trim_ascii_start().starts_with(b"{");
        Ok(if is_json { parts::whole(&kept.full()?).into_bytes() } else { kept.bytes })
    }

    /// A list of parts of a catalogue as CSV.
    ///
    /// # Errors
    /// There is none, or it cannot be read.
    pub fn catalogue_csv(&self, asked: &str, sheet: Sheet, style: CsvStyle) -> Result<Vec<u8>, SiteError> {
        Ok(parts::csv_of(&self.kept_catalogue(asked)?.full()?, sheet, style))
    }

    /// Takes back this device's last change of catalogues.
    ///
    /// # Errors
    /// There is none, or somebody has changed it since.
    pub fn undo_catalogues(&mut self) -> Result<String, SiteError> {
        let now = self.now();
        let mut team = self.store.team(now)?;
        Ok(team.undo_catalogues(&mut self.store, now)?)
    }

    /// Makes again what was taken back last.
    ///
    /// # Errors
    /// There is none, or somebody has changed it since.
    pub fn redo_catalogues(&mut self) -> Result<String, SiteError> {
        let now = self.now();
        let mut team = self.store.team(now)?;
        Ok(team.redo_catalogues(&mut self.store, now)?)
    }

    /// What can be taken back and made again, in words.
    ///
    /// # Errors
    /// The database fails.
    pub fn catalogue_steps(&self) -> Result<(Option<String>, Option<String>), SiteError> {
        let team = self.store.team_as_it_is()?;
        Ok(team.map(|team| team.catalogue_steps(&self.store)).unwrap_or_default())
    }

    /// What people made of a catalogue that they changed at once, each in another way; `None` where nobody did.
    ///
    /// # Errors
    /// The database fails.
    pub fn catalogue_dispute(&self, id: &str) -> Result<Option<DisagreementLine>, SiteError> {
        let team = self.store.team_as_it_is()?;
        let Some((team, (about, hashes))) =
            team.and_then(|team| team.disputed_catalogue(id).map(|found| (team, found)))
        else {
            return Ok(None);
        };
        let position = |((position, hash), number): ((&Position, &String), u32)| PositionLine {
            number,
            value: self.content_words(hash),
            person: position.person.clone(),
            when: moment::written(position.time_ms),
        };
        let positions = about.positions.iter().zip(&hashes).zip(1..).map(position).collect();
        let name = team.catalogues().into_iter().find(|row| row.id == id).map(|row| row.name).unwrap_or_default();
        Ok(Some(DisagreementLine { name: id.to_owned(), about: format!("catalogue {name}"), stops: false, positions }))
    }

    /// Settles a catalogue that people changed at once by one of its versions, named by its number.
    ///
    /// # Errors
    /// Nobody did, there is no such number, or the database fails.
    pub fn settle_catalogue(&mut self, id: &str, number: u32) -> Result<Said, SiteError> {
        let now = self.now();
        let mut team = self.store.team(now)?;
        let none = || SiteError::NoDisagreement {
            asked: id.to_owned(),
            accepted: "a catalogue of which people differ".to_owned(),
        };
        let (about, _) = team.disputed_catalogue(id).ok_or_else(none)?;
        let chosen = number.checked_sub(1).and_then(|at| about.positions.get(at as usize)).ok_or_else(none)?;
        let sentence = team.settle(&mut self.store, &about, &chosen.value, now)?;
        Ok(Said { id: id.to_owned(), sentence })
    }

    /// What a revision holds, in a few words.
    fn content_words(&self, hash: &str) -> String {
        let bytes = self.store.catalogue(hash).ok().flatten();
        let read = bytes.and_then(|bytes| read_catalogue(&bytes, "catalogue").ok());
        let Some(read) = read else { return "a version that is not here".to_owned() };
        let full = parts::full_form(&read);
        let all = Sheet::PARTS.into_iter().map(|sheet| parts::parts_of(&full, sheet).len()).sum();
        format!("{}, prices of {}", count(all, "part"), read.priced_on)
    }

    /// A catalogue that can be changed: one of which people differ has no one version to change.
    fn changeable(&self, asked: &str) -> Result<KeptCatalogue, SiteError> {
        let kept = self.kept_catalogue(asked)?;
        match kept {
            kept if kept.is_built_in() => Err(SiteError::BuiltIn),
            kept if kept.disputed => Err(SiteError::Differ(kept.name)),
            kept => Ok(kept),
        }
    }

    fn names(&self) -> Result<Vec<String>, SiteError> {
        let own = self.catalogues()?.catalogues.into_iter().map(|line| line.name);
        Ok(own.chain([self.kept_catalogue(DEMO)?.name]).collect())
    }

    fn name_is_free(&self, name: &str) -> Result<(), SiteError> {
        let fits = !name.trim().is_empty() && name.chars().count() <= 100 && !name.chars().any(char::is_control);
        if fits && !self.names()?.iter().any(|taken| taken == name) {
            return Ok(());
        }
        Err(SiteError::CatalogueName(name.to_owned()))
    }

    /// The name, or that with the first number that makes it one of its own.
    pub(crate) fn free_name(&self, name: &str) -> Result<String, SiteError> {
        let taken = self.names()?;
        let all = std::iter::once(name.to_owned()).chain((2_u32..).map(|n| format!("{name} {n}")));
        Ok(all.into_iter().find(|name| !taken.contains(name)).unwrap_or_default())
    }
}

/// A full form with a list for each kind of parts.
fn with_lists(mut full: Json) -> Json {
    for sheet in Sheet::PARTS {
        full[sheet.name()] = json!([]);
    }
    full["schema_version"] = json!(catalogue::SCHEMA_VERSION);
    full
}

fn sha256(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))
}
