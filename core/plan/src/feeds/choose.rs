//! The choice itself: a walk along the luminaires that keeps, at each, every partial scheme that may still be cheapest.
//!
//! A partial scheme that feeds luminaires `1 … e` is *closed* (its last driver takes no more chains) or *open* (the last
//! driver, a stand with `k` chains and a first luminaire `s`, may take more). From a closed one any driver may start at
//! `e`; from an open one with outputs left, its driver may take any chain that starts at `e`, while power from `s` on
//! lasts. One open scheme beats another of the same stand where it costs no more, starts no earlier, has no more
//! chains and has used no more room and kept as many locks; an open scheme is also beaten by the best closed one with a
//! fresh driver of the same stand. Everything beaten can be dropped, since whatever completes it completes the other
//! one too; nothing else is dropped, so the last closed scheme is the cheapest there is.

use super::chains::ChainTable;
use super::lead::Fine;
use super::source::SourceSums;
use super::stand::Stand;

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
    locks: u16,
}

impl Tally {
    fn has_lock(&self, lock: usize) -> bool {
        self.locks & (1 << lock) != 0
    }

    fn with_lock(mut self, lock: usize) -> Self {
        self.locks |= 1 << lock;
        self
    }

    fn beats(&self, other: &Self) -> bool {
        self == other
            || (self.locks & other.locks == other.locks && self.rooms.iter().zip(&other.rooms).all(|(a, b)| a <= b))
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
    tally: Tally,
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
pub(super) struct Chosen {
    pub(super) stand: usize,
    pub(super) feed: usize,
    pub(super) first: usize,
    pub(super) last: usize,
    /// Whether a driver starts here.
    pub(super) starts: bool,
}

/// The cheapest scheme for all luminaires, `None` where there is none.
pub(super) fn choose(
    count: usize,
    stands: &[Stand],
    tables: &[ChainTable],
    sums: &[&SourceSums],
    counted: &Counted,
) -> Option<(Fine, Vec<Chosen>)> {
    let every_lock = (1u32 << counted.locks.len()) - 1;
    let mut walk = Walk {
        stands,
        tables,
        sums,
        counted,
        arena: Vec::new(),
        closed: vec![Vec::new(); count + 1],
        open: (0..=count).map(|_| vec![Vec::new(); stands.len()]).collect(),
    };
    let begin = Partial {
        score: (0, 0),
        tally: Tally::default(),
        stand: NOWHERE,
        start: 0,
        chains: 0,
        feed: NOWHERE,
        from: 0,
        before: NOWHERE,
    };
    walk.closed[0].push(begin);
    for end in 0..count {
        walk.step(end);
    }
    let done = walk.closed[count].iter().filter(|partial| u32::from(partial.tally.locks) == every_lock);
    let best = *done.min_by_key(|partial| partial.score)?;
    Some((best.score.0, walk.trace(best, count)))
}

struct Walk<'a> {
    stands: &'a [Stand],
    tables: &'a [ChainTable],
    sums: &'a [&'a SourceSums],
    counted: &'a Counted,
    arena: Vec<Partial>,
    closed: Vec<Vec<Partial>>,
    open: Vec<Vec<Vec<Partial>>>,
}

impl Walk<'_> {
    fn step(&mut self, end: usize) {
        let closed = std::mem::take(&mut self.closed[end]);
        let open = std::mem::take(&mut self.open[end]);
        if closed.is_empty() {
            return;
        }
        for (index, partials) in open.into_iter().enumerate() {
            for partial in partials {
                let fresh = |known: &Partial| {
                    let cost = (known.score.0 + self.stands[index].cost, known.score.1 + ONE_DRIVER);
                    cost <= partial.score && self.opened(known.tally, index).any(|tally| tally.beats(&partial.tally))
                };
                if !closed.iter().any(fresh) {
                    let id = self.keep(partial);
                    self.extend(end, partial, id);
                }
            }
        }
        for partial in closed {
            let id = self.keep(partial);
            for index in 0..self.stands.len() {
                let tallies: Vec<Tally> = self.opened(partial.tally, index).collect();
                for tally in tallies {
                    let score = (partial.score.0 + self.stands[index].cost, partial.score.1 + ONE_DRIVER);
                    let opened =
                        Partial { score, tally, stand: index as u32, start: end as u32, chains: 0, ..partial };
                    self.extend(end, opened, id);
                }
            }
        }
    }

    fn keep(&mut self, partial: Partial) -> u32 {
        self.arena.push(partial);
        (self.arena.len() - 1) as u32
    }

    /// The tallies after a driver starts: one for each lock that it may keep, or none.
    fn opened(&self, before: Tally, stand: usize) -> impl Iterator<Item = Tally> + '_ {
        let mut tally = before;
        let place = self.stands[stand].place;
        let counted = self.counted.rooms.iter().position(|known| known.0 == place);
        let fits = counted.is_none_or(|index| {
            tally.rooms[index] = tally.rooms[index].saturating_add(1);
            u32::from(tally.rooms[index]) <= self.counted.rooms[index].1
        });
        let locks = self.counted.locks.iter().enumerate();
        let keeps = locks.filter(move |(lock, by)| !tally.has_lock(*lock) && by.contains(&stand));
        let kept = keeps.map(move |(lock, _)| tally.with_lock(lock));
        std::iter::once(tally).chain(kept).filter(move |_| fits)
    }

    /// Offers every chain that the last driver of a partial scheme may take next.
    fn extend(&mut self, end: usize, partial: Partial, id: u32) {
        let stand = &self.stands[partial.stand as usize];
        let sums = self.sums[stand.table];
        let tables = self.tables;
        for (offset, (cost, feed)) in tables[stand.table].from(end).iter().enumerate() {
            let last = end + offset;
            if sums.micro_amps(end, last) > stand.output_limit
                || sums.micro_watts(partial.start as usize, last) > stand.usable
            {
                break;
            }
            if *cost == Fine::MAX {
                continue;
            }
            let next = Partial {
                score: (partial.score.0 + cost, partial.score.1 + ONE_CHAIN),
                chains: partial.chains + 1,
                feed: *feed,
                from: end as u32,
                before: id,
                ..partial
            };
            offer_closed(&mut self.closed[last + 1], next);
            if next.chains < stand.outputs {
                offer_open(&mut self.open[last + 1][partial.stand as usize], next);
            }
        }
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

fn offer_closed(known: &mut Vec<Partial>, next: Partial) {
    if known.iter().any(|own| own.score <= next.score && own.tally.beats(&next.tally)) {
        return;
    }
    known.retain(|own| !(next.score <= own.score && next.tally.beats(&own.tally)));
    known.push(next);
}

fn offer_open(known: &mut Vec<Partial>, next: Partial) {
    let beats = |one: &Partial, two: &Partial| {
        one.score <= two.score && one.start >= two.start && one.chains <= two.chains && one.tally.beats(&two.tally)
    };
    if known.iter().any(|own| beats(own, &next)) {
        return;
    }
    known.retain(|own| !beats(&next, own));
    known.push(next);
}
