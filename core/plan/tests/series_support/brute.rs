//! Every scheme of a small problem, one after another: costs added in whole ten-thousandths times micrometres, volts from
//! the network solver with every conductor drawn, nothing shared with the method that is checked.

use catalogue::{LoadModel as Catalogued, ShortCircuit};
use plan::circuit::{Branch, BranchKind, CommonSide, Conductor, LoadModel, Network, Wiring, solve};
use plan::feeds::{DriverOption, LeadOption, LeadSupply, Mains};
use plan::series::{DecoderOption, Feeding, Gap, Heading, Problem};
use units::{Length, Money, Ohms};

type Fine = i128;

fn fine(amount: Money) -> Fine {
    i128::from(amount.to_ten_thousandths()) * 1_000_000
}

fn metres(per_metre: Money, length: Length) -> Fine {
    i128::from(per_metre.to_ten_thousandths()) * i128::from(length.to_um())
}

/// Every way to make a lead: cost, resistance of a core, current that it carries.
fn makes(lead: &LeadOption, way: Length) -> Vec<(Fine, f64, f64)> {
    let least = way + lead.allowance;
    let base = lead.ends.get();
    match &lead.supply {
        LeadSupply::Reel { per_metre } => {
            let cost = metres(*per_metre, least) + fine(lead.ends_cost);
            vec![(cost, base + lead.ohms_per_m * least.to_m(), lead.carries.get())]
        }
        LeadSupply::MadeUp { lengths, plug, plug_carries, plug_cost } => {
            let carries = lead.carries.get().min(plug_carries.get());
            let mut out = Vec::new();
            let mut sets: Vec<Vec<usize>> = (0..lengths.len()).map(|i| vec![i]).collect();
            for _ in 0..2 {
                let longer: Vec<Vec<usize>> = sets
                    .iter()
                    .flat_map(|set| (*set.last().unwrap()..lengths.len()).map(move |i| [set.clone(), vec![i]].concat()))
                    .collect();
                sets.extend(longer);
                sets.sort();
                sets.dedup();
            }
            for set in sets.into_iter().filter(|set| set.len() <= 3) {
                let whole: Length = set.iter().map(|i| lengths[*i].0).sum();
                if whole >= least {
                    let joints = set.len() as Fine - 1;
                    let cost = set.iter().map(|i| fine(lengths[*i].1)).sum::<Fine>() + joints * fine(*plug_cost);
                    let ohms = base + lead.ohms_per_m * whole.to_m() + joints as f64 * plug.get();
                    out.push((cost + fine(lead.ends_cost), ohms, carries));
                }
            }
            out
        }
    }
}

fn branch(conductor: Conductor, kind: BranchKind, ohms: f64) -> Branch {
    Branch { conductor, kind, length: Length::ZERO, area: None, ohms: Ohms::new(ohms), stands: None }
}

struct Wires {
    network: Network,
    here: usize,
    serial: usize,
}

impl Wires {
    fn on(&mut self, kind: BranchKind, conductors: &[Conductor], ohms: f64) {
        self.serial += 1;
        let branches = conductors.iter().map(|c| branch(*c, kind, ohms)).collect();
        self.here = self.network.add_station(format!("s{}", self.serial), None, self.here, branches);
    }
}

/// Least margin of volts over a chain, by the network solver.
#[allow(clippy::too_many_arguments, reason = "one call, every figure of a chain")]
fn margin(
    problem: &Problem,
    low: f64,
    order: &[usize],
    first: f64,
    decoder: Option<&DecoderOption>,
    second: f64,
    link_ohms: &[Option<f64>],
) -> Option<f64> {
    let channels = usize::from(problem.channels);
    let wiring = if channels == 1 {
        Wiring::Pair
    } else {
        let names = (0..channels).map(|c| format!("c{c}")).collect();
        Wiring::Colour { common: CommonSide::Plus, channels: names }
    };
    let mut wires = Wires { network: Network::new(wiring, units::Volts::new(low), "s"), here: 0, serial: 0 };
    let all: Vec<Conductor> = wires.network.conductors();
    if let Some(decoder) = decoder {
        wires.on(BranchKind::Lead, &[Conductor::Trunk, Conductor::Common], first);
        wires.serial += 1;
        let mut branches: Vec<Branch> =
            (0..channels).map(|c| branch(Conductor::Channel(c), BranchKind::Plug, decoder.ohms.get())).collect();
        branches.push(branch(Conductor::Common, BranchKind::Plug, 0.0));
        wires.here = wires.network.add_station("decoder", None, wires.here, branches);
    } else {
        wires.on(BranchKind::Lead, &all, first);
    }
    wires.on(BranchKind::Lead, &all, second);
    let mut before: Option<usize> = None;
    for module in order {
        if let Some(before) = before {
            let gap = before.min(*module);
            let ohms = match problem.gaps[gap] {
                Gap::Plugged => problem.contact.get(),
                Gap::Linked { .. } => link_ohms[gap]?,
                Gap::Shut => return None,
            };
            wires.on(BranchKind::Plug, &all, ohms);
        }
        let half = problem.modules[*module].through.get() / 2.0;
        wires.on(BranchKind::Module, &all, half);
        for channel in 0..channels {
            let model = match problem.modules[*module].load {
                Catalogued::Current(amps) => LoadModel::Current(amps),
                Catalogued::Power(watts) => LoadModel::Power(watts),
                Catalogued::Resistance(ohms) => LoadModel::Resistance(ohms),
            };
            wires.network.add_load(format!("m{module}"), wires.here, channel, model);
        }
        wires.on(BranchKind::Module, &all, half);
        before = Some(*module);
    }
    let solved = solve(&wires.network).ok()?;
    let limit = |module: usize| {
        let by_drop = problem.nominal.get() * (1.0 - f64::from(problem.drop_permille) / 1000.0);
        by_drop.max(problem.modules[module].least.get())
    };
    let mut least = f64::INFINITY;
    for (index, load) in solved.loads.iter().enumerate() {
        least = least.min(load.volts.get() - limit(order[index / channels]));
    }
    Some(least)
}

/// Cheapest cost of one chain, over everything that can be chosen.
pub fn chain(problem: &Problem, place: usize, driver: usize, first: usize, last: usize) -> Option<Fine> {
    let option = &problem.drivers[driver];
    let (low, high) = (option.low.get(), option.high.get());
    let channels = f64::from(problem.channels);
    let (mut one, mut length) = (0.0, Length::ZERO);
    for module in &problem.modules[first..=last] {
        if high > module.greatest.get() {
            return None;
        }
        let by_drop = problem.nominal.get() * (1.0 - f64::from(problem.drop_permille) / 1000.0);
        one += match module.load {
            Catalogued::Current(amps) => amps.get(),
            Catalogued::Power(watts) => watts.get() / by_drop.max(module.least.get()),
            Catalogued::Resistance(ohms) => high / ohms.get(),
        };
        length += module.end - module.start;
    }
    let amps = one * channels;
    let (must, fuse) = match option.short_circuit {
        ShortCircuit::Limited(at) => (at.get(), None),
        ShortCircuit::Fused { rating, clears_at } => (rating.get(), Some(rating.get() * f64::from(clears_at))),
    };
    if amps > option.output_limit.get()
        || problem.connector_carries.get() < amps.max(must)
        || length > problem.longest_chain
    {
        return None;
    }
    let inner: Vec<usize> = (first..last).collect();
    let needs_link = inner.iter().any(|gap| matches!(problem.gaps[*gap], Gap::Linked { .. }));
    let parts: Vec<Option<usize>> = if needs_link { (0..problem.links.len()).map(Some).collect() } else { vec![None] };
    let mut best: Option<Fine> = None;
    for part in parts {
        let mut link_ohms = vec![None; problem.gaps.len()];
        let (mut link_cost, mut link_carries, mut made) = (0, f64::INFINITY, true);
        for gap in &inner {
            if let (Gap::Linked { length }, Some(part)) = (problem.gaps[*gap], part) {
                let all = makes(&problem.links[part], length);
                // The cheapest make of the part, of equals the one with less resistance.
                match all.into_iter().min_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))) {
                    Some((cost, ohms, carries)) => {
                        link_cost += cost + metres(problem.costs.thread_per_metre, length);
                        link_ohms[*gap] = Some(ohms);
                        link_carries = f64::min(link_carries, carries);
                    }
                    None => made = false,
                }
            }
        }
        if !made {
            continue;
        }
        for heading in [Heading::Rising, Heading::Falling] {
            let (near, order): (Length, Vec<usize>) = match heading {
                Heading::Rising => (problem.modules[first].start, (first..=last).collect()),
                Heading::Falling => (problem.modules[last].end, (first..=last).rev().collect()),
            };
            for path in problem.paths.iter().filter(|path| path.place == place) {
                let way = problem.ways_in[path.way_in].chainage;
                let (a, b) = (way.min(near), way.max(near));
                if problem.blocked.iter().any(|shut| shut.from < b && shut.to > a) {
                    continue;
                }
                let decoders: Vec<Option<&DecoderOption>> = match &problem.feeding {
                    Feeding::Plain => vec![None],
                    Feeding::Decoded { decoders, .. } => decoders.iter().map(Some).collect(),
                };
                let (one_way, other_way) = match &problem.feeding {
                    Feeding::Plain => (path.length, b - a),
                    Feeding::Decoded { beside, .. } => (*beside, path.length + (b - a)),
                };
                for e in &path.extensions {
                    for l in &path.luminaire_leads {
                        let behind = problem.modules.iter().any(|module| module.start < b && module.end > a);
                        if behind && !problem.passes_behind[*l] {
                            continue;
                        }
                        for (cost_e, ohms_e, carries_e) in makes(&problem.extensions[*e], one_way) {
                            for (cost_l, ohms_l, carries_l) in makes(&problem.luminaire_leads[*l], other_way) {
                                for decoder in &decoders {
                                    let carries = carries_e.min(carries_l).min(link_carries);
                                    let contact = decoder.map_or(f64::INFINITY, |d| d.carries.get());
                                    if carries < amps.max(must) || contact < one.max(must) {
                                        continue;
                                    }
                                    let extra: Fine = match decoder {
                                        Some(d) => match d.enclosure[place] {
                                            Some(box_) => fine(d.cost) + fine(box_),
                                            None => continue,
                                        },
                                        None => 0,
                                    };
                                    if let Some(needed) = fuse {
                                        let mut sum = 2.0 * (ohms_e + ohms_l) + decoder.map_or(0.0, |d| d.ohms.get());
                                        for module in &order {
                                            sum += 2.0 * problem.modules[*module].through.get();
                                        }
                                        for gap in &inner {
                                            sum += 2.0 * link_ohms[*gap].unwrap_or(problem.contact.get());
                                        }
                                        if low < sum * needed {
                                            continue;
                                        }
                                    }
                                    let cost = cost_e
                                        + cost_l
                                        + extra
                                        + link_cost
                                        + metres(problem.costs.lay_per_metre, path.length)
                                        + metres(problem.costs.thread_per_metre, b - a)
                                        + fine(problem.costs.per_chain);
                                    if best.is_some_and(|best| best <= cost) {
                                        continue;
                                    }
                                    let least = margin(problem, low, &order, ohms_e, *decoder, ohms_l, &link_ohms);
                                    if least.is_some_and(|least| least >= -1e-9) {
                                        best = Some(cost);
                                    }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
    best
}

/// Worst power of a module, all channels.
pub fn watts(problem: &Problem, option: &DriverOption, index: usize) -> f64 {
    let module = &problem.modules[index];
    let by_drop = problem.nominal.get() * (1.0 - f64::from(problem.drop_permille) / 1000.0);
    let limit = by_drop.max(module.least.get());
    let one = match module.load {
        Catalogued::Current(amps) => option.high.get() * amps.get(),
        Catalogued::Power(watts) => option.low.get() * watts.get() / limit,
        Catalogued::Resistance(ohms) => option.high.get() * option.high.get() / ohms.get(),
    };
    one * f64::from(problem.channels)
}

/// The cheapest cost of all schemes, `None` where there is none. Room and locks are kept.
pub fn cheapest(problem: &Problem) -> Option<Fine> {
    let count = problem.modules.len();
    let mut best = None;
    let mut used = Vec::new();
    walk(problem, 0, count, 0, &mut used, &mut best);
    best
}

fn walk(
    problem: &Problem,
    from: usize,
    count: usize,
    cost: Fine,
    used: &mut Vec<(usize, usize)>,
    best: &mut Option<Fine>,
) {
    if best.is_some_and(|best| best <= cost) {
        return;
    }
    if from == count {
        let at = |place: usize, part: Option<&str>| {
            let same =
                |own: &&(usize, usize)| own.0 == place && part.is_none_or(|part| problem.drivers[own.1].part == part);
            used.iter().filter(same).count()
        };
        for (place, own) in problem.places.iter().enumerate() {
            let locks: Vec<_> = problem.locks.iter().filter(|lock| lock.place == own.id).collect();
            let full = own.room.is_some_and(|room| at(place, None) > room as usize);
            let named = locks.iter().any(|lock| {
                let alike = locks.iter().filter(|other| other.part == lock.part && lock.part.is_some()).count();
                lock.part.as_deref().is_some_and(|part| at(place, Some(part)) < alike)
            });
            if full || named || at(place, None) < locks.len() {
                return;
            }
        }
        *best = Some(cost);
        return;
    }
    for (place, own) in problem.places.iter().enumerate() {
        let mains = match &own.mains {
            Mains::Route { length, .. } => {
                metres(problem.costs.mains_per_metre, *length) + fine(problem.costs.mains_ends)
            }
            Mains::Assumed => 0,
            Mains::Unreached => continue,
        };
        for fit in &own.fits {
            let option = &problem.drivers[fit.driver];
            let usable = option.rated.get() * fit.share * (100.0 - f64::from(option.reserve_percent)) / 100.0;
            let stand = mains + fine(option.price) + fine(problem.costs.mount_driver) + fine(fit.enclosure);
            for end in from..count {
                let watts: f64 = (from..=end).map(|index| watts(problem, option, index)).sum();
                if watts > usable {
                    break;
                }
                let outputs = usize::from(option.outputs);
                if let Some(chains) = split(problem, place, fit.driver, from, end, outputs) {
                    used.push((place, fit.driver));
                    walk(problem, end + 1, count, cost + stand + chains, used, best);
                    used.pop();
                }
            }
        }
    }
}

/// The cheapest way to share a block out over so many outputs.
fn split(problem: &Problem, place: usize, driver: usize, from: usize, end: usize, outputs: usize) -> Option<Fine> {
    if outputs == 0 {
        return None;
    }
    (from..=end)
        .filter_map(|last| {
            let own = chain(problem, place, driver, from, last)?;
            if last == end {
                return Some(own);
            }
            Some(own + split(problem, place, driver, last + 1, end, outputs - 1)?)
        })
        .min()
}
