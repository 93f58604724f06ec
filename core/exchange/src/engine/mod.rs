//! One round between this device and the folder, as a state machine without I/O: it asks, whoever drives it answers, and
//! it may be dropped at any question without harm. What it must know again after a restart is a [`Memory`], which it asks
//! to be kept whenever it changes.
//!
//! A round lists the heads; reads those that are new; takes the packs that they name; puts this device's own items into
//! a pack and says so in a head of its own; carries blobs both ways, small ones first; mends what others lack. Where
//! nothing is new it lists the heads and ends.

mod ask;
mod blobs;
mod drive;
mod fetch;
mod heads;
mod mend;
mod publish;
mod pull;
mod report;
mod work;

use std::cell::RefCell;
use std::future::Future;
use std::pin::Pin;
use std::rc::Rc;
use std::task::{Context, Poll, Waker};

use crate::memory::Memory;
use crate::seal::Identity;

pub use ask::{Answer, Ask, Failure, Home, Sender};
use ask::{Io, Mail};
pub use drive::{AT_ONCE, Go, Keeper, drive};
pub use fetch::{Block, Blocks, Fetch};
pub use report::{Aside, Note, Report};

/// What a round wants next.
#[derive(Debug)]
pub enum Step {
    /// An answer to this, under this number. Several may be open at once.
    Ask(u64, Ask),
    /// An answer to one of the open questions.
    Wait,
    /// Nothing more: how it ended, and what to remember.
    Done(Result<Report, Failure>, Box<Memory>),
}

/// How a round ended, and what to remember.
type End = (Result<Report, Failure>, Memory);

/// A round.
pub struct Round {
    work: Pin<Box<dyn Future<Output = End>>>,
    mail: Rc<RefCell<Mail>>,
}

impl std::fmt::Debug for Round {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Round({:?})", self.mail.borrow())
    }
}

impl Round {
    /// A round that begins with what was remembered. `now_ms` is the time, milliseconds since 1970, and decides nothing;
    /// `random` are bytes from a good source, never used before.
    #[must_use]
    pub fn new(own: Identity, memory: Memory, now_ms: i64, random: [u8; 32]) -> Self {
        let mail = Rc::new(RefCell::new(Mail::default()));
        let io = Io(Rc::clone(&mail));
        Self { work: Box::pin(work::round(io, own, memory, now_ms, random)), mail }
    }

    /// Goes on as far as it can without an answer.
    pub fn step(&mut self) -> Step {
        if let Some((number, ask)) = self.mail.borrow_mut().asked.pop_front() {
            return Step::Ask(number, ask);
        }
        // Nobody is woken: whoever answers calls this again.
        let done = self.work.as_mut().poll(&mut Context::from_waker(Waker::noop()));
        if let Poll::Ready((how, memory)) = done {
            return Step::Done(how, Box::new(memory));
        }
        match self.mail.borrow_mut().asked.pop_front() {
            Some((number, ask)) => Step::Ask(number, ask),
            None => Step::Wait,
        }
    }

    /// Answers a question.
    pub fn answer(&mut self, number: u64, answer: Answer) {
        self.mail.borrow_mut().answers.insert(number, answer);
    }

    /// What is to be told since the last call.
    pub fn notes(&mut self) -> Vec<Note> {
        std::mem::take(&mut self.mail.borrow_mut().notes)
    }
}
