//! Taking back and making again: only this device's own changes, and only while the values are still its own.

use super::{Site, Store, StoreError};
use crate::document::Thing;
use crate::edit::{Note, Way, WrittenPut};
use crate::sign::DeviceId;

impl Site {
    /// Takes back this device's last change, if its values are still its own. Taking back what settled a disagreement, or
    /// was written over one, opens it again.
    ///
    /// # Errors
    /// There is none, or somebody has changed a value since.
    pub fn undo(&mut self, store: &mut Store, time_ms: i64) -> Result<String, StoreError> {
        self.undo_of(store, |_| true, time_ms)
    }

    /// As [`Self::undo`], of the changes that touch nothing but certain things.
    pub(in crate::store) fn undo_of(
        &mut self,
        store: &mut Store,
        of: fn(&Thing) -> bool,
        time_ms: i64,
    ) -> Result<String, StoreError> {
        self.catch_up(store)?;
        let (done, _) = self.stacks(store.device.id(), of);
        let note = done.last().cloned().ok_or(StoreError::Nothing("take back"))?;
        self.invert(store, &note, Way::Undo, time_ms)
    }

    /// Makes again what this device took back last, if the values are still its own.
    ///
    /// # Errors
    /// There is none, or somebody has changed a value since.
    pub fn redo(&mut self, store: &mut Store, time_ms: i64) -> Result<String, StoreError> {
        self.redo_of(store, |_| true, time_ms)
    }

    /// As [`Self::redo`], of the changes that touch nothing but certain things.
    pub(in crate::store) fn redo_of(
        &mut self,
        store: &mut Store,
        of: fn(&Thing) -> bool,
        time_ms: i64,
    ) -> Result<String, StoreError> {
        self.catch_up(store)?;
        let (_, undone) = self.stacks(store.device.id(), of);
        let note = undone.last().cloned().ok_or(StoreError::Nothing("make again"))?;
        self.invert(store, &note, Way::Redo, time_ms)
    }

    /// What [`Self::undo`] would take back, and what [`Self::redo`] would make again, in words.
    #[must_use]
    pub fn steps(&self, store: &Store) -> (Option<String>, Option<String>) {
        self.steps_of(store, |_| true)
    }

    /// As [`Self::steps`], of the changes that touch nothing but certain things.
    pub(in crate::store) fn steps_of(&self, store: &Store, of: fn(&Thing) -> bool) -> (Option<String>, Option<String>) {
        let (mut done, mut undone) = self.stacks(store.device.id(), of);
        let bare = |note: Note| {
            let sentence = note.sentence.trim_start_matches("taken back: ").trim_start_matches("made again: ");
            sentence.to_owned()
        };
        (done.pop().map(bare), undone.pop().map(bare))
    }

    fn invert(&mut self, store: &mut Store, note: &Note, way: Way, time_ms: i64) -> Result<String, StoreError> {
        let mine = store.device.id();
        for WrittenPut { put, others, .. } in &note.puts {
            let theirs = self.cell(&put.thing, &put.field).and_then(|cell| {
                cell.0.iter().find(|written| {
                    let own = written.value == put.value || others.contains(&written.value);
                    !own || self.author(&written.by).is_none_or(|author| author.device != mine)
                })
            });
            if let Some(written) = theirs {
                let about = self.about(&put.thing, &put.field);
                let who = self.author(&written.by).map_or_else(|| "somebody".to_owned(), |a| a.person.clone());
                return Err(StoreError::ChangedSince { what: about, who });
            }
        }
        let puts: Vec<WrittenPut> = note.puts.iter().map(WrittenPut::inverted).collect();
        let said = match way {
            Way::Undo => format!("taken back: {}", note.sentence),
            _ => format!("made again: {}", note.sentence.trim_start_matches("taken back: ")),
        };
        self.put_all(store, said.clone(), way, puts, time_ms)?;
        Ok(said)
    }

    /// This device's changes that can be taken back, and those that can be made again, oldest first.
    fn stacks(&self, mine: DeviceId, of: fn(&Thing) -> bool) -> (Vec<Note>, Vec<Note>) {
        let (mut done, mut undone) = (Vec::new(), Vec::new());
        let is_meant = |note: &Note| note.puts.iter().all(|written| of(&written.put.thing));
        let own = self.notes().filter(|(_, device, _)| *device == mine).map(|(_, _, note)| note);
        for note in own.filter(is_meant) {
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
}
