//! A place that keeps files badly: what is written may not arrive, arrive late, in part or twice; what is read may be old
//! or cut short; a request may be done though its answer is lost.

use std::collections::BTreeMap;

use exchange::engine::{Answer, Ask, Failure};
use exchange::place::{Entry, PlaceError, Span, Trouble};

use crate::dice::Dice;

/// A change of the folder that has not arrived yet.
struct Late {
    due: u64,
    path: String,
    file: Option<Vec<u8>>,
}

/// The place.
#[derive(Default)]
pub struct Sea {
    pub files: BTreeMap<String, Vec<u8>>,
    /// Earlier contents of paths, for replaying.
    pub past: Vec<(String, Vec<u8>)>,
    late: Vec<Late>,
    now: u64,
    /// So many in a thousand requests go wrong in some way.
    pub rough: u64,
}

fn failed(trouble: Trouble) -> Answer {
    let error = PlaceError { trouble, place: "the sea".to_owned(), why: format!("{trouble:?}") };
    Answer::Failed(Failure::from(error))
}

impl Sea {
    pub fn new(rough: u64) -> Self {
        Self { rough, ..Self::default() }
    }

    pub fn tick(&mut self) {
        self.now += 1;
        let now = self.now;
        // Whatever is due arrives, in any order that the dice gave it.
        let (due, late) = std::mem::take(&mut self.late).into_iter().partition(|late| late.due <= now);
        self.late = late;
        self.arrive(due);
    }

    pub fn calm(&mut self) {
        self.rough = 0;
        let late = std::mem::take(&mut self.late);
        self.arrive(late);
    }

    fn arrive(&mut self, late: Vec<Late>) {
        for Late { path, file, .. } in late {
            match file {
                Some(file) => self.put(path, file),
                None => {
                    self.files.remove(&path);
                }
            }
        }
    }

    fn put(&mut self, path: String, file: Vec<u8>) {
        if let Some(before) = self.files.insert(path.clone(), file) {
            self.past.push((path, before));
        }
    }

    pub fn answer(&mut self, ask: Ask, dice: &mut Dice) -> Answer {
        let wrong = dice.chance(self.rough);
        match ask {
            Ask::List(folder) => {
                if wrong && dice.chance(400) {
                    return failed(Trouble::Away);
                }
                let start = format!("{folder}/");
                let files = self.files.iter().filter_map(|(path, file)| {
                    let name = path.strip_prefix(&start)?.to_owned();
                    Some(Entry { name, bytes: file.len() as u64, plain: true })
                });
                // A list may be some time behind.
                let files: Vec<Entry> = files.filter(|_| !wrong || dice.chance(700)).collect();
                Answer::Files(files)
            }
            Ask::Read(path, Span { from, most }) => {
                let Some(file) = self.files.get(&path).filter(|_| !wrong || dice.chance(700)) else {
                    return failed(if wrong && dice.chance(500) { Trouble::Away } else { Trouble::Missing });
                };
                let mut bytes: Vec<u8> = file.iter().skip(from as usize).take(most as usize).copied().collect();
                if wrong && dice.chance(500) {
                    bytes.truncate(dice.below(bytes.len()));
                }
                Answer::Bytes(bytes)
            }
            Ask::Write(path, file) => {
                if !wrong {
                    self.put(path, file);
                    return Answer::Done;
                }
                match dice.below(6) {
                    // Nothing arrives; or all of it, and the answer is lost.
                    0 => failed(Trouble::Away),
                    1 => {
                        self.put(path, file);
                        failed(Trouble::Away)
                    }
                    // A part arrives.
                    2 => {
                        let cut = dice.below(file.len());
                        self.put(path, file[..cut].to_vec());
                        failed(Trouble::Away)
                    }
                    3 => failed(Trouble::Full),
                    // It arrives later, and it may be twice; or it is said to have arrived and never does.
                    4 => {
                        for _ in 0..=dice.below(2) {
                            let due = self.now + 1 + dice.below(20) as u64;
                            self.late.push(Late { due, path: path.clone(), file: Some(file.clone()) });
                        }
                        Answer::Done
                    }
                    _ => Answer::Done,
                }
            }
            Ask::Delete(path) => {
                if !wrong {
                    self.files.remove(&path);
                    return Answer::Done;
                }
                match dice.below(3) {
                    0 => failed(Trouble::Away),
                    1 => {
                        let due = self.now + 1 + dice.below(20) as u64;
                        self.late.push(Late { due, path, file: None });
                        Answer::Done
                    }
                    _ => Answer::Done,
                }
            }
            Ask::Fetch(_) | Ask::Home(_) => unreachable!("the home is asked elsewhere"),
        }
    }
}
