//! The choice itself: a walk along the luminaires that keeps, at each, every partial scheme that may still be cheapest.
//!
//! A partial scheme that feeds luminaires `1 … e` is *closed* (its last driver takes no more chains) or *open* (the last
//! driver, a stand with `k` chains and a first luminaire `s`, may take more). From a closed one any driver may start at
//! `e`; from an open one with outputs left, its driver may take any chain that starts at `e`, while power from `s` on
//! lasts. One open scheme beats another at the same place with the same kind of source where it costs no more, its
//! driver's power lasts as far, it has as many outputs left with as high a limit, and it has used no more room and kept
//! as many locks; a closed one with a fresh driver there can beat it likewise. Everything beaten can be dropped, since whatever completes it completes the other
//! one too. Besides, a partial scheme whose cost and floor for the rest (see [`super::bound`]) exceed a ceiling is
//! dropped; the ceiling is raised from the floor until a scheme below it is found, and that is the cheapest there is.

use super::bound::{BEYOND, Known, Left};
use super::lead::Fine;
use super::missing::{Kept, LockFloors, every, keep};
use super::spans::Spans;
use super::stand::Stand;
use super::table::Tables;

/// How many places with scarce room, and how many locks, one walk can keep count of.
pub(super) const MOST_COUNTED: usize = 32;
/// How many locks.
pub(super) const MOST_LOCKS: usize = 16;

/// What is kept count of along the walk.
#[derive(Clone, Debug, Default)]
pub(super) struct Counted {
    /// Places whose room may run out, with the room.
    pub(super) rooms: Vec<(usize, u32)>,
    /// For each lock the stands that keep it.
    pub(super) locks: Vec<Vec<usize>>,
}

/// Room used (a byte for each counted place) and locks kept (a bit each).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Tally {
    rooms: [u8; MOST_COUNTED],
    locks: Kept,
}

impl Tally {
    fn beats(&self, other: &Self) -> bool {
        self == other
            || (self.locks & other.locks == other.locks && self.rooms.iter().zip(&other.rooms).all(|(a, b)| a <= b))
    }
}

/// Tallies met so far; partial schemes name them by index, 0 the empty one.
struct Tallies(Vec<Tally>);

impl Tallies {
    fn index(&mut self, tally: Tally) -> u32 {
        let known = self.0.iter().position(|own| *own == tally).unwrap_or_else(|| {
            self.0.push(tally);
            self.0.len() - 1
        });
        known as u32
    }

    fn beats(&self, one: u32, two: u32) -> bool {
        one == two || self.0[one as usize].beats(&self.0[two as usize])
    }
}

/// Cost, then drivers, then chains.
type Score = (Fine, u32);
const ONE_DRIVER: u32 = 1 << 16;
const ONE_CHAIN: u32 = 1;
const NOWHERE: u32 = u32::MAX;

#[derive(Clone, Copy, Debug)]
struct Partial {
    score: Score,
    tally: u32,
    stand: u32,
    /// First luminaire of its last driver.
    start: u32,
    /// Chains of its last driver.
    chains: u8,
    /// Feed of its last chain, and the luminaire where that starts.
    feed: u32,
    from: u32,
    /// The partial scheme before, in the arena.
    before: u32,
}

/// A chain of the answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Chosen {
    pub(crate) stand: usize,
    pub(super) feed: usize,
    pub(crate) first: usize,
    pub(crate) last: usize,
    /// Whether a driver starts here.
    pub(super) starts: bool,
}

/// Ceilings tried in turn, thousandths above the floor.
const CEILINGS: [Fine; 8] = [0, 3, 10, 25, 60, 130, 300, 1000];

/// The cheapest scheme for all luminaires, `None` where there is none.
pub(super) fn choose(
    count: usize,
    known: Known<'_>,
    floors: &LockFloors,
    counted: &Counted,
) -> Option<(Fine, Vec<Chosen>)> {
    if floors.whole() >= BEYOND {
        return None;
    }
    let by_table = |table| (0..known.stands.len()).filter(|index| known.stands[*index].table == table).collect();
    let by_table: Vec<Vec<usize>> = (0..known.tables.len()).map(by_table).collect();
    let least = floors.whole();
    let ceilings = CEILINGS.iter().map(|thousandths| least + least / 1000 * thousandths).chain([BEYOND - 1]);
    ceilings.into_iter().find_map(|ceiling| {
        let Known { stands, tables, spans, .. } = known;
        let by_table = &by_table;
        let ground = Ground { known, stands, by_table, tables, counted, spans, floors, ceiling };
        Walk::over(count, &ground)
    })
}

/// What a walk goes by.
struct Ground<'a> {
    known: Known<'a>,
    stands: &'a [Stand],
    tables: &'a Tables,
    counted: &'a Counted,
    spans: &'a Spans,
    floors: &'a LockFloors,
    ceiling: Fine,
    /// Stands by table.
    by_table: &'a [Vec<usize>],
}

/// What the last driver of an open scheme can still do.
#[derive(Clone, Copy, Debug)]
struct Ability {
    /// One past the last luminaire that its power lasts for.
    power_to: u32,
    /// Outputs left.
    outputs: u8,
    /// Limit of an output, microamperes.
    limit: i64,
}

impl Ability {
    fn covers(self, other: Self) -> bool {
        self.power_to >= other.power_to && self.outputs >= other.outputs && self.limit >= other.limit
    }
}

impl Ground<'_> {
    fn ability(&self, open: &Partial) -> Ability {
        let stand = &self.stands[open.stand as usize];
        Ability {
            power_to: self.spans.power[open.stand as usize][open.start as usize],
            outputs: stand.outputs - open.chains,
            limit: stand.output_limit,
        }
    }

    fn fresh_ability(&self, index: usize, at: usize) -> Ability {
        let stand = &self.stands[index];
        let power_to = self.spans.power[index][at];
        Ability { power_to, outputs: stand.outputs, limit: stand.output_limit }
    }
}

struct Walk<'a> {
    ground: &'a Ground<'a>,
    tallies: Tallies,
    arena: Vec<Partial>,
    closed: Vec<Vec<Partial>>,
    /// By luminaire, then by table.
    open: Vec<Vec<(Partial, Ability)>>,
}

impl<'a> Walk<'a> {
    fn over(count: usize, ground: &'a Ground<'a>) -> Option<(Fine, Vec<Chosen>)> {
        let mut walk = Walk {
            ground,
            tallies: Tallies(vec![Tally::default()]),
            arena: Vec::new(),
            closed: vec![Vec::new(); count + 1],
            open: vec![Vec::new(); ground.tables.len() * (count + 1)],
        };
        walk.closed[0].push(Partial {
            score: (0, 0),
            tally: 0,
            stand: NOWHERE,
            start: 0,
            chains: 0,
            feed: NOWHERE,
            from: 0,
            before: NOWHERE,
        });
        for end in 0..count {
            walk.step(end);
        }
        let every_lock = every(ground.counted.locks.len());
        let keeps = |partial: &&Partial| walk.tallies.0[partial.tally as usize].locks == every_lock;
        let best = *walk.closed[count].iter().filter(keeps).min_by_key(|partial| partial.score)?;
        Some((best.score.0, walk.trace(best, count)))
    }

    fn step(&mut self, end: usize) {
        let closed = std::mem::take(&mut self.closed[end]);
        for table in 0..self.ground.tables.len() {
            let row = self.row(end, table);
            for partial in std::mem::take(&mut self.open[row]) {
                if !closed.iter().any(|known| self.freshly_beaten(known, end, &partial)) {
                    let id = self.keep(partial.0);
                    self.extend(end, partial.0, id);
                }
            }
        }
        for partial in closed {
            let id = self.keep(partial);
            for index in 0..self.ground.stands.len() {
                let score = (partial.score.0 + self.ground.stands[index].cost, partial.score.1 + ONE_DRIVER);
                if let Some(tally) = self.opened(partial.tally, index) {
                    let opened = Partial { score, tally, stand: index as u32, start: end as u32, chains: 0, ..partial };
                    self.extend(end, opened, id);
                }
            }
        }
    }

    /// Where the open schemes lie that are so far with a driver of a table.
    fn row(&self, at: usize, table: usize) -> usize {
        at * self.ground.tables.len() + table
    }

    fn keep(&mut self, partial: Partial) -> u32 {
        self.arena.push(partial);
        (self.arena.len() - 1) as u32
    }

    /// The tally after a driver starts, with a lock that it keeps where there is one; none where there is no room.
    fn opened(&mut self, before: u32, stand: usize) -> Option<u32> {
        let counted = self.ground.counted;
        if counted.rooms.is_empty() && counted.locks.is_empty() {
            return Some(before);
        }
        let mut tally = self.tallies.0[before as usize];
        let place = self.ground.stands[stand].place;
        if let Some(index) = counted.rooms.iter().position(|known| known.0 == place) {
            tally.rooms[index] = tally.rooms[index].saturating_add(1);
            if u32::from(tally.rooms[index]) > counted.rooms[index].1 {
                return None;
            }
        }
        tally.locks = keep(&counted.locks, tally.locks, stand);
        Some(self.tallies.index(tally))
    }

    /// Offers every chain that the last driver of a partial scheme may take next.
    fn extend(&mut self, end: usize, partial: Partial, id: u32) {
        let ground = self.ground;
        let index = partial.stand as usize;
        let stand = &ground.stands[index];
        if partial.chains >= stand.outputs {
            return;
        }
        let floors = ground.floors.keeping(self.tallies.0[partial.tally as usize].locks);
        let ceiling = ground.ceiling;
        if partial.score.0 + floors.more(stand.table, end) > ceiling {
            return;
        }
        let power_to = ground.spans.power[index][partial.start as usize];
        let stop = ground.spans.output[index][end].min(power_to) as usize;
        let (costs, feeds) = (ground.tables.costs(stand.table, end), ground.tables.chosen(stand.table, end));
        let count = stop.saturating_sub(end).min(costs.len());
        let outputs = stand.outputs - partial.chains - 1;
        let rests = &floors.rest[end + 1..];
        for (offset, ((cost, feed), rest)) in costs[..count].iter().zip(feeds).zip(rests).enumerate() {
            let total = partial.score.0 + cost;
            if total > ceiling {
                continue;
            }
            let at = end + offset + 1;
            let closes = total + rest <= ceiling;
            let goes_on = outputs > 0 && at < power_to as usize && total + floors.more(stand.table, at) <= ceiling && {
                let left = Left { stand: index, outputs, power_to: power_to as usize };
                total + floors.open(ground.known, left, at) <= ceiling
            };
            if !closes && !goes_on {
                continue;
            }
            let next = Partial {
                score: (total, partial.score.1 + ONE_CHAIN),
                chains: partial.chains + 1,
                feed: *feed,
                from: end as u32,
                before: id,
                ..partial
            };
            if closes {
                self.offer_closed(at, next);
            }
            if goes_on {
                self.offer_open(at, next);
            }
        }
    }

    fn offer_closed(&mut self, at: usize, next: Partial) {
        let (known, tallies) = (&mut self.closed[at], &self.tallies);
        if known.iter().any(|own| own.score <= next.score && tallies.beats(own.tally, next.tally)) {
            return;
        }
        known.retain(|own| !(next.score <= own.score && tallies.beats(next.tally, own.tally)));
        known.push(next);
    }

    fn offer_open(&mut self, at: usize, next: Partial) {
        let (ground, tallies) = (self.ground, &self.tallies);
        let own = ground.ability(&next);
        let table = ground.stands[next.stand as usize].table;
        let beats = |a: &(Partial, Ability), b: &(Partial, Ability)| {
            a.0.score <= b.0.score && a.1.covers(b.1) && tallies.beats(a.0.tally, b.0.tally)
        };
        let next = (next, own);
        let row = self.row(at, table);
        if self.open[row].iter().any(|known| beats(known, &next)) {
            return;
        }
        if self.closed[at].iter().any(|known| self.freshly_beaten(known, at, &next)) {
            return;
        }
        let known = &mut self.open[row];
        known.retain(|known| !beats(&next, known));
        known.push(next);
    }

    /// Whether a fresh driver after a closed scheme does all that the last driver of an open one still can, for less.
    ///
    /// Only asked where nothing is kept count of: a fresh driver takes room.
    fn freshly_beaten(&self, closed: &Partial, at: usize, open: &(Partial, Ability)) -> bool {
        let ground = self.ground;
        if self.tallies.0.len() > 1 || closed.score > open.0.score {
            return false;
        }
        ground.by_table[ground.stands[open.0.stand as usize].table].iter().any(|index| {
            let score = (closed.score.0 + ground.stands[*index].cost, closed.score.1 + ONE_DRIVER);
            score <= open.0.score && ground.fresh_ability(*index, at).covers(open.1)
        })
    }

    fn trace(&self, best: Partial, count: usize) -> Vec<Chosen> {
        let mut chosen = Vec::new();
        let (mut partial, mut end) = (best, count);
        while partial.feed != NOWHERE {
            chosen.push(Chosen {
                stand: partial.stand as usize,
                feed: partial.feed as usize,
                first: partial.from as usize,
                last: end - 1,
                starts: partial.chains == 1,
            });
            end = partial.from as usize;
            partial = self.arena[partial.before as usize];
        }
        chosen.reverse();
        chosen
    }
}
