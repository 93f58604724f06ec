//! Where no scheme keeps every constraint: the best that can be had, what stands in the way, and what would help.

use std::collections::BTreeSet;

use units::{Amps, Length, Money, Volts, Watts};

use super::lead::makes;
use super::mend::worst;
use super::problem::{LeadSupply, Mains, Passing, Problem};
use super::reach::reaches;
use super::scheme::{Help, Infeasible, Scheme, ShortOfVolts};
use super::solve::Prepared;
use super::source::limits;
use crate::circuit::conductor::standard_sizes;
use catalogue::ShortCircuit;
use units::SquareMm;

/// More than any quantity here: a limit that binds nothing.
const PLENTY: f64 = 1e8;

/// The answer for a problem without a scheme.
pub(super) fn explain(problem: &Problem) -> Infeasible {
    let mut help = missing(problem);
    let unreached = unreached(problem);
    help.extend(stretches(problem, &unreached));
    let mut answer = Infeasible { best_effort: None, short_of_volts: None, unreached, help };
    let kept: Vec<usize> = (0..problem.luminaires.len()).filter(|index| !answer.unreached.contains(index)).collect();
    if kept.is_empty() {
        return answer;
    }
    let mut rest = problem.clone();
    rest.luminaires = kept.iter().map(|index| problem.luminaires[*index].clone()).collect();
    let found = effort(&rest, &mut answer.help);
    if let Some(scheme) = &found {
        let limits = limits(&rest);
        let short = worst(&rest, &limits, scheme).filter(|worst| worst.margin < -super::source::VOLT_ROUNDING);
        if let Some(worst) = short {
            help_volts(&rest, worst.luminaire, &mut answer.help);
            answer.short_of_volts =
                Some(ShortOfVolts { luminaire: kept[worst.luminaire], volts: worst.volts, limit: worst.limit });
        }
    }
    for own in &mut answer.help {
        match own {
            Help::WayInWithin { luminaire, .. } | Help::SourceTooHigh { luminaire, .. } => {
                *luminaire = kept[*luminaire]
            }
            _ => {}
        }
    }
    answer.best_effort = found.map(|scheme| renumbered(scheme, &kept));
    answer
}

/// Indexes of the whole problem in place of those of the reached luminaires.
fn renumbered(mut scheme: Scheme, kept: &[usize]) -> Scheme {
    for chain in scheme.drivers.iter_mut().flat_map(|driver| &mut driver.chains) {
        let end = chain.last + 1;
        chain.split = if chain.split == end { kept[chain.last] + 1 } else { kept[chain.split] };
        (chain.first, chain.last) = (kept[chain.first], kept[chain.last]);
    }
    scheme
}

/// Whether any driver can stand at a place.
fn is_usable(problem: &Problem, place: usize) -> bool {
    problem.places[place].mains != Mains::Unreached && !problem.places[place].fits.is_empty()
}

/// What the survey or the catalogue lacks altogether.
fn missing(problem: &Problem) -> Vec<Help> {
    let mut help = Vec::new();
    if problem.places.is_empty() {
        help.push(Help::NoPlace);
    }
    if problem.ways_in.is_empty() {
        help.push(Help::NoWayIn);
    }
    let named = |lacks: &dyn Fn(usize) -> bool| -> Vec<survey::Id> {
        let lacking = (0..problem.places.len()).filter(|place| lacks(*place));
        lacking.map(|place| problem.places[place].id.clone()).collect()
    };
    if !(0..problem.places.len()).any(|place| is_usable(problem, place)) {
        let places = named(&|place| problem.places[place].mains == Mains::Unreached);
        if !places.is_empty() {
            help.push(Help::NoMains { places });
        }
        let places = named(&|place| problem.places[place].fits.is_empty());
        if !places.is_empty() {
            help.push(Help::NoDriverFits { places });
        }
    }
    // Made-up leads that are all too short, even plugged together: the shortest length that would do for a path.
    let short = problem.paths.iter().filter(|path| is_usable(problem, path.place) && !path.leads.is_empty());
    let without = short.filter(|path| makes(problem, path.place, path.way_in).is_empty());
    let lengths =
        without.filter_map(|path| path.leads.iter().map(|lead| path.length + problem.leads[*lead].allowance).min());
    help.extend(lengths.min().map(|length| Help::LeadLength { length }));
    help
}

/// Luminaires that no way in with a path and a lead reaches.
fn unreached(problem: &Problem) -> Vec<usize> {
    let reaches = reaches(problem);
    let mut reached = vec![false; problem.luminaires.len()];
    for path in &problem.paths {
        let Some(reach) = &reaches[path.way_in] else { continue };
        if is_usable(problem, path.place) && !makes(problem, path.place, path.way_in).is_empty() {
            reached[reach.first..reach.end].fill(true);
        }
    }
    (0..reached.len()).filter(|index| !reached[*index]).collect()
}

/// One entry for each stretch of luminaires that follow one another.
fn stretches(problem: &Problem, unreached: &[usize]) -> Vec<Help> {
    let mut stretches: Vec<(usize, usize)> = Vec::new();
    for index in unreached {
        match stretches.last_mut() {
            Some(stretch) if stretch.1 + 1 == *index => stretch.1 = *index,
            _ => stretches.push((*index, *index)),
        }
    }
    let at = |index: usize| problem.luminaires[index].chainage;
    stretches.into_iter().map(|(first, last)| Help::NoRoute { first, last, from: at(first), to: at(last) }).collect()
}

/// Whether there is any scheme with limits of voltage lowered by so much.
fn feasible(problem: &Problem, slack: f64) -> bool {
    let mut free = problem.clone();
    // Without costs, hardly any partial scheme is worth keeping, and the answer comes sooner.
    free.costs = super::problem::Costs::default();
    free.drivers.iter_mut().for_each(|driver| driver.price = Money::ZERO);
    free.places.iter_mut().flat_map(|place| &mut place.fits).for_each(|fit| fit.enclosure = Money::ZERO);
    free.runs.iter_mut().for_each(|run| run.per_metre = Money::ZERO);
    for lead in &mut free.leads {
        lead.ends_cost = Money::ZERO;
        match &mut lead.supply {
            LeadSupply::Reel { per_metre } => *per_metre = Money::ZERO,
            LeadSupply::MadeUp { lengths, plug_cost, .. } => {
                *plug_cost = Money::ZERO;
                lengths.iter_mut().for_each(|length| length.1 = Money::ZERO);
            }
        }
    }
    Prepared::of(&free, slack).cheapest().is_some()
}

/// The least value from `low` (which does not hold) to `high` (which does), to within `step`.
fn least(mut low: f64, mut high: f64, step: f64, holds: impl Fn(f64) -> bool) -> f64 {
    while high - low > step {
        let middle = 0.5 * (low + high);
        if holds(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    high
}

/// The scheme with the least shortfall of volts; where volts are not what fails, what does is added to `help` and the
/// scheme is the best for the problem without it.
fn effort(problem: &Problem, help: &mut Vec<Help>) -> Option<Scheme> {
    if let Some(scheme) = closest(problem) {
        return Some(scheme);
    }
    let freed: Vec<Problem> = freedoms(problem)
        .into_iter()
        .filter(|(_, free)| feasible(free, f64::INFINITY))
        .map(|(found, free)| {
            help.push(found.computed(problem));
            free
        })
        .collect();
    if let Some(free) = freed.first() {
        return closest(free);
    }
    // Several things fail at once: of all constraints, those are left in the way that cannot be put back one by one.
    let without = |freed: &[Freedom]| freed.iter().fold(problem.clone(), |whole, freedom| freedom.applied(&whole));
    let mut freed: Vec<Freedom> = freedoms(problem).into_iter().map(|own| own.0).collect();
    if !feasible(&without(&freed), f64::INFINITY) {
        return None;
    }
    for freedom in freed.clone() {
        let fewer: Vec<Freedom> = freed.iter().copied().filter(|other| *other != freedom).collect();
        if feasible(&without(&fewer), f64::INFINITY) {
            freed = fewer;
        }
    }
    for freedom in &freed {
        let others: Vec<Freedom> = freed.iter().copied().filter(|other| other != freedom).collect();
        help.push(freedom.computed(&without(&others)));
    }
    closest(&without(&freed))
}

/// The cheapest scheme with the least shortfall of volts, to a millivolt; all other constraints held.
fn closest(problem: &Problem) -> Option<Scheme> {
    if let Some(scheme) = Prepared::of(problem, 0.0).cheapest() {
        return Some(scheme);
    }
    let whole = problem.drivers.iter().map(|driver| driver.high.get()).fold(0.0, f64::max);
    let slack = if feasible(problem, whole) {
        least(0.0, whole, 1e-3, |slack| feasible(problem, slack))
    } else {
        // Not even with volts to the last one: the network has no solution, or would need a reversed voltage.
        f64::INFINITY
    };
    Prepared::of(problem, slack).cheapest()
}

/// A constraint that may stand in the way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Freedom {
    Power,
    Output,
    Conductors,
    ShortCircuit,
    SourceHigh,
    Room,
    Passing,
    Lock(usize),
}

/// Every constraint, with the problem without it.
fn freedoms(problem: &Problem) -> Vec<(Freedom, Problem)> {
    use Freedom::{Conductors, Output, Passing, Power, Room, ShortCircuit, SourceHigh};
    let fixed = [Power, Output, Conductors, ShortCircuit, SourceHigh, Room, Passing];
    // Locks go one by one; taken from the end, the indexes of the others hold.
    let locks = (0..problem.locks.len()).rev().map(Freedom::Lock);
    fixed.into_iter().chain(locks).map(|freedom| (freedom, freedom.applied(problem))).collect()
}

impl Freedom {
    /// The problem without this constraint.
    fn applied(self, problem: &Problem) -> Problem {
        let mut free = problem.clone();
        match self {
            Self::Power => with_power(&mut free, PLENTY),
            Self::Output => with_output(&mut free, PLENTY),
            Self::Conductors => with_carried(&mut free, PLENTY),
            Self::ShortCircuit => {
                for driver in &mut free.drivers {
                    driver.short_circuit = ShortCircuit::Limited(Amps::ZERO);
                }
            }
            Self::SourceHigh => {
                free.luminaires.iter_mut().for_each(|luminaire| luminaire.greatest = Volts::new(PLENTY));
            }
            Self::Room => free.places.iter_mut().for_each(|place| place.room = None),
            Self::Passing => free.passing = Passing::Allowed,
            Self::Lock(lock) => {
                if lock < free.locks.len() {
                    free.locks.remove(lock);
                }
            }
        }
        free
    }

    /// What it would take, where everything else is as in this problem.
    fn computed(self, problem: &Problem) -> Help {
        let sums = |worst: &dyn Fn(f64, f64) -> f64| {
            let limits = limits(problem);
            let draws = problem.drivers.iter().map(|driver| {
                let each = problem.luminaires.iter().zip(&limits).flat_map(|(luminaire, limit)| {
                    let draw = |load: &catalogue::LoadModel| {
                        super::source::worst_draw(*load, driver.low.get(), driver.high.get(), *limit)
                    };
                    luminaire.channels.iter().map(draw).collect::<Vec<_>>()
                });
                each.map(|(amps, watts)| worst(amps, watts)).sum::<f64>()
            });
            draws.fold(0.0, f64::max) + 0.1
        };
        let with = |set: &dyn Fn(&mut Problem, f64), most: f64, step: f64| {
            // Rounded up to a tenth, so that the figure named does hold.
            let holds = |value: f64| {
                let mut free = problem.clone();
                set(&mut free, value);
                feasible(&free, f64::INFINITY)
            };
            (least(0.0, most, step, holds) * 10.0).ceil() / 10.0
        };
        match self {
            Self::Power => Help::DriverPower { power: Watts::new(with(&with_power, sums(&|_, watts| watts), 0.05)) },
            Self::Output => Help::OutputCurrent { current: Amps::new(with(&with_output, sums(&|amps, _| amps), 0.05)) },
            Self::Conductors => {
                let shorts = problem.drivers.iter().map(|driver| match driver.short_circuit {
                    ShortCircuit::Limited(amps) | ShortCircuit::Fused { rating: amps, .. } => amps.get(),
                });
                let most = shorts.fold(sums(&|amps, _| amps), f64::max);
                Help::ConductorCurrent { current: Amps::new(with(&with_carried, most + 0.1, 0.05)) }
            }
            Self::ShortCircuit => Help::ShortCircuit,
            Self::SourceHigh => {
                let luminaires = problem.luminaires.iter().enumerate();
                let tightest = luminaires.min_by_key(|(_, luminaire)| luminaire.greatest);
                let source = problem.drivers.iter().map(|driver| driver.high).min().unwrap_or(Volts::ZERO);
                let (luminaire, greatest) = tightest.map_or((0, Volts::ZERO), |own| (own.0, own.1.greatest));
                Help::SourceTooHigh { luminaire, greatest, source }
            }
            Self::Room => {
                let full = problem.places.iter().filter(|place| place.room.is_some());
                Help::Room { places: full.map(|place| place.id.clone()).collect() }
            }
            Self::Passing => Help::Passing,
            Self::Lock(lock) => Help::Lock { lock },
        }
    }
}

/// Every driver may deliver at least this power after derating and reserve.
fn with_power(problem: &mut Problem, watts: f64) {
    for place in &mut problem.places {
        for fit in &mut place.fits {
            let driver = &problem.drivers[fit.driver];
            let usable = driver.rated.get() * fit.share * (100.0 - f64::from(driver.reserve_percent)) / 100.0;
            // The share is of the power set below.
            fit.share = (usable.max(watts) / (2.0 * PLENTY)).min(1.0);
        }
    }
    for driver in &mut problem.drivers {
        (driver.rated, driver.reserve_percent) = (Watts::new(2.0 * PLENTY), 0);
    }
}

fn with_output(problem: &mut Problem, amps: f64) {
    for driver in &mut problem.drivers {
        driver.output_limit = driver.output_limit.max(Amps::new(amps));
    }
}

fn with_carried(problem: &mut Problem, amps: f64) {
    let amps = Amps::new(amps);
    problem.runs.iter_mut().for_each(|run| run.carries = run.carries.max(amps));
    for lead in &mut problem.leads {
        lead.carries = lead.carries.max(amps);
        if let LeadSupply::MadeUp { plug_carries, .. } = &mut lead.supply {
            *plug_carries = (*plug_carries).max(amps);
        }
    }
}

/// What would bring the volts up: thicker running cores, thicker leads, a way in nearer by.
fn help_volts(problem: &Problem, luminaire: usize, help: &mut Vec<Help>) {
    let thicker = |most: Option<SquareMm>, with: &dyn Fn(SquareMm) -> Problem| {
        let most = most?;
        standard_sizes().filter(|area| *area > most).find(|area| feasible(&with(*area), 0.0))
    };
    let runs = thicker(problem.runs.iter().map(|run| run.area).max(), &|area| {
        let mut free = problem.clone();
        for run in &mut free.runs {
            run.ohms_per_m *= run.area.get() / area.get();
            run.carries = Amps::new(run.carries.get() * area.get() / run.area.get());
        }
        free
    });
    help.extend(runs.map(|area| Help::RunArea { area }));
    let leads = thicker(problem.leads.iter().map(|lead| lead.area).max(), &|area| {
        let mut free = problem.clone();
        for lead in &mut free.leads {
            lead.ohms_per_m *= lead.area.get() / area.get();
            lead.carries = Amps::new(lead.carries.get() * area.get() / lead.area.get());
        }
        free
    });
    help.extend(leads.map(|area| Help::LeadArea { area }));
    help.extend(nearer(problem, luminaire));
}

/// How near a further way in must be, with a path as short as the shortest there is, to the luminaire that falls short.
fn nearer(problem: &Problem, luminaire: usize) -> Option<Help> {
    let usable = problem.paths.iter().filter(|path| is_usable(problem, path.place) && !path.leads.is_empty());
    let shortest = usable.min_by_key(|path| path.length)?;
    let at = problem.luminaires[luminaire].chainage;
    let with = |way_in: Length| {
        let mut free = problem.clone();
        free.ways_in.push(super::problem::WayIn { id: problem.ways_in[shortest.way_in].id.clone(), chainage: way_in });
        // A wish would rule it out or rule others out.
        free.wish = survey::FeedWish::Cheapest;
        free.paths.push(super::problem::Path { way_in: free.ways_in.len() - 1, ..shortest.clone() });
        feasible(&free, 0.0)
    };
    if !with(at) {
        return between(problem, &with);
    }
    let ways: BTreeSet<i64> = problem.ways_in.iter().map(|way| (way.chainage - at).abs().to_um()).collect();
    let most = ways.first().copied().unwrap_or(0) as f64 / 1e6;
    let holds = |metres: f64| {
        let away = Length::um((metres * 1e6) as i64);
        with(at - away) || with(at + away)
    };
    // The greatest distance that holds, to a decimetre, by looking for the least shortening from the farthest.
    let distance =
        if most > 0.0 && holds(most) { most } else { most - least(0.0, most, 0.1, |less| holds(most - less)) };
    Some(Help::WayInWithin { luminaire, distance: Length::um((distance.max(0.0) * 10.0).floor() as i64 * 100_000) })
}

/// The longest stretch of places along the rail where a further way in would do, tried at even steps.
fn between(problem: &Problem, with: &dyn Fn(Length) -> bool) -> Option<Help> {
    const STEPS: i64 = 24;
    let (first, last) = (problem.luminaires.first()?.chainage, problem.luminaires.last()?.chainage);
    let step = |index: i64| Length::um(first.to_um() + (last - first).to_um() / STEPS * index);
    let mut best: Option<(i64, i64)> = None;
    let mut since = None;
    for index in 0..=STEPS {
        since = if with(step(index)) { since.or(Some(index)) } else { None };
        if let Some(from) = since
            && best.is_none_or(|(start, end)| index - from > end - start)
        {
            best = Some((from, index));
        }
    }
    best.map(|(from, to)| Help::WayInBetween { from: step(from), to: step(to) })
}
