//! Rails that may share drivers or room, with everything that does not depend on the choice worked out.

use std::collections::BTreeMap;
use std::sync::Mutex;

use survey::Id;

use super::pool::Open;
use super::rail_problem::RailProblem;
use crate::feeds::bound::{BEYOND, Known};
use crate::feeds::charge::{Charge, Part, Shareable, share};
use crate::feeds::lead::Fine;
use crate::feeds::missing::{Kinds, LockFloors};
use crate::feeds::rail::Rail;
use crate::feeds::side_by_side;
use crate::feeds::source::SourceSums;
use crate::feeds::stand::{Stand, Stands, in_order, is_locked};

/// A driver part at a place where several rails of a group can use it.
#[derive(Clone, Debug)]
pub(super) struct Class {
    /// Index of the place in the group.
    pub(super) place: usize,
    /// Outputs of the part.
    pub(super) outputs: u8,
    /// Its rails in the group's order, each with its stand there.
    pub(super) rails: Vec<(usize, usize)>,
    /// The greatest cost that it has on any of them.
    pub(super) dearest: Fine,
    /// The least power that it has on any of them, microwatts.
    pub(super) weakest: i64,
    /// By rail as in `rails`, the least power of one of its luminaires, microwatts.
    pub(super) least_load: Vec<i64>,
    /// By rail as in `rails`, the power of all its luminaires, microwatts.
    pub(super) whole_load: Vec<i64>,
    /// By rail as in `rails`, what power it has there, microwatts.
    pub(super) usable: Vec<i64>,
    /// By rail as in `rails`, one past the last luminaire at which one of its chains can start.
    pub(super) until: Vec<u32>,
}

impl Class {
    /// Its stand on a rail.
    pub(super) fn stand(&self, rail: usize) -> Option<usize> {
        self.rails.iter().find(|own| own.0 == rail).map(|own| own.1)
    }

    /// The bit of a rail; `None` where it shares no such driver. The most rails at one place that can share are 64, in the
    /// group's order; the floors take all to share.
    pub(super) fn bit(&self, rail: usize) -> Option<u64> {
        self.rails.iter().position(|own| own.0 == rail).and_then(|position| 1u64.checked_shl(position as u32))
    }

    /// An open driver as it matters to rails that have not used it: no more power than they could draw, and no load where
    /// that leaves them as much. So drivers whose power is not scarce are alike however much of it is drawn.
    pub(super) fn as_it_matters(&self, open: Open) -> Open {
        let unused = || (0..self.rails.len().min(64)).filter(|own| open.used & (1 << own) == 0);
        let wanted = unused().fold(0_i64, |sum, own| sum.saturating_add(self.whole_load[own]));
        let is_ample = unused().all(|own| self.usable[own] - open.load >= wanted);
        Open { left: open.left.min(wanted), load: if is_ample { 0 } else { open.load }, ..open }
    }

    /// Positions of rails that can still use a driver that feeds some already, by how far each rail is fed and
    /// how far it may start a chain.
    pub(super) fn users(&self, used: u64, at: &[u32], until: &[u32]) -> impl Iterator<Item = usize> {
        let bits = self.rails.iter().take(64).zip(until).enumerate();
        bits.filter(move |(index, (rail, until))| used & (1 << index) == 0 && at[rail.0] < **until).map(|own| own.0)
    }

    /// The least power of a luminaire on the rails that some rule picks.
    fn least_load(&self, of: impl Fn(usize) -> bool) -> Option<i64> {
        let own = self.rails.iter().zip(&self.least_load);
        own.filter(|(rail, _)| of(rail.0)).map(|(_, load)| *load).min()
    }
}

/// A place of a group.
#[derive(Clone, Debug)]
pub(super) struct GroupPlace {
    /// Room for drivers.
    pub(super) room: Option<u32>,
}

/// Problems made ready to be looked at together.
pub(super) struct Readied<'a> {
    pub(super) rails: Vec<Rail<'a>>,
    pub(super) classes: Vec<Class>,
    pub(super) places: Vec<GroupPlace>,
    /// By rail and place of its problem, the place of the group.
    pub(super) place_of: Vec<Vec<usize>>,
    /// By rail and stand, one past the last luminaire at which one of its chains can start.
    pub(super) until: Vec<Vec<u32>>,
}

impl<'a> Readied<'a> {
    /// Of rails in the order in which they will be walked, with what each writes its chains from.
    pub(super) fn of<P: RailProblem>(problems: &[&'a P]) -> (Self, Vec<P::Made<'a>>) {
        let all: Vec<Stands> = problems.iter().map(|problem| problem.stands()).collect();
        let mut ids: BTreeMap<&Id, usize> = BTreeMap::new();
        let mut places: Vec<GroupPlace> = Vec::new();
        let mut place_of: Vec<Vec<usize>> = Vec::new();
        for problem in problems {
            let mut own = vec![0; problem.places().len()];
            for number in in_order(problem.places()) {
                let place = &problem.places()[number];
                let index = *ids.entry(&place.id).or_insert(places.len());
                if index == places.len() {
                    places.push(GroupPlace { room: None });
                }
                let known = &mut places[index];
                known.room = match (known.room, place.room) {
                    (Some(one), Some(two)) => Some(one.min(two)),
                    (one, two) => one.or(two),
                };
                own[number] = index;
            }
            place_of.push(own);
        }
        let shared = Shared::of(problems, &all, &place_of);
        let kept: Vec<Vec<Stand>> = (0..problems.len()).map(|rail| shared.kept(rail)).collect();
        let indexes: Vec<usize> = (0..problems.len()).collect();
        let ready = |rail: &usize| problems[*rail].ready(kept[*rail].clone(), &all[*rail].1);
        let luminaires = problems.iter().map(|problem| problem.count()).sum();
        let ready = side_by_side::each_of(&indexes, luminaires, ready);
        let (rails, made): (Vec<Rail<'a>>, Vec<P::Made<'a>>) = ready.into_iter().unzip();
        let until: Vec<Vec<u32>> = rails.iter().map(until).collect();
        let classes = classes(&rails, &place_of, &until);
        (Self { rails, classes, places, place_of, until }, made)
    }

    /// What the blocks of one rail pay of shared drivers by these weights, by stand.
    pub(super) fn charges(&self, rail: usize, weights: &[Weights]) -> Vec<Option<Charge>> {
        let prepared = &self.rails[rail];
        let sums = prepared.sums();
        let count = prepared.count();
        let mut charges: Vec<Option<Charge>> = vec![None; prepared.stands.len()];
        for (class, weights) in self.classes.iter().zip(weights) {
            let Some(position) = class.rails.iter().position(|own| own.0 == rail) else { continue };
            let stand = class.rails[position].1;
            let own = &prepared.stands[stand];
            let what = Shareable {
                cost: own.cost,
                outputs: class.outputs,
                usable: own.usable,
                least_other: class.least_load(|other| other != rail).unwrap_or(i64::MAX),
            };
            let part = Part { block: weights.blocks[position], chain: weights.chain, power: weights.power };
            charges[stand] = Some(Charge::of(what, part, count, sums[own.table]));
        }
        charges
    }

    /// How floors tell the locks of each rail apart.
    pub(super) fn kinds(&self) -> Vec<Kinds> {
        self.rails.iter().map(Rail::kinds).collect()
    }

    /// The floors of all rails where shared drivers are paid for by these weights, one for each class, and locks are told
    /// apart so.
    pub(super) fn priced(&self, weights: Vec<Weights>, kinds: &[Kinds]) -> Priced {
        self.priced_again(weights, kinds, None)
    }

    /// The same in the place of other floors, which saves making room for them.
    pub(super) fn priced_again(&self, weights: Vec<Weights>, kinds: &[Kinds], before: Option<Priced>) -> Priced {
        let mut before: Vec<Mutex<Option<LockFloors>>> =
            before.into_iter().flat_map(|own| own.rails).map(|own| Mutex::new(Some(own))).collect();
        before.resize_with(self.rails.len(), || Mutex::new(None));
        let rails: Vec<usize> = (0..self.rails.len()).collect();
        let charges: Vec<Vec<Option<Charge>>> = rails.iter().map(|rail| self.charges(*rail, &weights)).collect();
        let luminaires = self.rails.iter().map(Rail::count).sum();
        let floors = side_by_side::each_of(&rails, luminaires, |rail| {
            let prepared = &self.rails[*rail];
            let sums = prepared.sums();
            let known = known(prepared, &sums, &charges[*rail]);
            // Each rail's floors are taken once.
            let floors = before[*rail].lock().ok().and_then(|mut own| own.take());
            floors.map_or_else(|| LockFloors::of(prepared.count(), known, &kinds[*rail]), |own| own.again(known))
        });
        let mut behind = vec![0; floors.len() + 1];
        for (rail, own) in floors.iter().enumerate().rev() {
            behind[rail] = own.whole().saturating_add(behind[rail + 1]).min(BEYOND);
        }
        let by_chains = |(class, weights): (&Class, &Weights)| {
            let pays = |chains| share(class.dearest, weights.chain, i64::from(chains), i64::from(class.outputs));
            (0..=class.outputs).map(pays).collect()
        };
        let by_chains = self.classes.iter().zip(&weights).map(by_chains).collect();
        Priced { weights, by_chains, charges, rails: floors, behind }
    }

    /// The same weights for every class.
    pub(super) fn alike(&self, block: i64, chain: i64, power: i64) -> Vec<Weights> {
        let of = |class: &Class| {
            let rails = class.rails.len();
            Weights { blocks: vec![block / rails as i64; rails], chain, power }
        };
        self.classes.iter().map(of).collect()
    }

    /// What blocks of rails that have not used a driver pay of it at most where so much power is left.
    pub(super) fn worth<'k>(
        &self,
        class: usize,
        priced: &'k Priced,
        left: i64,
        users: impl Iterator<Item = usize>,
    ) -> Worth<'k> {
        let (own, weights) = (&self.classes[class], &priced.weights[class]);
        let (mut rails, mut blocks) = (0, 0);
        users.for_each(|user| (rails, blocks) = (rails + 1, blocks + weights.blocks[user]));
        let most = if rails == 0 { 0 } else { own.dearest };
        let fixed = share(most, blocks, 1, 1) + share(most, weights.power, left, own.weakest) + 3;
        Worth { most, fixed, by_chains: &priced.by_chains[class] }
    }
}

/// What blocks of other rails pay at most of a driver that is left open.
pub(super) struct Worth<'k> {
    /// All together.
    most: Fine,
    /// By block and power, with what rounding may take off.
    fixed: Fine,
    /// By number of chains.
    by_chains: &'k [Fine],
}

impl Worth<'_> {
    /// Where so many outputs are left.
    pub(super) fn with(&self, outputs: u8) -> Fine {
        (self.fixed + self.by_chains[usize::from(outputs)]).min(self.most)
    }
}

/// How the cost of a class's drivers is laid on their blocks; parts of [`crate::feeds::charge::WHOLE`] that add up to no more.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Weights {
    /// On a block of each rail, in the class's order.
    pub(super) blocks: Vec<i64>,
    /// By chains.
    pub(super) chain: i64,
    /// By power.
    pub(super) power: i64,
}

/// Floors under the cost of rails where blocks pay their part of shared drivers.
pub(super) struct Priced {
    pub(super) weights: Vec<Weights>,
    /// By class and number of chains, what those pay.
    by_chains: Vec<Vec<Fine>>,
    /// By rail and stand.
    pub(super) charges: Vec<Vec<Option<Charge>>>,
    /// By rail.
    pub(super) rails: Vec<LockFloors>,
    /// By rail, a floor under it and all behind it.
    pub(super) behind: Vec<Fine>,
}

impl Priced {
    /// A floor under all rails.
    pub(super) fn floor(&self) -> Fine {
        self.behind[0]
    }
}

/// What floors and walks go by.
pub(super) fn known<'k>(
    prepared: &'k Rail<'_>,
    sums: &'k [&'k SourceSums],
    charges: &'k [Option<Charge>],
) -> Known<'k> {
    Known { stands: &prepared.stands, tables: &prepared.tables, spans: &prepared.spans, sums, charges }
}

/// A part by name, and the place of the group.
type Key<'p> = (usize, &'p str);

/// Which stands of different rails are the same part at the same place.
struct Shared<'s, 'p, P> {
    problems: &'s [&'p P],
    all: &'s [Stands],
    place_of: &'s [Vec<usize>],
    /// By part and place, its stands: rail and index.
    same: BTreeMap<Key<'p>, Vec<(usize, usize)>>,
}

fn key<'p>(part: &'p str, place_of: &[usize], stand: &Stand) -> Key<'p> {
    (place_of[stand.place], part)
}

impl<'s, 'p, P: RailProblem> Shared<'s, 'p, P> {
    fn of(problems: &'s [&'p P], all: &'s [Stands], place_of: &'s [Vec<usize>]) -> Self {
        let mut same: BTreeMap<Key<'p>, Vec<(usize, usize)>> = BTreeMap::new();
        for (rail, (stands, _)) in all.iter().enumerate() {
            for (index, stand) in stands.iter().enumerate() {
                let part = &problems[rail].drivers()[stand.driver].part;
                same.entry(key(part, &place_of[rail], stand)).or_default().push((rail, index));
            }
        }
        Self { problems, all, place_of, same }
    }

    fn stand(&self, (rail, index): (usize, usize)) -> &Stand {
        &self.all[rail].0[index]
    }

    /// The stands of a rail without those that another part does for on every rail that has them.
    fn kept(&self, rail: usize) -> Vec<Stand> {
        let own = |stand: &Stand| key(&self.problems[rail].drivers()[stand.driver].part, &self.place_of[rail], stand);
        let stands = &self.all[rail].0;
        stands.iter().filter(|stand| !self.is_beaten(own(stand))).cloned().collect()
    }

    fn is_beaten(&self, other: Key<'p>) -> bool {
        let stands = &self.same[&other];
        let locked = |own: &(usize, usize)| {
            let problem = self.problems[own.0];
            is_locked(problem.locks(), problem.drivers(), self.stand(*own))
        };
        if stands.iter().any(locked) {
            return false;
        }
        let at_place = self.same.range((other.0, "")..).take_while(|one| one.0.0 == other.0);
        at_place
            .filter(|one| *one.0 != other)
            .any(|(name, ones)| self.does_for(ones, stands) && (name.1 < other.1 || !self.does_for(stands, ones)))
    }

    /// Whether, on every rail that has the others, one of these is as good.
    fn does_for(&self, ones: &[(usize, usize)], others: &[(usize, usize)]) -> bool {
        others
            .iter()
            .all(|other| ones.iter().any(|one| one.0 == other.0 && self.stand(*one).as_good_as(self.stand(*other))))
    }
}

/// By stand of a rail, one past the last luminaire at which one of its chains can start.
fn until(prepared: &Rail<'_>) -> Vec<u32> {
    let count = prepared.count();
    let last = |stand: &Stand| (0..count).rfind(|own| !prepared.tables.costs(stand.table, *own).is_empty());
    prepared.stands.iter().map(|stand| last(stand).map_or(0, |last| last as u32 + 1)).collect()
}

/// The classes of prepared rails, in order of place and part.
fn classes(rails: &[Rail<'_>], place_of: &[Vec<usize>], until: &[Vec<u32>]) -> Vec<Class> {
    let mut found: BTreeMap<Key<'_>, Class> = BTreeMap::new();
    for (rail, prepared) in rails.iter().enumerate() {
        let sums = prepared.sums();
        for (index, stand) in prepared.stands.iter().enumerate() {
            let key = key(prepared.part(stand), &place_of[rail], stand);
            let class = found.entry(key).or_insert_with(|| Class {
                place: key.0,
                outputs: stand.outputs,
                rails: Vec::new(),
                dearest: 0,
                weakest: i64::MAX,
                least_load: Vec::new(),
                whole_load: Vec::new(),
                usable: Vec::new(),
                until: Vec::new(),
            });
            // The same part has as many outputs on every rail; another one under its name shares nothing.
            if class.outputs != stand.outputs || class.rails.last().is_some_and(|last| last.0 == rail) {
                continue;
            }
            let loads = (0..prepared.count()).map(|own| sums[stand.table].micro_watts(own, own));
            class.rails.push((rail, index));
            class.dearest = class.dearest.max(stand.cost);
            class.weakest = class.weakest.min(stand.usable);
            class.least_load.push(loads.min().unwrap_or(i64::MAX));
            class
                .whole_load
                .push(prepared.count().checked_sub(1).map_or(0, |last| sums[stand.table].micro_watts(0, last)));
            class.usable.push(stand.usable);
            class.until.push(until[rail][index]);
        }
    }
    found.into_values().filter(|class| class.outputs > 1 && class.rails.len() > 1).collect()
}
