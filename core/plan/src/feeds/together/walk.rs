//! The walk along all rails of a group, one after another, that keeps every partial scheme which may still be cheapest.
//!
//! As on one rail (see [`crate::feeds::choose`]) a partial scheme is closed, or open with a last driver that may take more
//! chains. Besides it knows the drivers that rails before have left open: where a block starts it may take up one of
//! those instead of a fresh driver, and where a block ends its driver is left for later rails while any of them can use
//! it. One partial scheme beats another where it costs no more even after every driver left open that it lacks is bought.
//! A partial scheme is dropped where its cost and a floor under what follows exceed the ceiling: floors where blocks pay
//! their part of shared drivers, less what the drivers left open may still be worth, and floors where those are free.

use super::group::{Readied, known};
use super::pool::{Lack, Open, Tallies, Tally, insert};
use crate::feeds::bound::{BEYOND, Floors, Known, Left};
use crate::feeds::charge::Weights;
use crate::feeds::choose::Chosen;
use crate::feeds::lead::Fine;

/// Cost, then drivers, then chains.
type Score = (Fine, u32);
const ONE_DRIVER: u32 = 1 << 16;
const ONE_CHAIN: u32 = 1;
const NOWHERE: u32 = u32::MAX;

/// What a walk keeps count of.
#[derive(Clone, Debug, Default)]
pub(super) struct Counted {
    /// Places of the group whose room may run out, with the room.
    pub(super) rooms: Vec<(usize, u32)>,
    /// By rail and lock, the stands that keep it; none where the rail's locks are not counted.
    pub(super) locks: Vec<Vec<Vec<usize>>>,
}

/// A chain of the answer.
#[derive(Clone, Copy, Debug)]
pub(super) struct Step {
    pub(super) rail: usize,
    pub(super) chosen: Chosen,
    /// The driver that a block takes up, as it was left.
    pub(super) taken: Option<Open>,
}

/// What came of a walk.
pub(super) enum Walked {
    /// The cheapest scheme of those that it kept.
    Found(Fine, Vec<Step>),
    /// No scheme costs as little as the ceiling.
    Nothing,
    /// It would have taken too long.
    TooLong,
}

/// What a walk goes by.
pub(super) struct Ground<'g, 'p> {
    pub(super) group: &'g Readied<'p>,
    pub(super) weights: &'g [Weights],
    /// By rail, where blocks pay by the weights.
    pub(super) floors: &'g [Floors],
    /// By rail, where shared drivers are free.
    pub(super) free: &'g [Floors],
    pub(super) counted: &'g Counted,
    pub(super) ceiling: Fine,
    /// How many partial schemes are kept for each luminaire and table; `None` for all that may be cheapest.
    pub(super) width: Option<usize>,
    /// How many comparisons it may take.
    pub(super) patience: u64,
}

#[derive(Clone, Copy, Debug)]
struct Partial {
    score: Score,
    tally: u32,
    stand: u32,
    /// First luminaire of its last block.
    start: u32,
    /// One past the last luminaire that its last driver's power lasts for.
    power_to: u32,
    /// Chains of its last block.
    chains: u8,
    /// Its last driver as it was where the block started; `None` where no other rail can use it.
    driver: Option<Open>,
    /// What was taken up, in the list of all that were; [`NOWHERE`] for a fresh driver.
    taken: u32,
    /// Feed of its last chain, and the luminaire where that starts.
    feed: u32,
    from: u32,
    /// The partial scheme before, in the arena.
    before: u32,
}

const START: Partial = Partial {
    score: (0, 0),
    tally: 0,
    stand: NOWHERE,
    start: 0,
    power_to: 0,
    chains: 0,
    driver: None,
    taken: NOWHERE,
    feed: NOWHERE,
    from: 0,
    before: NOWHERE,
};

/// Walks all rails of a group; also says how many comparisons were left.
pub(super) fn walk(ground: &Ground<'_, '_>) -> (Walked, u64) {
    let mut whole = Whole { arena: Vec::new(), taken: Vec::new(), patience: ground.patience };
    let counted: Vec<usize> = ground.counted.rooms.iter().map(|own| own.0).collect();
    let nothing = Tally { rooms: vec![0; counted.len()], ..Tally::default() };
    let mut starts = vec![(START, nothing)];
    for rail in 0..ground.group.rails.len() {
        let Some(ends) = RailWalk::over(ground, &counted, &mut whole, rail, starts) else {
            return (Walked::TooLong, 0);
        };
        starts = ends;
    }
    let walked = match starts.into_iter().min_by_key(|own| own.0.score) {
        Some((best, _)) => Walked::Found(best.score.0, whole.trace(best.before)),
        None => Walked::Nothing,
    };
    (walked, whole.patience)
}

/// What lasts over all rails of a walk.
struct Whole {
    arena: Vec<(Partial, u32)>,
    taken: Vec<Open>,
    patience: u64,
}

impl Whole {
    fn keep(&mut self, partial: Partial, at: usize) -> u32 {
        self.arena.push((partial, at as u32));
        (self.arena.len() - 1) as u32
    }

    fn spend(&mut self, comparisons: usize) {
        self.patience = self.patience.saturating_sub(comparisons as u64);
    }

    /// The chains that end in a partial scheme of the last rail.
    fn trace(&self, mut index: u32) -> Vec<Step> {
        let mut steps = Vec::new();
        let mut rails = 0;
        while index != NOWHERE {
            let (partial, end) = self.arena[index as usize];
            if partial.feed == NOWHERE {
                // Where a rail starts.
                rails += 1;
            } else {
                let starts = partial.chains == 1;
                steps.push(Step {
                    rail: rails,
                    chosen: Chosen {
                        stand: partial.stand as usize,
                        feed: partial.feed as usize,
                        first: partial.from as usize,
                        last: end as usize - 1,
                        starts,
                    },
                    taken: if starts { self.taken.get(partial.taken as usize).copied() } else { None },
                });
            }
            index = partial.before;
        }
        // Counted from the far end so far.
        steps.iter_mut().for_each(|step| step.rail = rails - 1 - step.rail);
        steps.reverse();
        steps
    }
}

struct RailWalk<'w, 'g, 'p> {
    ground: &'w Ground<'g, 'p>,
    known: Known<'w>,
    floors: &'g Floors,
    free: &'g Floors,
    /// Floors under the rails after this one, by the weights and with shared drivers free.
    behind: Fine,
    behind_free: Fine,
    rail: usize,
    /// By stand, its class.
    class_of: Vec<Option<usize>>,
    tallies: Tallies<'w>,
    whole: &'w mut Whole,
    closed: Vec<Vec<Partial>>,
    /// By luminaire and table.
    open: Vec<Vec<Vec<Partial>>>,
}

impl<'w, 'g, 'p> RailWalk<'w, 'g, 'p> {
    /// What partial schemes become along one rail; `None` where that takes too long.
    fn over(
        ground: &'w Ground<'g, 'p>,
        counted: &'w [usize],
        whole: &'w mut Whole,
        rail: usize,
        starts: Vec<(Partial, Tally)>,
    ) -> Option<Vec<(Partial, Tally)>> {
        let prepared = &ground.group.rails[rail];
        let (sums, count) = (prepared.sums(), prepared.problem.luminaires.len());
        let mut class_of = vec![None; prepared.stands.len()];
        for (class, own) in ground.group.classes.iter().enumerate() {
            if let Some(stand) = own.stand(rail) {
                class_of[stand] = Some(class);
            }
        }
        let mut walk = RailWalk {
            ground,
            known: known(prepared, &sums, &[]),
            floors: &ground.floors[rail],
            free: &ground.free[rail],
            behind: ground.floors[rail + 1..].iter().map(|floors| floors.rest[0]).sum(),
            behind_free: ground.free[rail + 1..].iter().map(|floors| floors.rest[0]).sum(),
            rail,
            class_of,
            tallies: Tallies::new(&ground.group.classes, counted),
            whole,
            closed: vec![Vec::new(); count + 1],
            open: vec![vec![Vec::new(); prepared.tables.len()]; count + 1],
        };
        for (start, tally) in starts {
            let tally = walk.index(tally);
            walk.offer_closed(0, Partial { tally, ..start });
        }
        for end in 0..count {
            walk.step(end);
            if walk.whole.patience == 0 {
                return None;
            }
        }
        Some(walk.ends(count))
    }

    fn index(&mut self, tally: Tally) -> u32 {
        self.tallies.index(tally, self.ground.group, self.ground.weights, self.rail)
    }

    /// The partial schemes that have fed the whole rail and kept its locks, as the next rail sees them.
    fn ends(mut self, count: usize) -> Vec<(Partial, Tally)> {
        let counted = self.ground.counted;
        let locks = counted.locks.get(self.rail).map_or(0, Vec::len);
        let every = (1u32 << locks) - 1;
        let group = self.ground.group;
        let mut ends = Vec::new();
        for partial in std::mem::take(&mut self.closed[count]) {
            let tally = self.tallies.get(partial.tally).clone();
            if u32::from(tally.locks) != every {
                continue;
            }
            let mut next = Tally { locks: 0, rooms: tally.rooms, waiting: Vec::new(), done: Vec::new() };
            for (used, (place, _)) in next.rooms.iter_mut().zip(&counted.rooms) {
                if group.places[*place].last <= self.rail {
                    *used = 0;
                }
            }
            for open in tally.waiting.into_iter().chain(tally.done) {
                if group.classes[open.class].is_of_use(open.outputs, open.left, self.rail + 1) {
                    insert(&mut next.waiting, open);
                }
            }
            let worth: Fine = next.waiting.iter().map(|open| self.worth(*open, open.outputs)).sum();
            if partial.score.0 + self.behind_free.max(self.behind - worth) > self.ground.ceiling {
                continue;
            }
            let before = self.whole.keep(partial, count);
            ends.push((Partial { score: partial.score, before, ..START }, next));
        }
        ends
    }

    fn step(&mut self, end: usize) {
        let closed = std::mem::take(&mut self.closed[end]);
        let open = std::mem::take(&mut self.open[end]);
        for mut partials in open {
            self.narrow(&mut partials, end);
            for partial in partials {
                if !closed.iter().any(|known| self.freshly_beaten(known, end, &partial)) {
                    let id = self.whole.keep(partial, end);
                    self.extend(end, partial, id);
                }
            }
            self.whole.spend(closed.len());
        }
        let mut closed = closed;
        self.narrow(&mut closed, end);
        for partial in closed {
            let id = self.whole.keep(partial, end);
            for index in 0..self.known.stands.len() {
                self.start_fresh(end, partial, id, index);
            }
            self.take_up(end, partial, id);
        }
    }

    /// Keeps the best of a list where only so many are wanted.
    fn narrow(&self, partials: &mut Vec<Partial>, end: usize) {
        if let Some(width) = self.ground.width {
            let charged = self.floors.rest[end] + self.behind;
            let free = self.free.rest[end] + self.behind_free;
            let floor = |own: &Partial| own.score.0 + free.max(charged - self.tallies.credit(own.tally));
            partials.sort_by_key(|own| (floor(own), own.score));
            partials.truncate(width);
        }
    }

    /// A block with a driver of its own.
    fn start_fresh(&mut self, end: usize, partial: Partial, id: u32, index: usize) {
        let stand = &self.known.stands[index];
        let driver = self.class_of[index].map(|class| Open {
            class,
            outputs: stand.outputs,
            left: stand.usable,
            load: 0,
            paid: stand.cost,
        });
        let mut tally = self.tallies.get(partial.tally).clone();
        let place = self.ground.group.place_of[self.rail][stand.place];
        if let Some(counted) = self.ground.counted.rooms.iter().position(|own| own.0 == place) {
            tally.rooms[counted] = tally.rooms[counted].saturating_add(1);
            if u32::from(tally.rooms[counted]) > self.ground.counted.rooms[counted].1 {
                return;
            }
        }
        let opened = Partial {
            score: (partial.score.0 + stand.cost, partial.score.1 + ONE_DRIVER),
            stand: index as u32,
            start: end as u32,
            power_to: self.known.spans.power[index][end],
            chains: 0,
            driver,
            taken: NOWHERE,
            ..partial
        };
        self.each_lock(opened, tally, |walk, opened| walk.extend(end, opened, id));
    }

    /// Blocks with drivers that rails before have left open.
    fn take_up(&mut self, end: usize, partial: Partial, id: u32) {
        let tally = self.tallies.get(partial.tally).clone();
        let mut last = None;
        for (position, open) in tally.waiting.iter().enumerate() {
            // Two that are alike make no difference.
            if last.replace(*open) == Some(*open) {
                continue;
            }
            let Some(index) = self.ground.group.classes[open.class].stand(self.rail) else { continue };
            let stand = &self.known.stands[index];
            let driver =
                Open { left: open.left.min(stand.usable - open.load), paid: open.paid.max(stand.cost), ..*open };
            let sums = self.known.sums[stand.table];
            let power_to =
                (end..).take_while(|last| *last < self.closed.len() - 1 && sums.micro_watts(end, *last) <= driver.left);
            let power_to = power_to.last().map_or(end, |last| last + 1);
            if power_to == end {
                continue;
            }
            let mut rest = tally.clone();
            rest.waiting.remove(position);
            self.whole.taken.push(*open);
            let opened = Partial {
                score: (partial.score.0 + driver.paid - open.paid, partial.score.1),
                stand: index as u32,
                start: end as u32,
                power_to: power_to as u32,
                chains: 0,
                driver: Some(driver),
                taken: (self.whole.taken.len() - 1) as u32,
                ..partial
            };
            self.each_lock(opened, rest, |walk, opened| walk.extend(end, opened, id));
        }
    }

    /// Goes on with a block that keeps no lock, and with one that keeps each lock it can.
    fn each_lock(&mut self, opened: Partial, tally: Tally, mut go_on: impl FnMut(&mut Self, Partial)) {
        let ground = self.ground;
        let locks = ground.counted.locks.get(self.rail).map_or(&[][..], Vec::as_slice);
        for (lock, by) in locks.iter().enumerate() {
            if tally.locks & (1 << lock) == 0 && by.contains(&(opened.stand as usize)) {
                let kept = Tally { locks: tally.locks | 1 << lock, ..tally.clone() };
                let tally = self.index(kept);
                go_on(self, Partial { tally, ..opened });
            }
        }
        let tally = self.index(tally);
        go_on(self, Partial { tally, ..opened });
    }

    /// Outputs that the last driver of an open scheme has left.
    fn outputs(&self, open: &Partial) -> u8 {
        let all = open.driver.map_or(self.known.stands[open.stand as usize].outputs, |driver| driver.outputs);
        all - open.chains
    }

    /// The last driver of a partial scheme as it is left before a luminaire, where a later rail can use it.
    fn left_open(&self, partial: &Partial, at: usize) -> Option<Open> {
        let driver = partial.driver?;
        let table = self.known.stands[partial.stand as usize].table;
        let power = self.known.sums[table].micro_watts(partial.start as usize, at - 1);
        let left = Open {
            outputs: driver.outputs - partial.chains,
            left: driver.left - power,
            load: driver.load + power,
            ..driver
        };
        self.ground.group.classes[left.class].is_of_use(left.outputs, left.left, self.rail + 1).then_some(left)
    }

    fn worth(&self, open: Open, outputs: u8) -> Fine {
        let weights = self.ground.weights[open.class];
        self.ground.group.credit(open.class, weights, (outputs, open.left), self.rail + 1)
    }

    /// Offers every chain that the last driver of a partial scheme may take next.
    fn extend(&mut self, end: usize, partial: Partial, id: u32) {
        let index = partial.stand as usize;
        let left = self.outputs(&partial);
        if left == 0 {
            return;
        }
        let (outputs, floors, ceiling) = (left - 1, self.floors, self.ground.ceiling);
        let (known, power_to) = (self.known, partial.power_to as usize);
        let stop = (known.spans.output[index][end] as usize).min(power_to);
        let chains = &known.tables[known.stands[index].table];
        let (costs, feeds) = (chains.costs(end), chains.chosen(end));
        let count = stop.saturating_sub(end).min(costs.len());
        let ahead = self.behind - self.tallies.credit(partial.tally);
        let (free, ahead_free) = (self.free, self.behind_free);
        for (offset, (cost, feed)) in costs[..count].iter().zip(feeds).enumerate() {
            let at = end + offset + 1;
            let total = partial.score.0 + cost;
            if *cost >= BEYOND {
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
            let open = if outputs > 0 { self.left_open(&next, at) } else { None };
            let worth = open.map_or(0, |open| self.worth(open, outputs));
            let charged = floors.rest[at] + ahead - worth;
            if total + charged.max(free.rest[at] + ahead_free) <= ceiling {
                let tally = match open {
                    None => next.tally,
                    Some(open) => {
                        let mut tally = self.tallies.get(next.tally).clone();
                        insert(&mut tally.done, open);
                        self.index(tally)
                    }
                };
                self.offer_closed(at, Partial { tally, ..next });
            }
            if outputs > 0 && at < power_to {
                let still = Left { stand: index, outputs, power_to };
                let worth = open.map_or(0, |open| self.worth(open, outputs - 1));
                let charged = floors.open(known, still, at) + ahead - worth;
                if total + charged.max(free.open(known, still, at) + ahead_free) <= ceiling {
                    self.offer_open(at, next);
                }
            }
        }
    }

    fn offer_closed(&mut self, at: usize, next: Partial) {
        let (known, tallies) = (&mut self.closed[at], &self.tallies);
        self.whole.spend(known.len() + 1);
        let beats = |a: &Partial, b: &Partial| {
            a.score <= b.score && tallies.lack(a.tally, b.tally).is_some_and(|lack| after(a.score, lack) <= b.score)
        };
        if known.iter().any(|own| beats(own, &next)) {
            return;
        }
        known.retain(|own| !beats(&next, own));
        known.push(next);
    }

    fn offer_open(&mut self, at: usize, next: Partial) {
        let table = self.known.stands[next.stand as usize].table;
        self.whole.spend(self.open[at][table].len() + 1);
        if self.open[at][table].iter().any(|own| self.beats_open(own, &next, at)) {
            return;
        }
        if self.closed[at].iter().any(|known| self.freshly_beaten(known, at, &next)) {
            return;
        }
        let mut known = std::mem::take(&mut self.open[at][table]);
        known.retain(|own| !self.beats_open(&next, own, at));
        known.push(next);
        self.open[at][table] = known;
    }

    /// Whether one open scheme does all that another on the same table still can, for no more.
    fn beats_open(&self, one: &Partial, other: &Partial, at: usize) -> bool {
        let limit = |own: &Partial| self.known.stands[own.stand as usize].output_limit;
        one.score <= other.score
            && one.power_to >= other.power_to
            && self.outputs(one) >= self.outputs(other)
            && limit(one) >= limit(other)
            && self.left_open(other, at).is_none_or(|wanted| {
                self.outputs(other) < 2 || self.left_open(one, at).is_some_and(|own| own.covers(&wanted))
            })
            && self.tallies.lack(one.tally, other.tally).is_some_and(|lack| after(one.score, lack) <= other.score)
    }

    /// Whether a fresh driver after a closed scheme does all that the last driver of an open one still can, for less.
    ///
    /// Only asked where nothing is kept count of on this rail: a fresh driver takes room and keeps no lock.
    fn freshly_beaten(&self, closed: &Partial, at: usize, open: &Partial) -> bool {
        let counted = self.ground.counted;
        if closed.score > open.score || !counted.rooms.is_empty() || counted.locks.iter().any(|own| !own.is_empty()) {
            return false;
        }
        let Some(lack) = self.tallies.lack(closed.tally, open.tally) else { return false };
        let (score, known) = (after(closed.score, lack), &self.known);
        let other = &known.stands[open.stand as usize];
        let wanted = self.left_open(open, at).filter(|_| self.outputs(open) > 1);
        known.stands.iter().enumerate().filter(|(_, stand)| stand.table == other.table).any(|(index, stand)| {
            (score.0 + stand.cost, score.1 + ONE_DRIVER) <= open.score
                && known.spans.power[index][at] >= open.power_to
                && stand.outputs >= self.outputs(open)
                && stand.output_limit >= other.output_limit
                && wanted.is_none_or(|wanted| {
                    self.class_of[index] == Some(wanted.class)
                        && stand.usable >= wanted.left
                        && stand.cost >= wanted.paid
                })
        })
    }
}

/// A score after what is lacking is bought.
fn after(score: Score, lack: Lack) -> Score {
    (score.0 + lack.0, score.1 + lack.1 * ONE_DRIVER)
}
