//! Driving a round: the I/O that it asks for, with several requests to the place under way at once.

use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::sync::{Mutex, PoisonError};
use std::thread;
use std::time::Duration;

use super::ask::{Answer, Ask, Failure, Home};
use super::{Note, Report, Round, Step};
use crate::memory::Memory;
use crate::place::Place;

/// So many requests to the place are under way at once.
const WORKERS: usize = 4;
/// A person who stops a round while the place is slow waits no longer than this.
const HEAR_EVERY: Duration = Duration::from_millis(200);

/// The store of this device, as a round asks it.
pub trait Keeper {
    /// Does what is asked, durably, and answers; [`Home`] says what each question means.
    fn answer(&mut self, ask: Home) -> Answer;
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
    let work = Mutex::new(work);
    thread::scope(|scope| {
        for _ in 0..WORKERS {
            let (work, to_us) = (&work, to_us.clone());
            scope.spawn(move || serve(place, work, &to_us));
        }
        let how = turn(&mut round, &to_work, &answers, keeper, tell);
        // Without anybody to ask, those who serve the place come to their end.
        drop(to_work);
        how
    })
}

fn turn(
    round: &mut Round,
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
            Step::Ask(number, ask) => to_work.send((number, ask)).map_err(|_| gone())?,
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
            }
            Step::Done(how, memory) => return how.map(|report| Some((report, *memory))),
        }
    }
}

fn serve(place: &dyn Place, work: &Mutex<Receiver<(u64, Ask)>>, to_us: &Sender<(u64, Answer)>) {
    loop {
        // One waits for work at a time; the others wait for the lock.
        let next = work.lock().unwrap_or_else(PoisonError::into_inner).recv();
        let Ok((number, ask)) = next else { return };
        if to_us.send((number, at(place, &ask))).is_err() {
            return;
        }
    }
}

/// What a place answers.
fn at(place: &dyn Place, ask: &Ask) -> Answer {
    let done = match ask {
        Ask::List(folder) => place.list(folder).map(Answer::Files),
        Ask::Read(path, span) => place.read(path, *span).map(Answer::Bytes),
        Ask::Write(path, bytes) => place.write_new(path, bytes).map(|()| Answer::Done),
        Ask::Delete(path) => place.delete(path).map(|()| Answer::Done),
        Ask::Home(_) => Ok(Answer::Done),
    };
    done.unwrap_or_else(|error| Answer::Failed(error.into()))
}
