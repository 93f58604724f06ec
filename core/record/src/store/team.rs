//! The team document: what is not of one site. Settings of the firm, its members' devices, catalogues, and numbers for papers,
//! which no two devices ever issue alike.

use std::collections::BTreeMap;

use automerge::{ObjType, ROOT, ScalarValue, transaction::Transactable};

use super::{Disagreement, Entry, Site, Store, StoreError, changes};
use crate::document::{Cell, Fields, Kind, SCHEMA_VERSION, Thing};
use crate::edit::{Put, Way, WrittenPut};
use crate::sign::DeviceId;
use crate::stored::Stored;

/// The id of the team document, which no site may have.
pub const TEAM: &str = "team";

/// The open team document.
pub struct Team(pub(super) Site);

/// A device of a member.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Member {
    /// The device's id in hexadecimal, all of it.
    pub id: String,
    /// The person.
    pub person: String,
    /// What the device is called.
    pub device: String,
    /// With what its numbers begin.
    pub prefix: String,
    /// Whether it has left the team.
    pub left: bool,
}

impl Store {
    /// Opens the team document, made where it is absent; devices that made one each find both in the other when they
    /// meet.
    ///
    /// # Errors
    /// There is none and the store is open for reading only, or the database fails.
    pub fn team(&mut self, time_ms: i64) -> Result<Team, StoreError> {
        let mut team = if changes::is_there(&self.db, TEAM)? {
            Site::load(self, TEAM)?
        } else {
            Site::empty(TEAM, self.access.document(), self.arrivals()?)
        };
        // Where all of it waits for a device to be accepted, this device begins its own beside it.
        if team.content().things.contains_key(&Thing::firm()) {
            return Ok(Team(team));
        }
        team.create(self, "team document begun".to_owned(), time_ms, |tx| {
            tx.put(ROOT, "schema_version", SCHEMA_VERSION)?;
            for kind in [Kind::Firm, Kind::Setting, Kind::Member, Kind::Catalogue, Kind::Series] {
                tx.put_object(ROOT, kind.key(), ObjType::Map)?;
            }
            Ok(())
        })?;
        Ok(Team(team))
    }

    /// The team document, where there is one.
    ///
    /// # Errors
    /// The database fails.
    pub fn team_as_it_is(&self) -> Result<Option<Team>, StoreError> {
        if changes::is_there(&self.db, TEAM)? { Ok(Some(Team(Site::load(self, TEAM)?))) } else { Ok(None) }
    }
}

impl Team {
    /// Loads again where the store has taken something in since.
    ///
    /// # Errors
    /// The database fails.
    pub fn catch_up(&mut self, store: &Store) -> Result<(), StoreError> {
        self.0.catch_up(store)
    }

    /// The settings by name.
    #[must_use]
    pub fn settings(&self) -> BTreeMap<String, String> {
        let things = self.0.content().of(Kind::Setting, "").filter(|(_, fields)| !fields.is_removed());
        things.map(|(thing, fields)| (thing.id.clone(), text(fields, "value"))).collect()
    }

    /// Writes a setting.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails; then nothing is changed.
    pub fn put_setting(&mut self, store: &mut Store, name: &str, value: &str, time_ms: i64) -> Result<(), StoreError> {
        let said = format!("setting {name} is {value}");
        self.put(store, said, &Thing::new(Kind::Setting, name), &[("value", value.to_owned().to_scalar())], time_ms)
    }

    /// The members' devices, those that have left included.
    #[must_use]
    pub fn members(&self) -> Vec<Member> {
        let member = |(thing, fields): (&Thing, &Fields)| Member {
            id: thing.id.clone(),
            person: text(fields, "label"),
            device: text(fields, "device"),
            prefix: text(fields, "prefix"),
            left: fields.is_removed(),
        };
        self.0.content().of(Kind::Member, "").map(member).collect()
    }

    /// Enters this device; where it is a member already, nothing changes.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails; then nothing is changed.
    pub fn join(&mut self, store: &mut Store, time_ms: i64) -> Result<Member, StoreError> {
        self.0.catch_up(store)?;
        let id = whole(store.device.id());
        if let Some(member) = self.members().into_iter().find(|member| member.id == id && !member.left) {
            return Ok(member);
        }
        let prefix = self.free_prefix(store.device.id());
        let (person, device) = (store.device.person.clone(), store.device.name.clone());
        let fields = [("label", person.to_scalar()), ("device", device.to_scalar()), ("prefix", prefix.to_scalar())];
        let said = format!("{person} joined with {device}, numbers begin with {prefix}");
        self.put(store, said, &Thing::new(Kind::Member, &id), &fields, time_ms)?;
        Ok(Member { id, person, device, prefix, left: false })
    }

    /// Says that a device has left the team; what it wrote stays.
    ///
    /// # Errors
    /// There is no such member, the store is open for reading only, or the database fails.
    pub fn part_with(&mut self, store: &mut Store, id: &str, time_ms: i64) -> Result<(), StoreError> {
        let thing = Thing::new(Kind::Member, id);
        self.0.edit(store, &crate::edit::Edit::Remove(thing), time_ms).map(|_| ())
    }

    /// Eight characters of the device's key, or more where another member has these. Two devices that have not met draw
    /// the same eight once in 10¹² pairs.
    fn free_prefix(&self, device: DeviceId) -> String {
        // Crockford's alphabet: nothing in it is read for another (crockford.com/base32.html).
        const DIGITS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";
        let taken: Vec<String> =
            self.members().into_iter().filter(|m| m.id != whole(device)).map(|m| m.prefix).collect();
        let digits: String = device.0.iter().map(|byte| char::from(DIGITS[usize::from(byte % 32)])).collect();
        let fits = |length: &usize| !taken.iter().any(|prefix| *prefix == digits[..*length]);
        let length = (8..=digits.len()).find(fits).unwrap_or(digits.len());
        digits[..length].to_owned()
    }

    /// The next number of a series, such as `Q-7K3M9XRT-0014`: on the disk before it is given, and never given again. It
    /// carries this device's prefix, so that two devices never issue the same one; a store brought back from an old copy
    /// does not know what it issued since, so it should take in the team's file first.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails; then no number is given.
    pub fn next_number(&mut self, store: &mut Store, series: &str, time_ms: i64) -> Result<String, StoreError> {
        let own = self.join(store, time_ms)?;
        let thing = Thing::new(Kind::Series, &format!("{series}/{}", own.id));
        let last = self.0.content().things.get(&thing).and_then(|fields| fields.cells.get("last"));
        // Where the device's own store was copied and both went on, the greatest counts.
        let numbers = last.into_iter().flat_map(|cell| &cell.0).filter_map(|w| u32::from_scalar(&w.value).ok());
        let next = numbers.max().unwrap_or(0) + 1;
        let number = format!("{series}-{}-{next:04}", own.prefix);
        let fields =
            [("label", series.to_owned().to_scalar()), ("prefix", own.prefix.to_scalar()), ("last", next.to_scalar())];
        self.write(store, format!("number {number} issued"), &thing, &fields, Way::Other, time_ms)?;
        Ok(number)
    }

    /// Fields over which people disagree.
    #[must_use]
    pub fn disagreements(&self) -> Vec<Disagreement> {
        self.0.disagreements()
    }

    /// Settles a disagreement by one value.
    ///
    /// # Errors
    /// As [`Site::settle`].
    pub fn settle(
        &mut self,
        store: &mut Store,
        about: &Disagreement,
        value: &ScalarValue,
        time_ms: i64,
    ) -> Result<String, StoreError> {
        self.0.settle(store, about, value, time_ms)
    }

    /// Changes that do not count.
    #[must_use]
    pub fn set_aside(&self) -> &[super::SetAside] {
        self.0.set_aside()
    }

    /// Every change, oldest first.
    #[must_use]
    pub fn history(&self) -> Vec<Entry> {
        self.0.history()
    }

    pub(super) fn put(
        &mut self,
        store: &mut Store,
        said: String,
        thing: &Thing,
        fields: &[(&str, ScalarValue)],
        time_ms: i64,
    ) -> Result<(), StoreError> {
        self.write(store, said, thing, fields, Way::Do, time_ms)
    }

    /// Writes fields of a thing, which is made where it is absent and comes back where it was removed.
    fn write(
        &mut self,
        store: &mut Store,
        said: String,
        thing: &Thing,
        fields: &[(&str, ScalarValue)],
        way: Way,
        time_ms: i64,
    ) -> Result<(), StoreError> {
        self.0.catch_up(store)?;
        let Some(there) = self.0.content().things.get(thing) else {
            return self.0.add(store, said, thing, fields, time_ms);
        };
        let back = there.is_removed().then_some((crate::document::REMOVED, ScalarValue::Boolean(false)));
        let changed = |(name, value): &(&str, ScalarValue)| {
            there.cells.get(*name).is_none_or(|cell| cell.value() != value || cell.is_disputed())
        };
        let puts: Vec<Put> = fields
            .iter()
            .filter(|field| changed(field))
            .cloned()
            .chain(back)
            .map(|(name, value)| Put { thing: thing.clone(), field: name.to_owned(), value })
            .collect();
        if puts.is_empty() {
            return Ok(());
        }
        let puts = puts.into_iter().map(|put| WrittenPut::over(self.0.content(), put)).collect();
        self.0.put_all(store, said, way, puts, time_ms)
    }
}

pub(super) fn text(fields: &Fields, name: &str) -> String {
    match fields.cells.get(name).map(Cell::value) {
        Some(ScalarValue::Str(text)) => text.to_string(),
        _ => String::new(),
    }
}

/// All of a device's id in hexadecimal.
fn whole(device: DeviceId) -> String {
    super::hex(&device.0)
}
