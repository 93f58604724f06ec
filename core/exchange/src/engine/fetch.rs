//! Blocks of blobs on their way from the place into the home. Each is read, opened, proved and kept on one thread, so that
//! as many are at work at once as the machine has processors, and none is copied or waits for another.

use std::collections::BTreeMap;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};

use super::ask::{Answer, Failure};
use crate::layout::{BLOCK_BYTES, Spot};
use crate::members::Ring;
use crate::pack::{self, Blob, Class};
use crate::place::{Place, Span, Trouble};
use crate::seal::Name;

/// What a block and its file have beside their bytes: the kind, the version, the key's id and the proof.
const OVERHEAD: u64 = 1 + 1 + 8 + 16;

/// A block that is wanted here.
#[derive(Clone, Debug)]
pub struct Fetch {
    ring: Arc<Ring>,
    name: Name,
    blob: [u8; 32],
    class: Class,
    /// Which of its blob's blocks it is, from nought.
    number: u64,
    bytes: u64,
    /// Whether the blocks before it were here before.
    first: bool,
    last: bool,
}

/// A block of a blob, proved to be what its name says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Block<'a> {
    /// The id of its blob.
    pub blob: [u8; 32],
    /// The class of that.
    pub class: Class,
    /// Its number, from nought.
    pub number: u64,
    /// Whether no other comes after it.
    pub last: bool,
    /// Its bytes.
    pub bytes: &'a [u8],
}

/// Where blocks are kept until their blob is whole.
pub trait Blocks: Send + Sync {
    /// Keeps a block of a wanted blob behind those that are here. Called from several threads at once, for one block of a
    /// blob at a time and in their order. Once the last one is kept, all of them are as durable as the home wants them to
    /// be before [`super::Home::Whole`] is answered; what is forgotten of the others is fetched again.
    ///
    /// # Errors
    /// It cannot be kept.
    fn keep(&self, block: Block<'_>) -> Result<(), Failure>;
}

impl Fetch {
    /// A block of a blob of which so many are here.
    pub(super) fn new(ring: &Arc<Ring>, blob: &Blob, number: u64, here: u64) -> Option<Self> {
        let name = *blob.blocks.get(usize::try_from(number).ok()?)?;
        let bytes = blob.bytes.checked_sub(number * BLOCK_BYTES)?.min(BLOCK_BYTES);
        let last = number + 1 == blob.blocks.len() as u64;
        let (ring, first) = (Arc::clone(ring), number == here);
        Some(Self { ring, name, blob: blob.id, class: blob.class, number, bytes, first, last })
    }

    /// The blob, and which of its blocks it is.
    #[must_use]
    pub fn of(&self) -> ([u8; 32], u64) {
        (self.blob, self.number)
    }

    pub(super) fn name(&self) -> Name {
        self.name
    }

    /// Where it lies.
    #[must_use]
    pub fn path(&self) -> String {
        Spot::Object(self.name).to_string()
    }

    /// What is to be read: one byte more than there should be tells a longer file.
    #[must_use]
    pub fn span(&self) -> Span {
        Span { from: 0, most: self.bytes + OVERHEAD + 1 }
    }

    /// The block in a file, in the place of that.
    ///
    /// # Errors
    /// It is another, or damaged.
    pub fn open<'a>(&self, file: &'a mut [u8]) -> Result<Block<'a>, Failure> {
        let plain = self.ring.open_object(self.name, file).map_err(|why| unreadable(&why))?;
        let bytes = pack::block_bytes(plain).filter(|bytes| bytes.len() as u64 == self.bytes);
        let bytes = bytes.ok_or_else(|| unreadable(&"it is no block of this blob"))?;
        Ok(Block { blob: self.blob, class: self.class, number: self.number, last: self.last, bytes })
    }
}

fn unreadable(why: &impl std::fmt::Display) -> Failure {
    Failure { trouble: Some(Trouble::Unreadable), why: why.to_string() }
}

/// Sees to it that the blocks of a blob are kept in their order, however they come.
#[derive(Debug, Default)]
pub(super) struct Turns {
    state: Mutex<State>,
    changed: Condvar,
}

#[derive(Debug, Default)]
struct State {
    /// Of each blob that is on its way: the block whose turn it is; none once one of them failed.
    next: BTreeMap<[u8; 32], Option<u64>>,
    /// Whether the round has ended, so that nobody's turn comes any more.
    is_over: bool,
}

/// A block's turn, which ends when this is dropped.
struct Turn<'a> {
    turns: &'a Turns,
    blob: [u8; 32],
    /// Whose turn it is then.
    then: Option<u64>,
}

impl Turns {
    fn lock(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Says that a block is on its way: those before it have been said before.
    pub fn announce(&self, fetch: &Fetch) {
        if fetch.first {
            self.lock().next.insert(fetch.blob, Some(fetch.number));
        }
    }

    /// Ends all waiting.
    pub fn end(&self) {
        self.lock().is_over = true;
        self.changed.notify_all();
    }

    pub fn is_over(&self) -> bool {
        self.lock().is_over
    }

    /// Waits until it is a block's turn; `None` where one before it failed, or the round has ended. Those before it are at
    /// work on other threads.
    fn wait(&self, fetch: &Fetch) -> Option<Turn<'_>> {
        let mut state = self.lock();
        loop {
            match state.next.get(&fetch.blob).copied().flatten().filter(|_| !state.is_over) {
                None => return None,
                Some(number) if number == fetch.number => {
                    return Some(Turn { turns: self, blob: fetch.blob, then: None });
                }
                Some(_) => state = self.changed.wait(state).unwrap_or_else(PoisonError::into_inner),
            }
        }
    }

    /// Fetches a block: one that fails leaves no turn to those behind it.
    pub fn fetch(&self, place: &dyn Place, blocks: &dyn Blocks, fetch: &Fetch, file: &mut Vec<u8>) -> Answer {
        let read = place.read_into(&fetch.path(), fetch.span(), file).map_err(Failure::from);
        let opened = read.and_then(|()| fetch.open(file));
        let Some(mut turn) = self.wait(fetch) else {
            return Answer::Failed(unreadable(&"a block before it was not kept"));
        };
        match opened.and_then(|block| blocks.keep(block)) {
            Ok(()) => {
                turn.then = Some(fetch.number + 1);
                Answer::Done
            }
            Err(failure) => Answer::Failed(failure),
        }
    }
}

impl Drop for Turn<'_> {
    fn drop(&mut self) {
        self.turns.lock().next.insert(self.blob, self.then);
        self.turns.changed.notify_all();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::members::Log;
    use crate::seal::Identity;
    use std::thread;

    #[test]
    fn a_block_has_its_turn_after_those_before_it_unless_one_failed_or_the_round_ended() {
        let log = Log::new([0; 32]);
        let ring = Arc::new(Ring::new(&log, &log.team(), &Identity::new([1; 32])));
        let blob = |id: u8| {
            let blocks = vec![Name([id; 32]); 4];
            Blob { id: [id; 32], class: Class::Original, bytes: 4 * BLOCK_BYTES, blocks }
        };
        let fetch = |id, number| Fetch::new(&ring, &blob(id), number, 1).expect("a block");
        let turns = Turns::default();
        for id in [1, 2, 3] {
            turns.announce(&fetch(id, 1));
            turns.announce(&fetch(id, 2));
        }
        let kept = Mutex::new(Vec::new());
        let keep = |number: u64| {
            let mut turn = turns.wait(&fetch(1, number)).expect("its turn");
            kept.lock().expect("nobody has panicked").push(number);
            turn.then = Some(number + 1);
        };
        thread::scope(|scope| {
            scope.spawn(|| keep(3));
            scope.spawn(|| keep(2));
            scope.spawn(|| keep(1));
        });
        assert_eq!(kept.into_inner().expect("nobody has panicked"), [1, 2, 3]);
        thread::scope(|scope| {
            let behind = scope.spawn(|| turns.wait(&fetch(2, 2)).is_none());
            // Its turn ends without having been kept.
            drop(turns.wait(&fetch(2, 1)).expect("its turn"));
            assert!(behind.join().expect("nobody has panicked"), "behind one that failed");
            let never = scope.spawn(|| turns.wait(&fetch(3, 2)).is_none());
            turns.end();
            assert!(never.join().expect("nobody has panicked"), "the round has ended");
        });
        assert!(turns.is_over() && turns.wait(&fetch(3, 1)).is_none());
    }
}
