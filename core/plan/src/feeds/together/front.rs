//! The front of a walk: how far each rail is fed, and every partial scheme that is so far.
//!
//! As on a rail by itself (see [`crate::feeds::choose`]) a partial scheme is closed, or open with a last driver that may
//! take more chains on its rail. From a closed one the rail goes on whose turn it is ([`super::order`]); its block has a
//! driver of its own or takes up one that blocks of other rails have left open. Where a block ends its driver is left for
//! other rails while any of them can still use it.

mod offer;

use std::collections::BTreeMap;

use super::group::{Class, Priced, Worth, known};
use super::pool::{ONE_CHAIN, ONE_DRIVER, Open, Tallies, Tally};
use super::walk::{Arena, Ground, NOWHERE, Partial, START, Walked};
use crate::feeds::bound::{BEYOND, Floors, Known, Left};
use crate::feeds::charge::Charge;
use crate::feeds::lead::Fine;
use crate::feeds::missing::{Kept, every, keep};
use crate::feeds::source::SourceSums;

/// Partial schemes that are equally far.
#[derive(Default)]
struct Bucket {
    /// By rail, the first luminaire that is still to be fed.
    at: Vec<u32>,
    closed: Vec<Partial>,
    /// By rail of the last block and chain table of its driver.
    open: Vec<((u32, u32), Vec<Partial>)>,
}

/// Floors under what rails cost from where they are, by the weights and with shared drivers free.
#[derive(Clone, Copy)]
struct Others {
    charged: Fine,
    free: Fine,
}

/// A rail that goes on from a bucket.
struct Going<'b> {
    at: &'b [u32],
    rail: usize,
    others: Others,
    /// By how far the rail goes, the bucket where that ends; [`NOWHERE`] where none was needed so far.
    ends: Vec<u32>,
}

/// How a scheme goes on.
#[derive(Clone, Copy)]
enum Way {
    /// With another chain of its last block.
    On,
    /// With a block whose driver takes no room that is counted.
    Fresh,
    /// With a block whose driver takes room, at the place counted under this number.
    Room(usize),
    /// With a block that takes up the open driver at this position.
    Taken(usize),
}

/// What a block starts from.
struct Before {
    /// Of the scheme before, in the arena.
    id: u32,
    /// Floors under the other rails, what open drivers may be worth taken off.
    ahead: Others,
}

/// Everything that a walk holds.
pub(super) struct Front<'w, 'g, 'p> {
    ground: &'w Ground<'g, 'p>,
    sums: &'w [Vec<&'w SourceSums>],
    /// By rail and stand, its class, where other rails of the walk can use it.
    class_of: Vec<Vec<Option<u32>>>,
    /// By class and rail as there, one past the last luminaire of the walk at which one of its chains can start.
    until: Vec<Vec<u32>>,
    /// Floors under what comes behind the walk on its rails.
    beyond: Others,
    /// By rail and counted place, one past the last luminaire that any driver there can feed.
    room_until: Vec<Vec<u32>>,
    tallies: Tallies<'w>,
    /// Room to make states in.
    spare: Tally,
    arena: Arena,
    patience: u64,
    buckets: Vec<Bucket>,
    /// Buckets that are still to go on from, by luminaires fed in all and by rail.
    queue: BTreeMap<(u32, Vec<u32>), u32>,
}

impl<'w, 'g, 'p> Front<'w, 'g, 'p> {
    /// A front before any luminaire.
    pub(super) fn over(ground: &'w Ground<'g, 'p>, counted: &'w [usize], sums: &'w [Vec<&'w SourceSums>]) -> Self {
        let group = ground.group;
        let mut class_of: Vec<Vec<Option<u32>>> = group.rails.iter().map(|own| vec![None; own.stands.len()]).collect();
        for (index, class) in group.classes.iter().enumerate().filter(|own| !ground.is_charged(own.1)) {
            for (rail, stand) in class.rails.iter().filter(|own| class.bit(own.0).is_some()) {
                class_of[*rail][*stand] = Some(index as u32);
            }
        }
        let until = |class: &Class| {
            let own = class.rails.iter().zip(&class.until);
            own.map(|((rail, _), until)| (*until).min(ground.spans[*rail].1)).collect()
        };
        let room_until = |rail: usize, place: &usize| {
            let stands = group.rails[rail].stands.iter().zip(&group.until[rail]);
            stands.filter(|own| group.place_of[rail][own.0.place] == *place).map(|own| *own.1).max().unwrap_or(0)
        };
        let rails = 0..group.rails.len();
        Self {
            ground,
            sums,
            class_of,
            until: group.classes.iter().map(until).collect(),
            beyond: Others { charged: 0, free: 0 },
            room_until: rails.map(|rail| counted.iter().map(|place| room_until(rail, place)).collect()).collect(),
            tallies: Tallies::new(&group.classes, counted),
            spare: Tally::default(),
            arena: Arena::default(),
            patience: ground.patience,
            buckets: Vec::new(),
            queue: BTreeMap::new(),
        }
    }

    /// A floor under every scheme of the walk.
    pub(super) fn floor(mut self) -> Fine {
        let at = |end: fn(&(u32, u32)) -> u32| self.ground.spans.iter().map(end).collect::<Vec<u32>>();
        let (starts, ends) = (at(|span| span.0), at(|span| span.1));
        self.beyond = self.others(&ends, usize::MAX, &[]);
        let others = self.others(&starts, usize::MAX, &self.ground.start.locks);
        others.free.max(others.charged - self.credit(&self.ground.start.open, &starts))
    }

    /// Walks to the end; also says how many comparisons were left.
    pub(super) fn walked(mut self) -> (Walked, u64) {
        let ends: Vec<u32> = self.ground.spans.iter().map(|span| span.1).collect();
        self.beyond = self.others(&ends, usize::MAX, &[]);
        let tally = self.tallies.index(&self.ground.start);
        let start = self.bucket(self.ground.spans.iter().map(|span| span.0).collect());
        self.buckets[start as usize].closed.push(Partial { tally, ..START });
        let mut best: Option<Partial> = None;
        while let Some(level) = self.queue.first_key_value().map(|first| first.0.0) {
            let behind = self.queue.split_off(&(level + 1, Vec::new()));
            let here: Vec<Bucket> = std::mem::replace(&mut self.queue, behind)
                .into_values()
                .map(|index| std::mem::take(&mut self.buckets[index as usize]))
                .collect();
            for bucket in here {
                match self.ground.order.next(&bucket.at, &ends) {
                    Some(rail) => self.go_on(bucket, rail),
                    None => best = bucket.closed.into_iter().min_by_key(|own| own.score),
                }
                if self.patience == 0 {
                    return (Walked::TooLong, 0);
                }
            }
        }
        let walked = match best {
            Some(best) => {
                let last = self.arena.keep(best, best.end);
                Walked::Found(best.score.0, self.arena.trace(last))
            }
            None => Walked::Nothing,
        };
        (walked, self.patience)
    }

    /// The bucket of schemes that are so far.
    fn bucket(&mut self, at: Vec<u32>) -> u32 {
        let fed = at.iter().sum();
        *self.queue.entry((fed, at)).or_insert_with_key(|(_, at)| {
            self.buckets.push(Bucket { at: at.clone(), ..Bucket::default() });
            (self.buckets.len() - 1) as u32
        })
    }

    fn known(&self, rail: usize) -> Known<'w> {
        known(&self.ground.group.rails[rail], &self.sums[rail], &[])
    }

    /// One past the last luminaire of the walk on a rail.
    fn count(&self, rail: usize) -> usize {
        self.ground.spans[rail].1 as usize
    }

    /// A floor under what follows a closed scheme in a state.
    fn floor_closed(&self, at: &[u32], tally: &Tally) -> Fine {
        let others = self.others(at, usize::MAX, &tally.locks);
        let credit = self.credit(&tally.open, at);
        others.free.max(others.charged - credit)
    }

    /// Floors under all rails but one as far as the walk goes, where these locks are kept.
    fn others(&self, at: &[u32], but: usize, locks: &[Kept]) -> Others {
        let rails = || at.iter().enumerate().filter(|own| own.0 != but);
        let rest = |priced: &Priced, rail: usize, at: u32| {
            let floors = &priced.rails[rail];
            let is_fed = at >= self.ground.spans[rail].1;
            let floors = if is_fed { floors.none_missing() } else { floors.keeping(kept(locks, rail)) };
            floors.rest[at as usize]
        };
        let sum = |priced: &Priced| -> Fine {
            match self.ground.suffix {
                None => rails().map(|(rail, at)| rest(priced, rail, *at)).sum(),
                // One after another: the rails behind have not begun.
                Some(_) => match rails().find(|(rail, at)| **at < self.ground.spans[*rail].1) {
                    Some((rail, at)) if *at == 0 => priced.behind[rail],
                    Some((rail, at)) => rest(priced, rail, *at) + priced.behind[rail + 1],
                    None => 0,
                },
            }
        };
        let (charged, free) = (sum(self.ground.floors), sum(self.ground.free));
        Others { charged: charged - self.beyond.charged, free: free - self.beyond.free }
    }

    /// Goes on from every scheme of a bucket.
    fn go_on(&mut self, bucket: Bucket, rail: usize) {
        let Bucket { at, closed, open } = bucket;
        for ((rail, _), partials) in open {
            let mut going = self.going(&at, rail as usize);
            let end = at[rail as usize] as usize;
            for partial in partials {
                self.patience = self.patience.saturating_sub(closed.len() as u64);
                if !closed.iter().any(|known| self.freshly_beaten(known, &at, &partial)) {
                    let id = self.arena.keep(partial, end as u32);
                    let before = Before { id, ahead: self.ahead(&going, partial.tally) };
                    self.extend(&mut going, partial, &before, Way::On);
                }
            }
        }
        let mut going = self.going(&at, rail);
        for partial in closed {
            let id = self.arena.keep(partial, partial.end);
            let before = Before { id, ahead: self.ahead(&going, partial.tally) };
            for index in 0..self.ground.group.rails[rail].stands.len() {
                self.start_fresh(&mut going, partial, &before, index);
                self.start_charged(&mut going, partial, &before, index);
            }
            self.take_up(&mut going, partial, &before);
        }
    }

    /// Floors under all rails but the one that goes on from a state, less what drivers left open may be worth to them: that
    /// only falls as rails go on.
    fn ahead(&self, going: &Going<'_>, tally: u32) -> Others {
        let Tally { locks, open, .. } = self.tallies.get(tally);
        // Where rails are fed one after another no other one has begun and not ended.
        let others = if locks.is_empty() || self.ground.suffix.is_some() {
            going.others
        } else {
            self.others(going.at, going.rail, locks)
        };
        Others { charged: others.charged - self.credit(open, going.at), ..others }
    }

    fn going<'b>(&self, at: &'b [u32], rail: usize) -> Going<'b> {
        let left = self.count(rail) - at[rail] as usize;
        Going { at, rail, others: self.others(at, rail, &[]), ends: vec![NOWHERE; left + 1] }
    }

    /// A block with a driver of its own.
    fn start_fresh(&mut self, going: &mut Going<'_>, partial: Partial, before: &Before, index: usize) {
        let (rail, end) = (going.rail, going.at[going.rail] as usize);
        let (known, group, counted) = (self.known(rail), self.ground.group, self.ground.counted);
        let stand = &known.stands[index];
        if (known.spans.output[index][end].min(known.spans.power[index][end]) as usize) <= end
            || known.tables.costs(stand.table, end).is_empty()
        {
            return;
        }
        let driver = self.class_of[rail][index].map(|class| Open {
            class,
            outputs: stand.outputs,
            used: group.classes[class as usize].bit(rail).unwrap_or(0),
            left: stand.usable,
            load: 0,
            paid: stand.cost,
        });
        let opened = Partial {
            score: (partial.score.0 + stand.cost, partial.score.1 + ONE_DRIVER),
            rail: rail as u32,
            stand: index as u32,
            start: end as u32,
            power_to: known.spans.power[index][end],
            chains: 0,
            driver,
            charged: false,
            taken: NOWHERE,
            ..partial
        };
        let place = group.place_of[rail][stand.place];
        match counted.rooms.iter().position(|own| own.0 == place) {
            None => self.extend(going, opened, before, Way::Fresh),
            Some(room) => {
                let used = self.tallies.get(partial.tally).rooms[room];
                if u32::from(used.saturating_add(1)) <= counted.rooms[room].1 {
                    self.extend(going, opened, before, Way::Room(room));
                }
            }
        }
    }

    /// A block that shares its driver with a rail before the walk and pays its part.
    fn start_charged(&mut self, going: &mut Going<'_>, partial: Partial, before: &Before, index: usize) {
        let (rail, end) = (going.rail, going.at[going.rail] as usize);
        let Some(charge) = self.charge((rail, index)) else { return };
        let usable = self.ground.group.rails[rail].stands[index].usable;
        let opened = Partial {
            score: (partial.score.0 + charge.per_block, partial.score.1),
            rail: rail as u32,
            stand: index as u32,
            start: end as u32,
            power_to: self.power_to((rail, index), end, charge.alone_above.min(usable)) as u32,
            chains: 0,
            driver: None,
            charged: true,
            taken: NOWHERE,
            ..partial
        };
        self.extend(going, opened, before, Way::Fresh);
    }

    /// What a block pays of a driver that it shares with a rail before the walk.
    fn charge(&self, (rail, stand): (usize, usize)) -> Option<&'g Charge> {
        let ground = self.ground;
        let mut before = ground.group.classes.iter().filter(|class| ground.is_charged(class));
        before.find(|class| class.stand(rail) == Some(stand)).and_then(|_| ground.floors.charges[rail][stand].as_ref())
    }

    /// One past the last luminaire that so much power lasts for, from one on.
    fn power_to(&self, (rail, stand): (usize, usize), from: usize, power: i64) -> usize {
        let known = self.known(rail);
        let sums = known.sums[known.stands[stand].table];
        let most = known.spans.power[stand][from] as usize;
        let (mut least, mut beyond) = (from, most + 1);
        while beyond - least > 1 {
            let middle = least.midpoint(beyond);
            if sums.micro_watts(from, middle - 1) <= power {
                least = middle;
            } else {
                beyond = middle;
            }
        }
        least
    }

    /// Blocks with drivers that other rails have left open.
    fn take_up(&mut self, going: &mut Going<'_>, partial: Partial, before: &Before) {
        let (rail, end) = (going.rail, going.at[going.rail] as usize);
        let group = self.ground.group;
        let mut last = None;
        for position in 0..self.tallies.get(partial.tally).open.len() {
            let open = self.tallies.get(partial.tally).open[position];
            // Two that are alike make no difference.
            if last.replace(open) == Some(open) {
                continue;
            }
            let class = &group.classes[open.class as usize];
            let (Some(index), Some(bit)) = (class.stand(rail), class.bit(rail)) else { continue };
            if open.used & bit != 0 {
                continue;
            }
            let stand = &group.rails[rail].stands[index];
            let driver = Open {
                left: open.left.min(stand.usable - open.load),
                paid: open.paid.max(stand.cost),
                used: open.used | bit,
                ..open
            };
            let power_to = self.power_to((rail, index), end, driver.left);
            if power_to == end {
                continue;
            }
            let opened = Partial {
                score: (partial.score.0 + driver.paid - open.paid, partial.score.1),
                rail: rail as u32,
                stand: index as u32,
                start: end as u32,
                power_to: power_to as u32,
                chains: 0,
                driver: Some(driver),
                charged: false,
                taken: self.arena.take_up(open),
                ..partial
            };
            let worth = self.worth(&open, going.at).with(open.outputs);
            let ahead = Others { charged: before.ahead.charged + worth, ..before.ahead };
            self.extend(going, opened, &Before { ahead, ..*before }, Way::Taken(position));
        }
    }

    /// The state in which a scheme goes on so that its rail then keeps these locks.
    fn state(&mut self, (before, way): (u32, Way), rail: usize, now: Kept) -> u32 {
        let state = self.tallies.get(before);
        if matches!(way, Way::On | Way::Fresh) && kept(&state.locks, rail) == now {
            return before;
        }
        self.spare.become_like(state);
        match way {
            Way::On | Way::Fresh => {}
            Way::Room(room) => self.spare.rooms[room] = self.spare.rooms[room].saturating_add(1),
            Way::Taken(position) => drop(self.spare.open.remove(position)),
        }
        if let Some(locks) = self.spare.locks.get_mut(rail) {
            *locks = now;
        }
        self.tallies.index(&self.spare)
    }

    /// Outputs that the last driver of an open scheme has left.
    fn outputs(&self, open: &Partial) -> u8 {
        let own = self.ground.group.rails[open.rail as usize].stands[open.stand as usize].outputs;
        // One that is shared leaves an output for another rail.
        open.driver.map_or(own - u8::from(open.charged), |driver| driver.outputs) - open.chains
    }

    /// The last driver of a partial scheme as it is left before a luminaire, where another rail can still use it.
    fn left_open(&self, partial: &Partial, at: &[u32], end: usize) -> Option<Open> {
        let driver = partial.driver?;
        let rail = partial.rail as usize;
        let table = self.ground.group.rails[rail].stands[partial.stand as usize].table;
        let power = self.sums[rail][table].micro_watts(partial.start as usize, end - 1);
        let left = Open {
            outputs: driver.outputs - partial.chains,
            left: driver.left - power,
            load: driver.load + power,
            ..driver
        };
        let left = self.ground.group.classes[left.class as usize].as_it_matters(left);
        self.is_of_use(&left, at).then_some(left)
    }

    /// Whether a rail that has not used a driver can do so from where it is.
    fn is_of_use(&self, open: &Open, at: &[u32]) -> bool {
        let (class, until) = (&self.ground.group.classes[open.class as usize], &self.until[open.class as usize]);
        open.outputs > 0 && class.users(open.used, at, until).any(|own| class.least_load[own] <= open.left)
    }

    /// What blocks of other rails pay at most of a driver.
    fn worth(&self, open: &Open, at: &[u32]) -> Worth<'g> {
        let (group, class) = (self.ground.group, open.class as usize);
        let users = group.classes[class].users(open.used, at, &self.until[class]);
        group.worth(class, self.ground.floors, open.left, users)
    }

    fn credit(&self, open: &[Open], at: &[u32]) -> Fine {
        open.iter().map(|own| self.worth(own, at).with(own.outputs)).sum()
    }

    /// Offers every chain that the last driver of a partial scheme may take next; of a block that starts, the driver keeps a
    /// missing lock where it can.
    fn extend(&mut self, going: &mut Going<'_>, partial: Partial, before: &Before, way: Way) {
        let left = self.outputs(&partial);
        if left == 0 {
            return;
        }
        let (rail, end, index) = (going.rail, going.at[going.rail] as usize, partial.stand as usize);
        let (outputs, ceiling, ahead) = (left - 1, self.ground.ceiling, before.ahead);
        let own = kept(&self.tallies.get(partial.tally).locks, rail);
        let now = if matches!(way, Way::On) { own } else { keep(&self.ground.counted.locks[rail], own, index) };
        let floors = self.ground.floors.rails[rail].keeping(now);
        let free = self.ground.free.rails[rail].keeping(now);
        let (known, power_to) = (self.known(rail), partial.power_to as usize);
        let stop = (known.spans.output[index][end] as usize).min(power_to).min(self.count(rail));
        let table = known.stands[index].table;
        let (costs, feeds) = (known.tables.costs(table, end), known.tables.chosen(table, end));
        let count = stop.saturating_sub(end).min(costs.len());
        // Looking at a chain takes a part of the time of a comparison.
        self.patience = self.patience.saturating_sub(count as u64 / 8);
        // Its own driver is worth no more than now, however it goes on.
        let most = partial.driver.map_or(0, |driver| self.worth(&driver, going.at).with(outputs));
        let is_beyond = |total: Fine, charged: Fine, free: Fine| {
            total + (charged + ahead.charged - most).max(free + ahead.free) > ceiling
        };
        if is_beyond(partial.score.0, floors.more(table, end), free.more(table, end)) {
            return;
        }
        let charge = if partial.charged { self.charge((rail, index)) } else { None };
        let mut tally = None;
        for (offset, (cost, feed)) in costs[..count].iter().zip(feeds).enumerate() {
            let at = end + offset + 1;
            let total = partial.score.0 + cost + charge.map_or(0, |charge| charge.chain(end, at));
            let goes_on = outputs > 0 && at < power_to && at < self.count(rail);
            let least = |floors: &Floors| {
                let rest = floors.rest[at];
                if goes_on { rest.min(floors.more(table, at)) } else { rest }
            };
            if *cost >= BEYOND || is_beyond(total, least(floors), least(free)) {
                continue;
            }
            let tally = *tally.get_or_insert_with(|| self.state((partial.tally, way), rail, now));
            let next = Partial {
                score: (total, partial.score.1 + ONE_CHAIN),
                tally,
                chains: partial.chains + 1,
                feed: *feed,
                from: end as u32,
                end: at as u32,
                before: before.id,
                ..partial
            };
            let open = if outputs > 0 { self.left_open(&next, going.at, at) } else { None };
            let (closed, still_open) = open.map_or((0, 0), |open| {
                let worth = self.worth(&open, going.at);
                (worth.with(outputs), worth.with(outputs - 1))
            });
            let charged = floors.rest[at] + ahead.charged - closed;
            if total + charged.max(free.rest[at] + ahead.free) <= ceiling {
                self.close(going, at, next, open);
            }
            if goes_on {
                let still = Left { stand: index, outputs, power_to };
                let charged = floors.open(known, still, at) + ahead.charged - still_open;
                if total + charged.max(free.open(known, still, at) + ahead.free) <= ceiling {
                    let bucket = self.end(going, at);
                    self.offer_open(bucket, next);
                }
            }
        }
    }

    /// The bucket where a rail that goes on ends.
    fn end(&mut self, going: &mut Going<'_>, at: usize) -> u32 {
        let offset = at - going.at[going.rail] as usize;
        if going.ends[offset] == NOWHERE {
            let mut far = going.at.to_vec();
            far[going.rail] = at as u32;
            going.ends[offset] = self.bucket(far);
        }
        going.ends[offset]
    }

    /// Ends a block, and leaves its driver to other rails where one can use it.
    fn close(&mut self, going: &mut Going<'_>, end: usize, next: Partial, open: Option<Open>) {
        let (ground, rail) = (self.ground, going.rail);
        let locks = ground.counted.locks[rail].len();
        let before = self.tallies.get(next.tally);
        if end == self.count(rail) && kept(&before.locks, rail) != every(locks) {
            return;
        }
        let bucket = self.end(going, end);
        let at = std::mem::take(&mut self.buckets[bucket as usize].at);
        let before = self.tallies.get(next.tally);
        let changes = open.is_some()
            || !before.rooms.is_empty()
            || before.open.iter().any(|own| !self.is_of_use(own, &at))
            || (locks > 0 && end == self.count(rail));
        let tally = if changes {
            self.spare.become_like(before);
            let mut tally = std::mem::take(&mut self.spare);
            tally.open.retain(|own| self.is_of_use(own, &at));
            if let Some(open) = open {
                tally.insert(open);
            }
            for (index, used) in tally.rooms.iter_mut().enumerate() {
                // Where no rail can use a place any more, what stands there makes no difference.
                if self.room_until.iter().zip(&at).all(|(until, at)| until[index] <= *at) {
                    *used = 0;
                }
            }
            if locks > 0 && end == self.count(rail) {
                tally.locks[rail] = 0;
            }
            self.spare = tally;
            &self.spare
        } else {
            before
        };
        let is_cheap = next.score.0 + self.floor_closed(&at, tally) <= ground.ceiling;
        self.buckets[bucket as usize].at = at;
        if is_cheap {
            let tally = if changes { self.tallies.index(&self.spare) } else { next.tally };
            self.offer_closed(bucket, Partial { tally, ..next });
        }
    }
}

/// The locks of a rail that are kept.
fn kept(locks: &[Kept], rail: usize) -> Kept {
    locks.get(rail).copied().unwrap_or(0)
}
