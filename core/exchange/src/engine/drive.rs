//! Driving a round: the I/O that it asks for, with several requests to the place under way at once.

use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;
use std::time::Duration;

use super::ask::{Answer, Ask, Failure, Home};
use super::fetch::{Blocks, Turns};
use super::{Note, Report, Round, Step};
use crate::memory::Memory;
use crate::place::Place;

/// So many requests to the place are under way at once.
pub const AT_ONCE: usize = 8;
/// A person who stops a round while the place is slow waits no longer than this.
const HEAR_EVERY: Duration = Duration::from_millis(200);

/// The store of this device, as a round asks it.
pub trait Keeper {
    /// Does what is asked, durably, and answers; [`Home`] says what each question means.
    fn answer(&mut self, ask: Home) -> Answer;

    /// Where blocks are kept while the round goes on.
    fn blocks(&self) -> Arc<dyn Blocks>;
}

/// Whether to go on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Go {
    /// Go on.
    On,
    /// Stop here; what was done stays, and the next round goes on from it.
    Stop,
}

/// Runs a round to its end, or until it is told to stop; then there is no report. `tell` hears what goes on, at least
/// once for each answer, and some times a second while none comes.
///
/// # Errors
/// The place or the store failed; what was done before stays.
pub fn drive(
    mut round: Round,
    place: &dyn Place,
    keeper: &mut dyn Keeper,
    tell: &mut dyn FnMut(&[Note]) -> Go,
) -> Result<Option<(Report, Memory)>, Failure> {
    let (to_work, work) = channel::<(u64, Ask)>();
    let (to_us, answers) = channel();
    let servers = Servers { place, blocks: keeper.blocks(), work: Mutex::new(work), turns: Turns::default() };
    thread::scope(|scope| {
        for _ in 0..AT_ONCE {
            let (servers, to_us) = (&servers, to_us.clone());
            scope.spawn(move || servers.serve(&to_us));
        }
        let how = turn(&mut round, &servers.turns, &to_work, &answers, keeper, tell);
        // Without anybody to ask, those who serve the place come to their end; what is still asked is not done, and nobody waits
        // for it.
        servers.turns.end();
        drop(to_work);
        how
    })
}

fn turn(
    round: &mut Round,
    turns: &Turns,
    to_work: &Sender<(u64, Ask)>,
    answers: &Receiver<(u64, Answer)>,
    keeper: &mut dyn Keeper,
    tell: &mut dyn FnMut(&[Note]) -> Go,
) -> Result<Option<(Report, Memory)>, Failure> {
    let gone = || Failure { trouble: None, why: "a part of the program that reads the folder has ended".to_owned() };
    loop {
        let step = round.step();
        if tell(&round.notes()) == Go::Stop {
            return Ok(None);
        }
        match step {
            Step::Ask(number, Ask::Home(ask)) => {
                let answer = keeper.answer(ask);
                round.answer(number, answer);
            }
            Step::Ask(number, ask) => {
                if let Ask::Fetch(fetch) = &ask {
                    turns.announce(fetch);
                }
                to_work.send((number, ask)).map_err(|_| gone())?;
            }
            Step::Wait => {
                let (number, answer) = loop {
                    match answers.recv_timeout(HEAR_EVERY) {
                        Ok(answer) => break answer,
                        Err(RecvTimeoutError::Timeout) if tell(&[]) == Go::Stop => return Ok(None),
                        Err(RecvTimeoutError::Timeout) => {}
                        Err(RecvTimeoutError::Disconnected) => return Err(gone()),
                    }
                };
                round.answer(number, answer);
                // Whatever else has come meanwhile is looked at together with it.
                for (number, answer) in answers.try_iter() {
                    round.answer(number, answer);
                }
            }
            Step::Done(how, memory) => return how.map(|report| Some((report, *memory))),
        }
    }
}

/// What those who serve the place share.
struct Servers<'a> {
    place: &'a dyn Place,
    blocks: Arc<dyn Blocks>,
    work: Mutex<Receiver<(u64, Ask)>>,
    turns: Turns,
}

impl Servers<'_> {
    fn serve(&self, to_us: &Sender<(u64, Answer)>) {
        // For the files of blocks, one after another.
        let mut file = Vec::new();
        loop {
            // One waits for work at a time; the others wait for the lock.
            let next = self.work.lock().unwrap_or_else(PoisonError::into_inner).recv();
            let Ok((number, ask)) = next else { return };
            if self.turns.is_over() || to_us.send((number, self.answer(&ask, &mut file))).is_err() {
                return;
            }
        }
    }

    fn answer(&self, ask: &Ask, file: &mut Vec<u8>) -> Answer {
        let done = match ask {
            Ask::List(folder) => self.place.list(folder).map(Answer::Files),
            Ask::Read(path, span) => self.place.read(path, *span).map(Answer::Bytes),
            Ask::Write(path, bytes) => self.place.write_new(path, bytes).map(|()| Answer::Done),
            Ask::Delete(path) => self.place.delete(path).map(|()| Answer::Done),
            Ask::Fetch(fetch) => Ok(self.turns.fetch(self.place, &*self.blocks, fetch, file)),
            Ask::Home(_) => Ok(Answer::Done),
        };
        done.unwrap_or_else(|error| Answer::Failed(error.into()))
    }
}
