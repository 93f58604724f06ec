//! Which rails are looked at together, what room they have, and how their schemes become one answer.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use survey::Id;
use units::Money;

use super::group::Readied;
use super::rail_problem::RailProblem;
use super::search::{Best, search};
use super::write::schemes;
use super::{Shared, Together};
use crate::feeds::bound::BEYOND;
use crate::feeds::lead::{Fine, money};
use crate::feeds::problem::Mains;
use crate::feeds::scheme::Scheme;
use crate::feeds::side_by_side;

/// Room left by place, for those where room is a matter.
type Room<'p> = BTreeMap<&'p Id, u32>;

/// A rail with what is best for it alone.
struct Alone<'p, P: RailProblem> {
    problem: Cow<'p, P>,
    outcome: P::Outcome,
    /// Cost before rounding.
    cost: Fine,
}

/// What a group of rails comes to.
struct Answer<O> {
    /// By rail of the group.
    outcomes: Vec<(usize, O)>,
    bounds: Vec<(usize, Money)>,
    cost: Money,
    floor: Money,
    shared: Vec<Shared>,
}

/// The answer for all rails, with so much patience for each group of them.
pub(crate) fn settle<P: RailProblem>(problems: &[&P], patience: u64) -> Together<P::Outcome> {
    let readable: Vec<bool> = problems.iter().map(|problem| problem.is_readable()).collect();
    let mut room = stated(problems, &readable);
    let indexes: Vec<usize> = (0..problems.len()).collect();
    let luminaires = problems.iter().map(|problem| problem.count()).sum();
    let mut alone = side_by_side::each_of(&indexes, luminaires, |index| {
        let problem = problems[*index];
        Alone::of(if readable[*index] { within(problem, &room) } else { Cow::Borrowed(problem) })
    });
    best_efforts(problems, &mut alone, &mut room);
    let groups = groups(problems, &alone, &room);
    let settle = |members: &Vec<usize>| settle_group(problems, members, &alone, &room, patience);
    let settled = side_by_side::each_of(&groups, luminaires, settle);
    let mut together = Together {
        outcomes: alone.iter().map(|own| own.outcome.clone()).collect(),
        cost: Money::ZERO,
        lower_bound: Money::ZERO,
        lower_bounds: vec![Money::ZERO; problems.len()],
        shared: Vec::new(),
    };
    for answer in settled {
        answer.outcomes.into_iter().for_each(|(rail, outcome)| together.outcomes[rail] = outcome);
        answer.bounds.into_iter().for_each(|(rail, bound)| together.lower_bounds[rail] = bound);
        together.cost += answer.cost;
        together.lower_bound += answer.floor;
        together.shared.extend(answer.shared);
    }
    together.shared.sort_by(|one, two| one.parts.cmp(&two.parts));
    together
}

/// The least room that any rail states for each place.
fn stated<'p, P: RailProblem>(problems: &[&'p P], readable: &[bool]) -> Room<'p> {
    let mut least = Room::new();
    let places = problems.iter().zip(readable).filter(|own| *own.1).flat_map(|own| own.0.places());
    for (id, room) in places.filter_map(|place| Some((&place.id, place.room?))) {
        let known = least.entry(id).or_insert(room);
        *known = room.min(*known);
    }
    least
}

/// A problem with no more room than is left.
fn within<'p, P: RailProblem>(problem: &'p P, room: &Room<'_>) -> Cow<'p, P> {
    let mut problem = Cow::Borrowed(problem);
    for index in 0..problem.places().len() {
        let place = &problem.places()[index];
        let left = room.get(&place.id).copied();
        if place.room != left {
            problem.to_mut().places_mut()[index].room = left;
        }
    }
    problem
}

impl<'p, P: RailProblem> Alone<'p, P> {
    fn of(problem: Cow<'p, P>) -> Self {
        let (outcome, cost) = problem.alone();
        Self { problem, outcome, cost }
    }

    /// The same where there is a scheme.
    fn solved_of(problem: Cow<'p, P>) -> Option<Self> {
        let (outcome, cost) = problem.solved_alone()?;
        Some(Self { problem, outcome, cost })
    }

    fn solved(&self) -> Option<&Scheme<P::Chain>> {
        P::solved(&self.outcome)
    }

    /// How many drivers stand at each place.
    fn drivers(&self) -> BTreeMap<&Id, u32> {
        let mut counts = BTreeMap::new();
        for driver in P::drawn(&self.outcome).into_iter().flat_map(|scheme| &scheme.drivers) {
            *counts.entry(&self.problem.places()[driver.place].id).or_default() += 1;
        }
        counts
    }

    fn exceeds(&self, room: &Room<'_>) -> bool {
        self.drivers().iter().any(|(place, count)| room.get(place).is_some_and(|left| count > left))
    }

    fn take(&self, room: &mut Room<'_>) {
        for (place, count) in self.drivers() {
            if let Some(left) = room.get_mut(place) {
                *left = left.saturating_sub(count);
            }
        }
    }
}

/// Rails without a scheme take room for the best they can have, in order; the others choose again where it is gone.
fn best_efforts<'p, P: RailProblem>(problems: &[&'p P], alone: &mut [Alone<'p, P>], room: &mut Room<'p>) {
    let mut taken = vec![false; alone.len()];
    let next = |alone: &[Alone<'p, P>], taken: &[bool]| {
        (0..alone.len()).find(|rail| !taken[*rail] && alone[*rail].solved().is_none())
    };
    while let Some(rail) = next(alone, &taken) {
        if alone[rail].exceeds(room) {
            alone[rail] = Alone::of(within(problems[rail], room));
        }
        alone[rail].take(room);
        taken[rail] = true;
        for other in 0..alone.len() {
            if alone[other].solved().is_some() && alone[other].exceeds(room) {
                alone[other] = Alone::of(within(problems[other], room));
            }
        }
    }
}

/// Places that could be a matter between rails: those where two can use the same part, or where room may run out.
fn matters<'p, P: RailProblem>(problems: &[&'p P], alone: &[Alone<'_, P>], room: &Room<'_>) -> Vec<Vec<usize>> {
    let mut by_place: BTreeMap<&'p Id, Vec<(usize, usize)>> = BTreeMap::new();
    for (rail, problem) in problems.iter().enumerate().filter(|own| alone[own.0].solved().is_some()) {
        for (index, place) in problem.places().iter().enumerate() {
            if place.mains != Mains::Unreached && !place.fits.is_empty() {
                by_place.entry(&place.id).or_default().push((rail, index));
            }
        }
    }
    let matters = |(id, own): (&Id, Vec<(usize, usize)>)| {
        let rails: BTreeSet<usize> = own.iter().map(|one| one.0).collect();
        let luminaires: usize = rails.iter().map(|rail| problems[*rail].count()).sum();
        let scarce = room.get(id).is_some_and(|room| (*room as usize) < luminaires);
        let mut parts = BTreeSet::new();
        let mut common = false;
        for (rail, place) in own {
            let fits = &problems[rail].places()[place].fits;
            let named = fits.iter().map(|fit| &problems[rail].drivers()[fit.driver]);
            let own: BTreeSet<&str> = named.filter(|one| one.outputs > 1).map(|one| one.part.as_str()).collect();
            common |= own.iter().any(|part| parts.contains(part));
            parts.extend(own);
        }
        (rails.len() > 1 && (scarce || common)).then(|| rails.into_iter().collect())
    };
    by_place.into_iter().filter_map(matters).collect()
}

/// Rails with a scheme, those that places join together, each group in the order in which it is best walked: so that few
/// places are a matter at any time.
fn groups<P: RailProblem>(problems: &[&P], alone: &[Alone<'_, P>], room: &Room<'_>) -> Vec<Vec<usize>> {
    let places = matters(problems, alone, room);
    let mut of: Vec<Vec<usize>> = vec![Vec::new(); problems.len()];
    for (place, rails) in places.iter().enumerate() {
        rails.iter().for_each(|rail| of[*rail].push(place));
    }
    let mut free: BTreeSet<usize> = (0..problems.len()).filter(|rail| alone[*rail].solved().is_some()).collect();
    let mut groups = Vec::new();
    while let Some(seed) = free.first().copied() {
        let mut members = BTreeSet::from([seed]);
        let mut queue = vec![seed];
        while let Some(rail) = queue.pop() {
            let near = of[rail].iter().flat_map(|place| &places[*place]);
            queue.extend(near.filter(|near| members.insert(**near)));
        }
        free.retain(|rail| !members.contains(rail));
        groups.push(in_order(members, alone, &places, &of));
    }
    groups
}

/// Of rails that leave as many places open the cheapest comes first: in whatever order they are asked for, the same of
/// several equally cheap schemes is found.
fn in_order<P: RailProblem>(
    mut members: BTreeSet<usize>,
    alone: &[Alone<'_, P>],
    places: &[Vec<usize>],
    of: &[Vec<usize>],
) -> Vec<usize> {
    let mut order = Vec::with_capacity(members.len());
    let mut seen: BTreeSet<usize> = BTreeSet::new();
    while !members.is_empty() {
        let open_after = |rail: &usize| {
            let among = seen.iter().chain(&of[*rail]).copied().collect::<BTreeSet<usize>>();
            let open = |place: &usize| places[*place].iter().any(|other| other != rail && members.contains(other));
            among.iter().filter(|place| open(place)).count()
        };
        let Some(next) = members.iter().copied().min_by_key(|rail| (open_after(rail), alone[*rail].cost, *rail)) else {
            break;
        };
        members.remove(&next);
        seen.extend(&of[next]);
        seen.retain(|place| places[*place].iter().any(|other| members.contains(other)));
        order.push(next);
    }
    order
}

/// Settles a group; rails that find no room beside those before them are left with the best they can have.
fn settle_group<P: RailProblem>(
    problems: &[&P],
    members: &[usize],
    alone: &[Alone<'_, P>],
    room: &Room<'_>,
    patience: u64,
) -> Answer<P::Outcome> {
    if let [rail] = members {
        return alone_answer(*rail, &alone[*rail]);
    }
    if let Some(answer) = settle_all(problems, members, alone, room, patience) {
        return answer;
    }
    let mut order = members.to_vec();
    order.sort_unstable();
    let (mut kept, mut dropped) = (Vec::new(), Vec::new());
    let mut answer =
        Answer { outcomes: Vec::new(), bounds: Vec::new(), cost: Money::ZERO, floor: Money::ZERO, shared: Vec::new() };
    for rail in order {
        let more: Vec<usize> = members.iter().copied().filter(|own| *own == rail || kept.contains(own)).collect();
        match settle_all(problems, &more, alone, room, patience) {
            Some(found) => {
                kept.push(rail);
                answer = found;
            }
            None => dropped.push(rail),
        }
    }
    let mut left = room.clone();
    answer.take::<P>(problems, &mut left);
    for rail in dropped {
        let own = Alone::of(within(problems[rail], &left));
        own.take(&mut left);
        // Where patience ended before a way for all was found, a rail may still fit in by itself. The floor under the
        // others stands: with one rail more nothing costs less.
        answer.cost += own.solved().map_or(Money::ZERO, |scheme| scheme.cost);
        answer.outcomes.push((rail, own.outcome));
        answer.bounds.push((rail, Money::ZERO));
    }
    answer
}

fn alone_answer<P: RailProblem>(rail: usize, alone: &Alone<'_, P>) -> Answer<P::Outcome> {
    let cost = alone.solved().map_or(Money::ZERO, |scheme| scheme.cost);
    Answer {
        outcomes: vec![(rail, alone.outcome.clone())],
        bounds: vec![(rail, cost)],
        cost,
        floor: cost,
        shared: Vec::new(),
    }
}

impl<O> Answer<O> {
    /// Takes the room of its drivers, each counted once.
    fn take<P: RailProblem<Outcome = O>>(&self, problems: &[&P], room: &mut Room<'_>) {
        let again: BTreeSet<(usize, usize)> =
            self.shared.iter().flat_map(|shared| shared.parts.iter().skip(1).copied()).collect();
        for (rail, outcome) in &self.outcomes {
            let drivers = P::solved(outcome).into_iter().flat_map(|scheme| &scheme.drivers);
            for (number, driver) in drivers.enumerate() {
                if let Some(left) = room.get_mut(&problems[*rail].places()[driver.place].id)
                    && !again.contains(&(*rail, number))
                {
                    *left = left.saturating_sub(1);
                }
            }
        }
    }
}

/// A rail by itself among others.
struct Apart<P: RailProblem> {
    rail: usize,
    outcome: P::Outcome,
    cost: Money,
    /// Cost before rounding.
    fine: Fine,
}

/// Each rail with what is best for it alone, rails choosing again in order where room is gone; `None` where one finds none.
fn one_after_another<'p, P: RailProblem>(
    problems: &[&'p P],
    members: &[usize],
    alone: &[Alone<'p, P>],
    room: &Room<'_>,
) -> Option<Vec<Apart<P>>> {
    let mut left = room.clone();
    let mut order = members.to_vec();
    order.sort_unstable();
    let mut found = Vec::new();
    for rail in order {
        let own = &alone[rail];
        let again = if own.exceeds(&left) { Some(Alone::solved_of(within(problems[rail], &left))?) } else { None };
        let own = again.as_ref().unwrap_or(own);
        own.take(&mut left);
        let cost = own.solved()?.cost;
        found.push(Apart { rail, outcome: own.outcome.clone(), cost, fine: own.cost });
    }
    Some(found)
}

/// The cheapest for all members together, `None` where no scheme was found.
fn settle_all<P: RailProblem>(
    problems: &[&P],
    members: &[usize],
    alone: &[Alone<'_, P>],
    room: &Room<'_>,
    patience: u64,
) -> Option<Answer<P::Outcome>> {
    let apart = one_after_another(problems, members, alone, room);
    let limited: Vec<Cow<'_, P>> = members.iter().map(|rail| within(problems[*rail], room)).collect();
    let limited: Vec<&P> = limited.iter().map(Cow::as_ref).collect();
    let (group, made) = Readied::of(&limited);
    let sum = |apart: &Vec<Apart<P>>| apart.iter().fold(0, |sum: Fine, own| sum.saturating_add(own.fine));
    let known = apart.as_ref().map(sum).filter(|known| *known < BEYOND);
    let Best { floor, feeding, cost, alone: alone_floors } = search(&group, known, patience)?;
    let proved = floor >= cost;
    let apart_cost = apart.as_ref().map(|apart| apart.iter().map(|own| own.cost).sum::<Money>());
    let mut answer =
        Answer { outcomes: Vec::new(), bounds: Vec::new(), cost: Money::ZERO, floor: Money::ZERO, shared: Vec::new() };
    let written: Vec<(&P, P::Made<'_>)> = limited.iter().copied().zip(made).collect();
    let merged = feeding.map(|feeding| schemes((&group, &written), &feeding, members));
    // Rounding rail by rail may eat what is saved.
    let merged = merged.filter(|(schemes, _)| {
        let sum = schemes.iter().map(|scheme| scheme.cost).sum::<Money>();
        apart_cost.is_none_or(|apart| sum < apart)
    });
    match merged {
        Some((schemes, sharers)) => {
            for (rail, scheme) in members.iter().zip(schemes) {
                answer.cost += scheme.cost;
                answer.outcomes.push((*rail, problems[*rail].with_scheme(&alone[*rail].outcome, scheme)));
            }
            answer.shared = sharers
                .into_iter()
                .map(|parts| {
                    let mut parts: Vec<(usize, usize)> =
                        parts.into_iter().map(|(rail, number)| (members[rail], number)).collect();
                    parts.sort_unstable();
                    Shared { parts }
                })
                .collect();
        }
        None => {
            for own in apart? {
                answer.cost += own.cost;
                answer.outcomes.push((own.rail, own.outcome));
            }
        }
    }
    answer.floor = if proved { answer.cost } else { money(floor).min(answer.cost) };
    answer.bounds.extend(members.iter().copied().zip(alone_floors.into_iter().map(money)));
    for (rail, outcome) in &mut answer.outcomes {
        let cost = P::solved(outcome).map(|scheme| scheme.cost);
        let (Some(cost), Some(bound)) = (cost, answer.bounds.iter_mut().find(|own| own.0 == *rail)) else {
            continue;
        };
        bound.1 = bound.1.min(cost);
        P::set_lower_bound(outcome, bound.1);
    }
    Some(answer)
}
