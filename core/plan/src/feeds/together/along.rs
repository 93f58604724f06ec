//! The walk along one rail of a group.
//!
//! As on a rail by itself (see [`crate::feeds::choose`]) a partial scheme is closed, or open with a last driver that may
//! take more chains. Where a block starts it may take up a driver that rails before have left open instead of a fresh
//! one; where a block ends its driver is left for later rails while any of them can use it. Drivers that the rail may
//! share with rails before the walk are charged for in part (see [`crate::feeds::charge`]) or had alone.

use super::group::known;
use super::pool::{ONE_CHAIN, ONE_DRIVER, Open, Tallies, Tally, insert};
use super::walk::{Ground, NOWHERE, Partial, START, Whole};
use crate::feeds::bound::{BEYOND, Floors, Known, Left};
use crate::feeds::charge::Charge;
use crate::feeds::lead::Fine;

/// A walk along one rail.
pub(super) struct RailWalk<'w, 'g, 'p> {
    ground: &'w Ground<'g, 'p>,
    known: Known<'w>,
    floors: &'g Floors,
    free: &'g Floors,
    /// Floors under the rails after this one, by the weights and with shared drivers free.
    behind: Fine,
    behind_free: Fine,
    rail: usize,
    ceiling: Fine,
    /// By stand, its class, where that is not one of rails before the walk.
    class_of: Vec<Option<usize>>,
    /// By stand, what a block pays of a driver that it shares with a rail before the walk.
    charges: Vec<Option<&'g Charge>>,
    tallies: Tallies<'w>,
    whole: &'w mut Whole,
    closed: Vec<Vec<Partial>>,
    /// By luminaire and table.
    open: Vec<Vec<Vec<Partial>>>,
}

impl<'w, 'g, 'p> RailWalk<'w, 'g, 'p> {
    /// What partial schemes become along one rail; `None` where that takes too long.
    pub(super) fn over(
        ground: &'w Ground<'g, 'p>,
        counted: &'w [usize],
        whole: &'w mut Whole,
        (rail, ceiling): (usize, Fine),
        starts: Vec<(Partial, Tally)>,
    ) -> Option<Vec<(Partial, Tally)>> {
        let prepared = &ground.group.rails[rail];
        let (sums, count) = (prepared.sums(), prepared.count());
        let mut class_of = vec![None; prepared.stands.len()];
        let mut charges = vec![None; prepared.stands.len()];
        for (class, own) in ground.group.classes.iter().enumerate() {
            let Some(stand) = own.stand(rail) else { continue };
            if own.rails.first().is_some_and(|first| first.0 < ground.rails.start) {
                charges[stand] = ground.floors.charges[rail][stand].as_ref();
            } else {
                class_of[stand] = Some(class);
            }
        }
        let mut walk = RailWalk {
            ground,
            known: known(prepared, &sums, &[]),
            floors: &ground.floors.rails[rail],
            free: &ground.free.rails[rail],
            behind: ground.floors.behind[rail + 1],
            behind_free: ground.free.behind[rail + 1],
            rail,
            ceiling,
            class_of,
            charges,
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
        self.tallies.index(tally, self.ground.group, self.ground.floors.weights, self.rail)
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
            if self.ground.bound(partial.score.0, &next, self.rail + 1) > self.ceiling {
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
        for partials in open {
            for partial in partials {
                if !closed.iter().any(|known| self.freshly_beaten(known, end, &partial)) {
                    let id = self.whole.keep(partial, end);
                    self.extend(end, partial, id);
                }
            }
            self.whole.spend(closed.len());
        }
        for partial in closed {
            let id = self.whole.keep(partial, end);
            for index in 0..self.known.stands.len() {
                self.start_fresh(end, partial, id, index);
                self.start_charged(end, partial, id, index);
            }
            self.take_up(end, partial, id);
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
            charged: false,
            taken: NOWHERE,
            ..partial
        };
        self.each_lock(opened, tally, |walk, opened| walk.extend(end, opened, id));
    }

    /// A block that shares its driver with a rail before the walk and pays its part.
    fn start_charged(&mut self, end: usize, partial: Partial, id: u32, index: usize) {
        let Some(charge) = self.charges[index] else { return };
        let power_to = self.power_to(index, end, charge.alone_above.min(self.known.stands[index].usable));
        let opened = Partial {
            score: (partial.score.0 + charge.per_block, partial.score.1),
            stand: index as u32,
            start: end as u32,
            power_to: power_to as u32,
            chains: 0,
            driver: None,
            charged: true,
            taken: NOWHERE,
            ..partial
        };
        let tally = self.tallies.get(partial.tally).clone();
        self.each_lock(opened, tally, |walk, opened| walk.extend(end, opened, id));
    }

    /// One past the last luminaire that so much power lasts for, from one on.
    fn power_to(&self, stand: usize, from: usize, power: i64) -> usize {
        let sums = self.known.sums[self.known.stands[stand].table];
        let count = self.closed.len() - 1;
        let lasts = (from..count).take_while(|last| sums.micro_watts(from, *last) <= power);
        lasts.last().map_or(from, |last| last + 1)
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
            let power_to = self.power_to(index, end, driver.left);
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
                charged: false,
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
        let own = self.known.stands[open.stand as usize].outputs;
        // One that is shared leaves an output for another rail.
        let all = open.driver.map_or(own - u8::from(open.charged), |driver| driver.outputs);
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
        self.ground.group.credit(open.class, self.ground.floors.weights, (outputs, open.left), self.rail + 1)
    }

    /// Offers every chain that the last driver of a partial scheme may take next.
    fn extend(&mut self, end: usize, partial: Partial, id: u32) {
        let index = partial.stand as usize;
        let left = self.outputs(&partial);
        if left == 0 {
            return;
        }
        let (outputs, floors, ceiling) = (left - 1, self.floors, self.ceiling);
        let (known, power_to) = (self.known, partial.power_to as usize);
        let stop = (known.spans.output[index][end] as usize).min(power_to);
        let chains = &known.tables[known.stands[index].table];
        let (costs, feeds) = (chains.costs(end), chains.chosen(end));
        let count = stop.saturating_sub(end).min(costs.len());
        let ahead = self.behind - self.tallies.credit(partial.tally);
        let (free, ahead_free) = (self.free, self.behind_free);
        let charge = if partial.charged { self.charges[index] } else { None };
        for (offset, (cost, feed)) in costs[..count].iter().zip(feeds).enumerate() {
            if *cost >= BEYOND {
                continue;
            }
            let at = end + offset + 1;
            let total = partial.score.0 + cost + charge.map_or(0, |charge| charge.chain(end, at));
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
        let (known, tallies) = (&self.closed[at], &self.tallies);
        self.whole.spend(known.len() + 1);
        let beats = |a: &Partial, b: &Partial| tallies.beats((a.score, a.tally), (b.score, b.tally));
        if known.iter().any(|own| beats(own, &next)) {
            return;
        }
        let mut known = std::mem::take(&mut self.closed[at]);
        known.retain(|own| !beats(&next, own));
        known.push(next);
        self.closed[at] = known;
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
        // What goes on with a charged block pays for it, as the same does with another one on that stand.
        let pays_more = one.charged && !(other.charged && one.stand == other.stand);
        one.score <= other.score
            && !pays_more
            && one.power_to >= other.power_to
            && self.outputs(one) >= self.outputs(other)
            && limit(one) >= limit(other)
            && self.left_open(other, at).is_none_or(|wanted| {
                self.outputs(other) < 2 || self.left_open(one, at).is_some_and(|own| own.covers(&wanted))
            })
            && self.tallies.beats((one.score, one.tally), (other.score, other.tally))
    }

    /// Whether a fresh driver after a closed scheme does all that the last driver of an open one still can, for less.
    ///
    /// Only asked where nothing is kept count of on this rail: a fresh driver takes room and keeps no lock.
    fn freshly_beaten(&self, closed: &Partial, at: usize, open: &Partial) -> bool {
        let counted = self.ground.counted;
        if closed.score > open.score || !counted.rooms.is_empty() || counted.locks.iter().any(|own| !own.is_empty()) {
            return false;
        }
        let known = &self.known;
        let other = &known.stands[open.stand as usize];
        let wanted = self.left_open(open, at).filter(|_| self.outputs(open) > 1);
        known.stands.iter().enumerate().filter(|(_, stand)| stand.table == other.table).any(|(index, stand)| {
            let score = (closed.score.0 + stand.cost, closed.score.1 + ONE_DRIVER);
            score <= open.score
                && known.spans.power[index][at] >= open.power_to
                && stand.outputs >= self.outputs(open)
                && stand.output_limit >= other.output_limit
                && wanted.is_none_or(|wanted| {
                    self.class_of[index] == Some(wanted.class)
                        && stand.usable >= wanted.left
                        && stand.cost >= wanted.paid
                })
                && self.tallies.beats((score, closed.tally), (open.score, open.tally))
        })
    }
}
