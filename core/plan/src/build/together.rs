//! Which rails are fed together, and the room that they leave each other at their places.
//!
//! A driver may feed several rails that are of one voltage, switch together and have their mains lead of one cable: a driver
//! switches as a whole, so that rails of different zones never share one, and neither do points and modules. Rails without a
//! zone are switched by nothing and count as one. Rails that have no place in common are fed apart, and so is a rail whose
//! places are only proposed.

use std::collections::BTreeMap;

use survey::Id;
use units::Money;

use super::behind::Proposed;
use super::drivers::Standing;
use super::rail_case::RailCase;
use crate::feeds::side_by_side::each;
use crate::feeds::together::RailProblem;
use crate::feeds::{Shared, Together};
use crate::memory::Memory;

/// Rails that are fed together.
pub(crate) struct Group<C, O> {
    /// Positions of their drafts, in order.
    pub drafts: Vec<usize>,
    /// What their feeds were chosen from, with the room that was left for them.
    pub cases: Vec<C>,
    /// Their feeds.
    pub answer: Together<O>,
    /// Proven lower bounds with all the room that there is: of the whole, and of each rail.
    pub free: (Money, Vec<Money>),
}

/// A rail of a group, taken out of it.
pub(crate) struct Chosen<C, O> {
    /// Position of its draft.
    pub draft: usize,
    /// What its feeds were chosen from.
    pub case: C,
    /// Its feeds.
    pub outcome: O,
    /// Proven lower bound of what it costs.
    pub lower_bound: Money,
    /// For each driver of its scheme, where that stands in the schemes of the group; nothing where it serves one rail.
    pub standings: Vec<Vec<Standing>>,
}

impl<'a, C: RailCase<'a>> Group<C, C::Outcome> {
    /// Proven lower bound of the feeds of all its rails.
    pub(crate) fn lower_bound(&self) -> Money {
        let cost: Money = self.answer.outcomes.iter().map(C::cost).sum();
        self.free.0.min(cost)
    }

    /// Its rails one by one.
    pub(crate) fn into_rails(self) -> Vec<Chosen<C, C::Outcome>> {
        let Self { drafts, cases, answer, free } = self;
        let standings: Vec<Vec<Vec<Standing>>> = answer
            .outcomes
            .iter()
            .enumerate()
            .map(|(rail, outcome)| {
                let drivers = 0..C::drawn(outcome).len();
                drivers.map(|driver| standings(&drafts, &answer.shared, (rail, driver))).collect()
            })
            .collect();
        let rails = drafts.into_iter().zip(cases).zip(answer.outcomes).zip(free.1).zip(standings);
        rails
            .map(|((((draft, case), outcome), lower_bound), standings)| Chosen {
                draft,
                case,
                outcome,
                lower_bound,
                standings,
            })
            .collect()
    }
}

/// Where a driver stands in the schemes of a group; nothing where it serves one rail.
fn standings(drafts: &[usize], shared: &[Shared], here: (usize, usize)) -> Vec<Standing> {
    let found = shared.iter().find(|shared| shared.parts.contains(&here));
    found.map_or_else(Vec::new, |shared| shared.parts.iter().map(|(rail, driver)| (drafts[*rail], *driver)).collect())
}

/// The sum of the costs that are proved, `None` for a rail that no scheme feeds within every limit, and whether the sum is
/// proved to be the least.
pub(crate) fn proved<'a, C: RailCase<'a>>(answer: &Together<C::Outcome>) -> (Vec<Option<Money>>, bool) {
    let costs: Vec<Option<Money>> = answer.outcomes.iter().map(C::proved_cost).collect();
    let exact = costs.iter().flatten().copied().sum::<Money>() == answer.lower_bound;
    (costs, exact)
}

/// Number of drivers by place.
pub(crate) type Room = BTreeMap<Id, u32>;

/// Chooses the feeds of rails, each with the position of its draft and its zone, in order of draft. Where a group asks for
/// more drivers at a place than the groups before it have left room for, it chooses again with that room.
pub(crate) fn choose<'a, C: RailCase<'a>>(
    rails: Vec<(usize, Option<&Id>, C)>,
    used: &mut Room,
    memory: &Memory,
) -> Vec<Group<C, C::Outcome>> {
    let groups = grouped(rails);
    let answers = each(&groups, |(_, cases)| C::cheapest(&cases.iter().collect::<Vec<_>>(), memory));
    groups
        .into_iter()
        .zip(answers)
        .map(|((drafts, mut cases), mut answer)| {
            let free = (answer.lower_bound, answer.lower_bounds.clone());
            let surveyed = cases.iter().all(|case| case.behind().proposed == Proposed::No);
            if surveyed {
                let wanted = drivers_by_place(&cases, &answer);
                if take_room(&mut cases, used, &wanted) {
                    answer = C::cheapest(&cases.iter().collect::<Vec<_>>(), memory);
                }
                for (place, count) in drivers_by_place(&cases, &answer) {
                    *used.entry(place).or_default() += count;
                }
            }
            Group { drafts, cases, answer, free }
        })
        .collect()
}

/// Takes the room that is used already from the places of cases; whether fewer drivers then have room than are wanted.
fn take_room<'a, C: RailCase<'a>>(cases: &mut [C], used: &Room, wanted: &Room) -> bool {
    let mut tight = false;
    for place in cases.iter_mut().flat_map(|case| case.problem_mut().places_mut()) {
        let Some(taken) = used.get(&place.id) else { continue };
        place.room = place.room.map(|room| room.saturating_sub(*taken));
        tight |= place.room.is_some_and(|room| wanted.get(&place.id).is_some_and(|count| *count > room));
    }
    tight
}

/// The drivers that an answer puts at each place, each once however many rails it serves.
fn drivers_by_place<'a, C: RailCase<'a>>(cases: &[C], answer: &Together<C::Outcome>) -> Room {
    let mut counts = Room::new();
    for (rail, (case, outcome)) in cases.iter().zip(&answer.outcomes).enumerate() {
        for (position, place) in C::drawn(outcome).iter().map(|own| own.place).enumerate() {
            let again =
                answer.shared.iter().any(|shared| shared.parts.iter().skip(1).any(|own| *own == (rail, position)));
            if !again {
                *counts.entry(case.problem().places()[place].id.clone()).or_default() += 1;
            }
        }
    }
    counts
}

/// Rails that are fed together with what their feeds are chosen from, in order of the first rail.
fn grouped<'a, C: RailCase<'a>>(rails: Vec<(usize, Option<&Id>, C)>) -> Vec<(Vec<usize>, Vec<C>)> {
    // Rails are joined to the first of their group over every place that they have in common with it.
    let mut head: Vec<usize> = (0..rails.len()).collect();
    let mut first_at = BTreeMap::new();
    for (index, (_, zone, case)) in rails.iter().enumerate() {
        if case.behind().proposed == Proposed::Yes {
            continue;
        }
        for place in case.problem().places() {
            let cable = case.behind().mains.map(|lead| &lead.item.part);
            let first = *first_at.entry((case.problem().nominal(), *zone, cable, &place.id)).or_insert(index);
            let (one, other) = (head[first], head[index]);
            let (low, high) = (one.min(other), one.max(other));
            head.iter_mut().filter(|head| **head == high).for_each(|head| *head = low);
        }
    }
    drop(first_at);
    let mut groups: BTreeMap<usize, (Vec<usize>, Vec<C>)> = BTreeMap::new();
    for ((draft, _, case), head) in rails.into_iter().zip(head) {
        let group = groups.entry(head).or_default();
        group.0.push(draft);
        group.1.push(case);
    }
    groups.into_values().collect()
}
