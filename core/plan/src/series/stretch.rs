//! Stretches of modules as a feed sees them, whatever place and driver part feed them: worked out once for a rail.
//!
//! # Method
//! What must hold is that the last module of a chain has its least voltage `L`, for volts fall on the way to it. So the
//! network is walked from the far end to the near one: the last module at `L`, its current, the drop of the section before
//! it, the volts and so the current of the module before … A stretch longer by one module at the near end takes one more
//! step, and at the end stand the volts `V` and the current `I` with which a chain just lights. A feed of resistance `r`
//! behind a source of `U` will do where `U ≥ V + r · I`. Why that is exact:
//! - constant currents and resistances: the source's volts rise in a straight line with those of the last module;
//! - constant power: the source's volts `S(v)` go without a break from `S(L)` to beyond any limit as those of the last
//!   module, `v`, do; so `S(L) ≤ U` means that some `v ≥ L` belongs to `U`, and the upper solution is no lower. Where every
//!   current at `L` together drops less than `L`, `S` only rises from `L` on (no slope on the way falls below `1 − drop / L`),
//!   so `S(L) > U` means that there is none. Where they drop more, which no sound rail comes near, the network is solved;
//! - modules of unlike limits: with constant currents the volts that each needs are taken along the way; otherwise the
//!   network is solved, as for modules of unlike kinds of load.

use catalogue::LoadModel as Catalogued;
use units::Ohms;

use super::chains::ROUNDING;
use super::cost::Fine;
use super::draws::limit;
use super::links::Links;
use super::problem::{Gap, Problem};
use super::scheme::Heading;
use crate::circuit::{Ladder, LoadModel, Rung};

/// In place of a link part's index where a stretch has no gap to link.
pub(super) const UNLINKED: u32 = u32::MAX;

/// A stretch of modules that are joined by links of one part.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch {
    /// The module at its far end.
    pub(super) far: u32,
    /// Index of the link part, or [`UNLINKED`].
    pub(super) link: u32,
    /// Cost of its links.
    pub(super) cost: Fine,
    /// Current that its links carry, microamperes.
    pub(super) carries: i64,
    /// Resistance of one channel's conductor and the common's from the near end to the far one, ohms.
    pub(super) loop_ohms: f64,
    /// Volts at the near end with which the chain just lights.
    volts: f64,
    /// Current of one channel then, amperes.
    amps: f64,
    /// Current of one channel with every module at its least volts, amperes.
    worst_amps: f64,
    /// What those currents drop from the near end to the last module, volts.
    worst_drop: f64,
}

/// How loads depend on volts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    /// The volts that a chain needs are known by themselves.
    Straight,
    /// They are while the drop at the least volts stays below these.
    Power,
    /// The network is solved.
    Mixed,
}

/// The stretches of a rail.
pub(super) struct Stretches<'a> {
    problem: &'a Problem,
    pub(super) links: Links,
    kind: Kind,
    /// By module, least volts.
    limits: Vec<f64>,
    /// By near module, a heading each: the shorter first.
    rising: Vec<Vec<Stretch>>,
    falling: Vec<Vec<Stretch>>,
}

impl<'a> Stretches<'a> {
    /// Every stretch that some output may feed; `ends` says, by first module, one past the last of the longest.
    pub(super) fn of(problem: &'a Problem, ends: &[usize]) -> Self {
        let count = problem.modules.len();
        let limits: Vec<f64> = problem.modules.iter().map(|module| limit(problem, module)).collect();
        let (kind, links) = (kind(problem, &limits), Links::of(problem));
        let mut own =
            Self { problem, links, kind, limits, rising: vec![Vec::new(); count], falling: vec![Vec::new(); count] };
        let (mut here, mut next) = (Vec::new(), Vec::new());
        for far in 0..count {
            own.grow(far, Heading::Rising, ends, &mut here, &mut next);
        }
        for far in (0..count).rev() {
            own.grow(far, Heading::Falling, ends, &mut here, &mut next);
        }
        own
    }

    /// Those with a near end at a module, the shorter first.
    pub(super) fn from(&self, near: usize, heading: Heading) -> &[Stretch] {
        match heading {
            Heading::Rising => &self.rising[near],
            Heading::Falling => &self.falling[near],
        }
    }

    /// Whether every module has its least volts behind a feed of so many ohms and a source of so many volts.
    pub(super) fn lights(
        &self,
        stretch: &Stretch,
        near: usize,
        weight: f64,
        source_volts: f64,
        ladder: &mut Ladder,
    ) -> bool {
        if self.kind != Kind::Mixed {
            if stretch.volts + weight * stretch.amps <= source_volts {
                return true;
            }
            let far = stretch.far as usize;
            if self.kind == Kind::Straight || stretch.worst_drop + weight * stretch.worst_amps < self.limits[far] {
                return false;
            }
        }
        self.margin(near, stretch.far as usize, stretch.link, weight, source_volts, ladder)
            .is_some_and(|margin| margin >= -ROUNDING)
    }

    /// Least volts above the limit; `None` where the network has no solution.
    pub(super) fn margin(
        &self,
        near: usize,
        far: usize,
        link: u32,
        weight: f64,
        source_volts: f64,
        ladder: &mut Ladder,
    ) -> Option<f64> {
        let mut rungs: Vec<Rung> = Vec::with_capacity(near.abs_diff(far) + 1);
        let mut here = near;
        loop {
            let section = match rungs.len() {
                0 => weight + self.joint(self.problem.modules[near].through.get() / 2.0),
                _ => self.joint(self.between(if near < far { here - 1 } else { here }, link)?),
            };
            rungs.push(Rung {
                section_ohms: section,
                tap_ohms: 0.0,
                load: load_model(self.problem.modules[here].load),
                least_volts: self.limits[here],
            });
            match here.cmp(&far) {
                std::cmp::Ordering::Less => here += 1,
                std::cmp::Ordering::Greater => here -= 1,
                std::cmp::Ordering::Equal => break,
            }
        }
        ladder.solve(source_volts, &rungs).map(|found| found.least_margin)
    }

    /// Every stretch to a far end, from the shortest on, as long as the next may still be fed.
    fn grow(&mut self, far: usize, heading: Heading, ends: &[usize], here: &mut Vec<Stretch>, next: &mut Vec<Stretch>) {
        here.clear();
        here.push(self.alone(far));
        let mut near = far;
        loop {
            let (first, last) = (near.min(far), near.max(far));
            if here.is_empty() || last >= ends[first] {
                return;
            }
            // Up to here from the middle of the near module; its other half lies before that.
            let half = self.problem.modules[near].through.get() / 2.0;
            let into = match heading {
                Heading::Rising => &mut self.rising[near],
                Heading::Falling => &mut self.falling[near],
            };
            let joint = (1.0 + f64::from(self.problem.channels)) * half;
            into.extend(here.iter().map(|own| Stretch {
                volts: own.volts + joint * own.amps,
                worst_drop: own.worst_drop + joint * own.worst_amps,
                loop_ohms: own.loop_ohms + 2.0 * half,
                ..*own
            }));
            let before = match heading {
                Heading::Rising if near > 0 => near - 1,
                Heading::Falling if near + 1 < self.problem.modules.len() => near + 1,
                Heading::Rising | Heading::Falling => return,
            };
            next.clear();
            for own in here.iter() {
                self.onto(before, before.min(near), own, next);
            }
            std::mem::swap(here, next);
            near = before;
        }
    }

    /// The last module by itself, from its middle to its far end.
    fn alone(&self, far: usize) -> Stretch {
        let module = &self.problem.modules[far];
        let volts = self.limits[far] - ROUNDING;
        Stretch {
            far: far as u32,
            link: UNLINKED,
            cost: 0,
            carries: i64::MAX,
            // The far end lies half a module behind the last load, in both conductors.
            loop_ohms: module.through.get(),
            volts,
            amps: amps_at(module.load, volts),
            worst_amps: amps_at(module.load, self.limits[far]),
            worst_drop: 0.0,
        }
    }

    /// Adds a module before a stretch across a gap, once for each link part that may be there.
    fn onto(&self, module: usize, gap: usize, own: &Stretch, next: &mut Vec<Stretch>) {
        match self.problem.gaps[gap] {
            Gap::Shut => {}
            Gap::Plugged => next.extend(self.between(gap, own.link).map(|ohms| self.behind(module, ohms, *own))),
            Gap::Linked { .. } => {
                for (part, makes) in self.links.makes.iter().enumerate() {
                    let part_index = part as u32;
                    let Some(make) = makes[gap].as_ref().filter(|_| [UNLINKED, part_index].contains(&own.link)) else {
                        continue;
                    };
                    let Some(ohms) = self.between(gap, part_index) else { continue };
                    let linked = Stretch {
                        link: part_index,
                        cost: own.cost + make.cost,
                        carries: own.carries.min(self.links.carries[part]),
                        ..*own
                    };
                    next.push(self.behind(module, ohms, linked));
                }
            }
        }
    }

    /// A stretch with a module before it, so many ohms of each conductor between the middles of the two.
    fn behind(&self, module: usize, ohms: f64, own: Stretch) -> Stretch {
        let section = self.joint(ohms);
        // Where limits are alike the volts here are above those of the last module, and so above the limit.
        let volts = (own.volts + section * own.amps).max(self.limits[module] - ROUNDING);
        let load = self.problem.modules[module].load;
        Stretch {
            volts,
            amps: own.amps + amps_at(load, volts),
            worst_amps: own.worst_amps + amps_at(load, self.limits[module]),
            worst_drop: own.worst_drop + section * own.worst_amps,
            loop_ohms: own.loop_ohms + 2.0 * ohms,
            ..own
        }
    }

    /// Ohms of each conductor from the middle of the module before a gap to the middle of the one behind it.
    fn between(&self, gap: usize, link: u32) -> Option<f64> {
        let modules = &self.problem.modules;
        let halves = (modules[gap].through.get() + modules[gap + 1].through.get()) / 2.0;
        match self.problem.gaps[gap] {
            Gap::Shut => None,
            Gap::Plugged => Some(halves + self.problem.contact.get()),
            Gap::Linked { .. } => Some(halves + self.links.makes.get(link as usize)?[gap].as_ref()?.ohms),
        }
    }

    /// Ohms that a channel's current sees where each conductor has so many: its own, and the common's with all channels.
    fn joint(&self, ohms: f64) -> f64 {
        (1.0 + f64::from(self.problem.channels)) * ohms
    }
}

fn kind(problem: &Problem, limits: &[f64]) -> Kind {
    let one_limit = limits.windows(2).all(|two| two[0] == two[1]);
    let all = |is: fn(&Catalogued) -> bool| problem.modules.iter().all(|module| is(&module.load));
    if all(|load| matches!(load, Catalogued::Current(_))) {
        Kind::Straight
    } else if one_limit && limits.first().is_some_and(|limit| *limit > 2.0 * ROUNDING) {
        match () {
            () if all(|load| matches!(load, Catalogued::Resistance(_))) => Kind::Straight,
            () if all(|load| matches!(load, Catalogued::Power(_))) => Kind::Power,
            () => Kind::Mixed,
        }
    } else {
        Kind::Mixed
    }
}

fn amps_at(load: Catalogued, volts: f64) -> f64 {
    match load {
        Catalogued::Current(amps) => amps.get(),
        Catalogued::Power(watts) => watts.get() / volts,
        Catalogued::Resistance(ohms) => volts / ohms.get().max(LEAST_OHMS),
    }
}

/// A load's least resistance, ohms, so that nothing is divided by none.
const LEAST_OHMS: f64 = 1e-9;

fn load_model(load: Catalogued) -> LoadModel {
    match load {
        Catalogued::Current(amps) => LoadModel::Current(amps),
        Catalogued::Power(watts) => LoadModel::Power(watts),
        Catalogued::Resistance(ohms) => LoadModel::Resistance(ohms.max(Ohms::new(LEAST_OHMS))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::feeds::Costs;
    use crate::series::{Feeding, Module};
    use survey::FeedWish;
    use units::{Amps, Length, Volts, Watts};

    /// Seven modules plugged together; by module its load and its least volts.
    fn row(loads: impl Fn(usize) -> (Catalogued, f64), through: f64) -> Problem {
        let module = |index: usize| {
            let (load, least) = loads(index);
            let start = Length::mm(510 * index as i64);
            Module {
                start,
                end: start + Length::mm(500),
                load,
                through: Ohms::new(through),
                least: Volts::new(least),
                greatest: Volts::new(30.0),
            }
        };
        Problem {
            nominal: Volts::new(24.0),
            drop_permille: 900,
            channels: 1,
            modules: (0..7).map(module).collect(),
            gaps: vec![Gap::Plugged; 6],
            contact: Ohms::new(0.01),
            connector_carries: Amps::new(100.0),
            longest_chain: Length::mm(10_000),
            blocked: vec![],
            ways_in: vec![],
            places: vec![],
            paths: vec![],
            drivers: vec![],
            feeding: Feeding::Plain,
            extensions: vec![],
            luminaire_leads: vec![],
            passes_behind: vec![],
            links: vec![],
            costs: Costs::default(),
            wish: FeedWish::Cheapest,
            locks: vec![],
        }
    }

    /// Source: the network, solved forwards. Small and large drops, loads of one kind and of several, limits alike or not,
    /// so that every way of telling is met, and every verdict with each.
    #[test]
    fn a_chain_lights_where_its_network_says_so() {
        let power = |watts: f64| Catalogued::Power(Watts::new(watts));
        let resistance = |ohms: f64| Catalogued::Resistance(Ohms::new(ohms));
        let current = |amps: f64| Catalogued::Current(Amps::new(amps));
        let same = |_: usize| 9.0;
        let unlike = |index: usize| [9.0, 15.0, 12.0][index % 3];
        let mut verdicts = std::collections::BTreeMap::new();
        for limit in [same as fn(usize) -> f64, unlike] {
            for through in [0.01, 0.1, 0.4, 1.5] {
                for size in [0.05, 0.3, 1.0, 3.0] {
                    let kinds: [&dyn Fn(usize) -> Catalogued; 4] = [
                        &|_| current(size),
                        &|index| power(24.0 * size * (1.0 + index as f64 / 10.0)),
                        &|_| resistance(24.0 / size),
                        &|index| if index % 2 == 0 { power(24.0 * size) } else { current(size) },
                    ];
                    for (number, load) in kinds.into_iter().enumerate() {
                        let problem = row(|index| (load(index), limit(index)), through);
                        let stretches = Stretches::of(&problem, &[7; 7]);
                        for (near, heading) in [(0, Heading::Rising), (4, Heading::Falling)] {
                            for stretch in stretches.from(near, heading) {
                                for (weight, volts) in [(0.0, 24.0), (0.7, 24.0), (2.5, 23.0)] {
                                    let mut ladder = Ladder::default();
                                    let far = stretch.far as usize;
                                    let margin = stretches.margin(near, far, UNLINKED, weight, volts, &mut ladder);
                                    let lights = stretches.lights(stretch, near, weight, volts, &mut ladder);
                                    assert_eq!(
                                        lights,
                                        margin.is_some_and(|margin| margin >= -ROUNDING),
                                        "{number} {size} {through} {near} to {far} behind {weight} at {volts}: {margin:?}"
                                    );
                                    *verdicts.entry((number, stretches.kind as u8, lights)).or_insert(0) += 1;
                                }
                            }
                        }
                    }
                }
            }
        }
        // Four kinds of load; of them current is straight with any limits, and resistance and power with limits alike.
        assert_eq!(verdicts.len(), 12, "{verdicts:?}");
    }
}
