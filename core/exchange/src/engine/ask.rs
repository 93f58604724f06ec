//! What a round asks, and how it is answered.

use std::cell::RefCell;
use std::collections::{BTreeMap, VecDeque};
use std::future::Future;
use std::pin::Pin;
use std::rc::Rc;
use std::task::{Context, Poll};

use super::{Fetch, Note};
use crate::DeviceId;
use crate::pack::{Blob, Class, Item};
use crate::place::{Entry, PlaceError, Span, Trouble};

/// A question of a round.
#[derive(Clone, Debug)]
pub enum Ask {
    /// Of the place: the files in a folder.
    List(&'static str),
    /// Of the place: bytes of a file.
    Read(String, Span),
    /// Of the place and the home: a block, which is opened on the way and kept behind those of its blob that were asked for
    /// before.
    Fetch(Fetch),
    /// Of the place: write a whole file.
    Write(String, Vec<u8>),
    /// Of the place: remove a file.
    Delete(String),
    /// Of the home.
    Home(Home),
}

/// A question of a round to the home: the store of this device.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Home {
    /// Keep these bytes of a [`crate::memory::Memory`] durably in place of those before.
    Remember(Vec<u8>),
    /// Which items lie in no feed yet? Those are entered durably into this device's own feed, from a position on, and
    /// returned in that order; what stood there from that position on lies in no feed again before. At least one where
    /// there is one, else about so many bytes.
    Offer {
        /// The first position.
        from: u64,
        /// About so many bytes at most.
        most: usize,
    },
    /// The items of a feed at some positions; fewer where some are not here.
    Items {
        /// Whose feed.
        device: DeviceId,
        /// The first position.
        from: u64,
        /// How many.
        many: u64,
    },
    /// Take these in durably, and remember where in whose feed they stand. Items that are here already are left as they
    /// are. Where others stand at these positions, these take their place, and those lie in no feed again.
    Take {
        /// Whose feed.
        device: DeviceId,
        /// The first position.
        from: u64,
        /// The items.
        items: Vec<Item>,
    },
    /// A feed counts no longer from a position on: items from there on lie in it no more, and those that lie in no other
    /// are to be offered.
    Release {
        /// Whose feed.
        device: DeviceId,
        /// The first position.
        from: u64,
    },
    /// Some blobs of a class that are here whole and that no item names yet.
    Unsent(Class),
    /// Bytes of a blob that is here whole; none where it is not.
    Load {
        /// Its id.
        id: [u8; 32],
        /// Where to begin.
        span: Span,
    },
    /// A blob lies in the folder: the item that names it is now one to be offered.
    Sent(Blob),
    /// Some blobs of a class that are named by items, are not here whole, and are wanted on this device, with how many of
    /// their blocks are here; none of these again.
    Wanted(Class, Vec<[u8; 32]>),
    /// All blocks of these blobs are here: prove each by its id and keep it durably. Where one is not what its id says,
    /// forget its blocks.
    Whole(Vec<[u8; 32]>),
    /// The item that names a blob, where one is here.
    Named([u8; 32]),
}

/// A blob that is to be sent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sender {
    /// The SHA-256 of its bytes.
    pub id: [u8; 32],
    /// Its size in bytes.
    pub bytes: u64,
}

/// An answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answer {
    /// It is done.
    Done,
    /// The files of a folder.
    Files(Vec<Entry>),
    /// Bytes.
    Bytes(Vec<u8>),
    /// Items.
    Items(Vec<Item>),
    /// Blobs to send.
    Senders(Vec<Sender>),
    /// Blobs that are wanted, each with how many of its blocks are here.
    Blobs(Vec<(Blob, u64)>),
    /// The blobs that are what their ids say.
    Whole(Vec<[u8; 32]>),
    /// It was not done.
    Failed(Failure),
}

/// Why a round ended before its end.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{why}")]
pub struct Failure {
    /// What kind of failure it is, where the place failed.
    pub trouble: Option<Trouble>,
    /// What happened and what to do about it.
    pub why: String,
}

impl From<PlaceError> for Failure {
    fn from(error: PlaceError) -> Self {
        Self { trouble: Some(error.trouble), why: error.to_string() }
    }
}

impl Failure {
    /// Of this device's own store.
    #[must_use]
    pub fn home(why: &impl std::fmt::Display) -> Self {
        Self { trouble: None, why: why.to_string() }
    }

    /// Whether it concerns one file, and others may still be read.
    pub(super) fn is_of_one_file(&self) -> bool {
        matches!(self.trouble, Some(Trouble::Missing | Trouble::Unreadable | Trouble::Refused))
    }
}

/// Questions on their way out and answers on their way in.
#[derive(Debug, Default)]
pub(super) struct Mail {
    pub asked: VecDeque<(u64, Ask)>,
    pub answers: BTreeMap<u64, Answer>,
    pub notes: Vec<Note>,
    count: u64,
}

/// The round's end of the mail.
#[derive(Clone)]
pub(super) struct Io(pub Rc<RefCell<Mail>>);

/// An answer to come.
pub(super) struct Ticket {
    number: u64,
    mail: Rc<RefCell<Mail>>,
}

impl Future for Ticket {
    type Output = Answer;

    fn poll(self: Pin<&mut Self>, _: &mut Context<'_>) -> Poll<Answer> {
        match self.mail.borrow_mut().answers.remove(&self.number) {
            Some(answer) => Poll::Ready(answer),
            None => Poll::Pending,
        }
    }
}

impl Ticket {
    /// Whether the answer is there.
    pub fn is_answered(&self) -> bool {
        self.mail.borrow().answers.contains_key(&self.number)
    }
}

/// Whoever drives the round answered something else than was asked.
fn muddled() -> Failure {
    Failure {
        trouble: None,
        why: "the round was answered something that it did not ask; please report this".to_owned(),
    }
}

impl Io {
    /// Asks at once; the answer can be awaited later, so that several are under way.
    pub fn ask(&self, ask: Ask) -> Ticket {
        let mut mail = self.0.borrow_mut();
        mail.count += 1;
        let number = mail.count;
        mail.asked.push_back((number, ask));
        Ticket { number, mail: Rc::clone(&self.0) }
    }

    pub fn tell(&self, note: Note) {
        self.0.borrow_mut().notes.push(note);
    }

    pub fn read_later(&self, path: String, most: u64) -> Ticket {
        self.ask(Ask::Read(path, Span { from: 0, most }))
    }

    pub async fn list(&self, folder: &'static str) -> Result<Vec<Entry>, Failure> {
        match self.ask(Ask::List(folder)).await {
            Answer::Files(files) => Ok(files),
            other => Err(other.into_failure()),
        }
    }

    pub async fn read(&self, path: String, most: u64) -> Result<Vec<u8>, Failure> {
        self.read_later(path, most).await.into_bytes()
    }

    pub async fn write(&self, path: String, bytes: Vec<u8>) -> Result<(), Failure> {
        self.ask(Ask::Write(path, bytes)).await.into_done()
    }

    pub async fn delete(&self, path: String) -> Result<(), Failure> {
        self.ask(Ask::Delete(path)).await.into_done()
    }

    pub async fn home(&self, ask: Home) -> Answer {
        self.ask(Ask::Home(ask)).await
    }
}

impl Answer {
    pub(super) fn into_failure(self) -> Failure {
        if let Self::Failed(failure) = self { failure } else { muddled() }
    }

    pub(super) fn into_done(self) -> Result<(), Failure> {
        if self == Self::Done { Ok(()) } else { Err(self.into_failure()) }
    }

    pub(super) fn into_bytes(self) -> Result<Vec<u8>, Failure> {
        match self {
            Self::Bytes(bytes) => Ok(bytes),
            other => Err(other.into_failure()),
        }
    }

    pub(super) fn into_items(self) -> Result<Vec<Item>, Failure> {
        match self {
            Self::Items(items) => Ok(items),
            other => Err(other.into_failure()),
        }
    }

    pub(super) fn into_blobs(self) -> Result<Vec<(Blob, u64)>, Failure> {
        match self {
            Self::Blobs(blobs) => Ok(blobs),
            other => Err(other.into_failure()),
        }
    }
}
