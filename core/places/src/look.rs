//! Opening a place, and a first look at what is there.

use exchange::layout::{ABOUT, About, HEADS, MEMBERS, MOST_SMALL_BYTES};
use exchange::place::{Entry, Place, PlaceError, Span, Trouble};

use crate::mounted::Mounted;
use crate::remote::Remote;
use crate::settings::Kind;
use crate::{Fault, Limited, Settings, Stop};

/// Clocks may differ by so many seconds before anybody is told; common practice, no source.
const CLOCKS_AGREE_S: i64 = 300;

/// What systems put into folders by themselves; nothing of it is a program's data.
const HARMLESS: [&str; 4] = ["lost+found", "desktop.ini", "Thumbs.db", "$RECYCLE.BIN"];

/// A place that was opened.
pub struct Opened {
    place: Limited<Where>,
    address: String,
    stop: Stop,
}

/// The kinds of places.
enum Where {
    Folder(Mounted),
    Remote(Remote),
}

/// What a first look finds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Look {
    /// Whose folder it is; `None` where it is empty.
    pub about: Option<About>,
    /// That the clocks differ, where they do. Work goes on all the same: nothing is ordered by them.
    pub clock: Option<Fault>,
}

/// Opens a place. Nothing is asked of it over the network. `fresh` are random bytes.
///
/// # Errors
/// The settings name no place that can be used.
pub fn open(settings: &Settings, fresh: [u8; 8]) -> Result<Opened, Fault> {
    open_until(settings, fresh, &Stop::default())
}

/// Opens a place as [`open`] does. `stop` ends all waiting for it, that for its folder to be opened among it.
///
/// # Errors
/// As there; or it was stopped.
pub fn open_until(settings: &Settings, fresh: [u8; 8], stop: &Stop) -> Result<Opened, Fault> {
    let kind = settings.kind()?;
    let (place, address) = match kind {
        Kind::Folder(path) => {
            let folder = Mounted::open(&path, fresh, settings.patience, stop)?;
            let address = folder.root().display().to_string();
            (Where::Folder(folder), address)
        }
        kind => (Where::Remote(Remote::new(settings, &kind, stop)?), settings.address.trim().to_owned()),
    };
    // As good as none where none is wished.
    let limit = settings.bytes_per_second.unwrap_or(u64::MAX);
    Ok(Opened { place: Limited::until(place, limit, stop), address, stop: stop.clone() })
}

impl Opened {
    /// The place, for rounds.
    pub fn place(&self) -> &dyn Place {
        &self.place
    }

    /// Its address, for people; it holds no password.
    pub fn address(&self) -> &str {
        &self.address
    }

    /// Ends all waiting, for an answer and for the limit of bytes a second; what is asked from now on fails at once.
    pub fn stop(&self) {
        self.stop.stop();
    }

    /// Whose folder it is, by its first file: one request. `None` where there is no such file.
    ///
    /// # Errors
    /// It cannot be reached or used, or the file is another program's.
    pub fn about(&self) -> Result<Option<About>, Fault> {
        match self.first_file() {
            Ok(bytes) => Ok(Some(About::read(&bytes)?)),
            Err(fault) if fault.trouble() == Trouble::Missing => Ok(None),
            Err(fault) => Err(fault),
        }
    }

    /// That the clocks differ, by the server's last answer. `now_ms` is this device's time, milliseconds since 1970.
    pub fn clock(&self, now_ms: i64) -> Option<Fault> {
        match self.place.inner() {
            Where::Remote(remote) => remote.server_time().and_then(|server| differ(now_ms, server)),
            Where::Folder(..) => None,
        }
    }

    /// Looks what is there: two requests. `now_ms` is this device's time, milliseconds since 1970.
    ///
    /// # Errors
    /// It cannot be reached or used, or is another program's.
    pub fn look(&self, now_ms: i64) -> Result<Look, Fault> {
        let about = self.about()?;
        if about.is_none() {
            self.is_empty()?;
        }
        Ok(Look { about, clock: self.clock(now_ms) })
    }

    fn first_file(&self) -> Result<Vec<u8>, Fault> {
        let span = Span { from: 0, most: MOST_SMALL_BYTES };
        match self.place.inner() {
            Where::Folder(folder) => folder.read(ABOUT, span).map_err(Fault::Folder),
            Where::Remote(remote) => remote.fetch(ABOUT, span),
        }
    }

    fn is_empty(&self) -> Result<(), Fault> {
        let names = match self.place.inner() {
            Where::Remote(remote) => remote.names()?,
            Where::Folder(folder) => folder.names()?,
        };
        let mut names: Vec<String> =
            names.into_iter().filter(|name| !name.starts_with('.') && !HARMLESS.contains(&name.as_str())).collect();
        names.sort();
        if names.iter().any(|name| [HEADS, MEMBERS].contains(&name.as_str())) {
            return Err(Fault::Stripped);
        }
        match names.into_iter().next() {
            Some(name) => Err(Fault::Foreign(name)),
            None => Ok(()),
        }
    }
}

fn differ(now_ms: i64, server_s: i64) -> Option<Fault> {
    let ahead_s = now_ms.div_euclid(1000).saturating_sub(server_s);
    (ahead_s.saturating_abs() > CLOCKS_AGREE_S).then_some(Fault::Clock { ahead_s })
}

impl Where {
    fn place(&self) -> &dyn Place {
        match self {
            Self::Folder(folder) => folder,
            Self::Remote(remote) => remote,
        }
    }
}

impl Place for Where {
    fn list(&self, folder: &str) -> Result<Vec<Entry>, PlaceError> {
        self.place().list(folder)
    }

    fn read(&self, path: &str, span: Span) -> Result<Vec<u8>, PlaceError> {
        self.place().read(path, span)
    }

    fn read_into(&self, path: &str, span: Span, bytes: &mut Vec<u8>) -> Result<(), PlaceError> {
        self.place().read_into(path, span, bytes)
    }

    fn write_new(&self, path: &str, bytes: &[u8]) -> Result<(), PlaceError> {
        self.place().write_new(path, bytes)
    }

    fn delete(&self, path: &str) -> Result<(), PlaceError> {
        self.place().delete(path)
    }
}
