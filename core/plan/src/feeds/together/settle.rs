//! Which rails are looked at together, what room they have, and how their schemes become one answer.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use survey::Id;
use units::Money;

use super::group::Readied;
use super::search::{Best, search};
use super::write::schemes;
use super::{Shared, Together};
use crate::feeds::lead::{Fine, money};
use crate::feeds::problem::{Mains, Problem};
use crate::feeds::scheme::{Outcome, Scheme, Solved};
use crate::feeds::{check, mend, side_by_side, solve_finely};

/// Room left by place, for those where room is a matter.
type Room<'p> = BTreeMap<&'p Id, u32>;

/// A rail with what is best for it alone.
struct Alone<'p> {
    problem: Cow<'p, Problem>,
    outcome: Outcome,
    /// Cost before rounding.
    cost: Fine,
}

/// What a group of rails comes to.
struct Answer {
    /// By rail of the group.
    outcomes: Vec<(usize, Outcome)>,
    bounds: Vec<(usize, Money)>,
    cost: Money,
    floor: Money,
    shared: Vec<Shared>,
}

/// The answer for all rails, with so much patience for each group of them.
pub(super) fn settle(problems: &[&Problem], patience: u64) -> Together {
    let readable: Vec<bool> = problems.iter().map(|problem| check::faults(problem).is_empty()).collect();
    let mut room = stated(problems, &readable);
    let indexes: Vec<usize> = (0..problems.len()).collect();
    let mut alone = side_by_side::each(&indexes, |index| {
        let problem = problems[*index];
        Alone::of(if readable[*index] { within(problem, &room) } else { Cow::Borrowed(problem) })
    });
    best_efforts(problems, &mut alone, &mut room);
    let groups = groups(problems, &alone, &room);
    let settled = side_by_side::each(&groups, |members| settle_group(problems, members, &alone, &room, patience));
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
fn stated<'p>(problems: &[&'p Problem], readable: &[bool]) -> Room<'p> {
    let mut least = Room::new();
    let places = problems.iter().zip(readable).filter(|own| *own.1).flat_map(|own| &own.0.places);
    for (id, room) in places.filter_map(|place| Some((&place.id, place.room?))) {
        let known = least.entry(id).or_insert(room);
        *known = room.min(*known);
    }
    least
}

/// A problem with no more room than is left.
fn within<'p>(problem: &'p Problem, room: &Room<'_>) -> Cow<'p, Problem> {
    let mut problem = Cow::Borrowed(problem);
    for index in 0..problem.places.len() {
        let place = &problem.places[index];
        let left = room.get(&place.id).copied();
        if place.room != left {
            problem.to_mut().places[index].room = left;
        }
    }
    problem
}

impl<'p> Alone<'p> {
    fn of(problem: Cow<'p, Problem>) -> Self {
        let (outcome, cost) = solve_finely(&problem);
        Self { problem, outcome, cost }
    }

    /// Its scheme, or the best that can be had.
    fn scheme(&self) -> Option<&Scheme> {
        match &self.outcome {
            Outcome::Solved(solved) => Some(&solved.scheme),
            Outcome::Infeasible(infeasible) => infeasible.best_effort.as_ref(),
            Outcome::Refused(_) => None,
        }
    }

    fn solved(&self) -> Option<&Solved> {
        match &self.outcome {
            Outcome::Solved(solved) => Some(solved),
            Outcome::Infeasible(_) | Outcome::Refused(_) => None,
        }
    }

    /// How many drivers stand at each place.
    fn drivers(&self) -> BTreeMap<&Id, u32> {
        let mut counts = BTreeMap::new();
        for driver in self.scheme().into_iter().flat_map(|scheme| &scheme.drivers) {
            *counts.entry(&self.problem.places[driver.place].id).or_default() += 1;
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
fn best_efforts<'p>(problems: &[&'p Problem], alone: &mut [Alone<'p>], room: &mut Room<'p>) {
    let mut taken = vec![false; alone.len()];
    let next = |alone: &[Alone<'p>], taken: &[bool]| {
        (0..alone.len()).find(|rail| !taken[*rail] && matches!(alone[*rail].outcome, Outcome::Infeasible(_)))
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
fn matters<'p>(problems: &[&'p Problem], alone: &[Alone<'_>], room: &Room<'_>) -> Vec<Vec<usize>> {
    let mut by_place: BTreeMap<&'p Id, Vec<(usize, usize)>> = BTreeMap::new();
    for (rail, problem) in problems.iter().enumerate().filter(|own| alone[own.0].solved().is_some()) {
        for (index, place) in problem.places.iter().enumerate() {
            if place.mains != Mains::Unreached && !place.fits.is_empty() {
                by_place.entry(&place.id).or_default().push((rail, index));
            }
        }
    }
    let matters = |(id, own): (&Id, Vec<(usize, usize)>)| {
        let rails: BTreeSet<usize> = own.iter().map(|one| one.0).collect();
        let luminaires: usize = rails.iter().map(|rail| problems[*rail].luminaires.len()).sum();
        let scarce = room.get(id).is_some_and(|room| (*room as usize) < luminaires);
        let mut parts = BTreeSet::new();
        let mut common = false;
        for (rail, place) in own {
            let fits = &problems[rail].places[place].fits;
            let named = fits.iter().map(|fit| &problems[rail].drivers[fit.driver]);
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
fn groups(problems: &[&Problem], alone: &[Alone<'_>], room: &Room<'_>) -> Vec<Vec<usize>> {
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
        groups.push(in_order(members, &places, &of));
    }
    groups
}

fn in_order(mut members: BTreeSet<usize>, places: &[Vec<usize>], of: &[Vec<usize>]) -> Vec<usize> {
    let mut order = Vec::with_capacity(members.len());
    let mut seen: BTreeSet<usize> = BTreeSet::new();
    while !members.is_empty() {
        let open_after = |rail: &usize| {
            let among = seen.iter().chain(&of[*rail]).copied().collect::<BTreeSet<usize>>();
            let open = |place: &usize| places[*place].iter().any(|other| other != rail && members.contains(other));
            among.iter().filter(|place| open(place)).count()
        };
        let Some(next) = members.iter().copied().min_by_key(|rail| (open_after(rail), *rail)) else { break };
        members.remove(&next);
        seen.extend(&of[next]);
        seen.retain(|place| places[*place].iter().any(|other| members.contains(other)));
        order.push(next);
    }
    order
}

/// Settles a group; rails that find no room beside those before them are left with the best they can have.
fn settle_group(
    problems: &[&Problem],
    members: &[usize],
    alone: &[Alone<'_>],
    room: &Room<'_>,
    patience: u64,
) -> Answer {
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
    answer.take(problems, &mut left);
    for rail in dropped {
        let own = Alone::of(within(problems[rail], &left));
        own.take(&mut left);
        // Where patience ended before a way for all was found, a rail may still fit in by itself. The floor under the
        // others stands: with one rail more nothing costs less.
        answer.cost += own.solved().map_or(Money::ZERO, |solved| solved.scheme.cost);
        answer.outcomes.push((rail, own.outcome));
        answer.bounds.push((rail, Money::ZERO));
    }
    answer
}

fn alone_answer(rail: usize, alone: &Alone<'_>) -> Answer {
    let cost = alone.solved().map_or(Money::ZERO, |solved| solved.scheme.cost);
    Answer {
        outcomes: vec![(rail, alone.outcome.clone())],
        bounds: vec![(rail, cost)],
        cost,
        floor: cost,
        shared: Vec::new(),
    }
}

impl Answer {
    /// Takes the room of its drivers, each counted once.
    fn take(&self, problems: &[&Problem], room: &mut Room<'_>) {
        let again: BTreeSet<(usize, usize)> =
            self.shared.iter().flat_map(|shared| shared.parts.iter().skip(1).copied()).collect();
        for (rail, outcome) in &self.outcomes {
            let Outcome::Solved(solved) = outcome else { continue };
            for (number, driver) in solved.scheme.drivers.iter().enumerate() {
                if let Some(left) = room.get_mut(&problems[*rail].places[driver.place].id)
                    && !again.contains(&(*rail, number))
                {
                    *left = left.saturating_sub(1);
                }
            }
        }
    }
}

/// Each rail with what is best for it alone, rails choosing again in order where room is gone; `None` where one finds none.
fn one_after_another<'p>(
    problems: &[&'p Problem],
    members: &[usize],
    alone: &[Alone<'p>],
    room: &Room<'_>,
) -> Option<Vec<(usize, Solved, Fine)>> {
    let mut left = room.clone();
    let mut order = members.to_vec();
    order.sort_unstable();
    let mut found = Vec::new();
    for rail in order {
        let own = &alone[rail];
        let again = own.exceeds(&left).then(|| Alone::of(within(problems[rail], &left)));
        let own = again.as_ref().unwrap_or(own);
        own.take(&mut left);
        found.push((rail, own.solved()?.clone(), own.cost));
    }
    Some(found)
}

/// The cheapest for all members together, `None` where no scheme was found.
fn settle_all(
    problems: &[&Problem],
    members: &[usize],
    alone: &[Alone<'_>],
    room: &Room<'_>,
    patience: u64,
) -> Option<Answer> {
    let apart = one_after_another(problems, members, alone, room);
    let limited: Vec<Cow<'_, Problem>> = members.iter().map(|rail| within(problems[*rail], room)).collect();
    let limited: Vec<&Problem> = limited.iter().map(Cow::as_ref).collect();
    let group = Readied::of(&limited);
    let known = apart.as_ref().map(|apart| apart.iter().map(|own| own.2).sum::<Fine>());
    let Best { floor, feeding, cost, alone: alone_floors } = search(&group, known, patience)?;
    let proved = floor >= cost;
    let apart_cost = apart.as_ref().map(|apart| apart.iter().map(|own| own.1.scheme.cost).sum::<Money>());
    let mut answer =
        Answer { outcomes: Vec::new(), bounds: Vec::new(), cost: Money::ZERO, floor: Money::ZERO, shared: Vec::new() };
    let merged = feeding.map(|feeding| schemes(&group, &feeding, members));
    // Rounding rail by rail may eat what is saved.
    let merged = merged.filter(|(schemes, _)| {
        let sum = schemes.iter().map(|scheme| scheme.cost).sum::<Money>();
        apart_cost.is_none_or(|apart| sum < apart)
    });
    match merged {
        Some((schemes, sharers)) => {
            for (rail, scheme) in members.iter().zip(schemes) {
                let before = alone[*rail].solved().and_then(|solved| solved.mend.as_ref());
                let mend = before.map(|mend| mend::compared(problems[*rail], mend, &scheme));
                answer.cost += scheme.cost;
                answer.outcomes.push((*rail, Outcome::Solved(Solved { lower_bound: scheme.cost, scheme, mend })));
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
            for (rail, solved, _) in apart? {
                answer.cost += solved.scheme.cost;
                answer.outcomes.push((rail, Outcome::Solved(solved)));
            }
        }
    }
    answer.floor = if proved { answer.cost } else { money(floor).min(answer.cost) };
    answer.bounds.extend(members.iter().copied().zip(alone_floors.into_iter().map(money)));
    for (rail, outcome) in &mut answer.outcomes {
        let (Outcome::Solved(solved), Some(bound)) = (outcome, answer.bounds.iter_mut().find(|own| own.0 == *rail))
        else {
            continue;
        };
        bound.1 = bound.1.min(solved.scheme.cost);
        solved.lower_bound = bound.1;
    }
    Some(answer)
}
