//! Ways for a control cable: over the measured routes, and along the bore of the zone's own rails.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet, BinaryHeap};

use survey::{Id, Rail, Route, RouteEnd};
use units::Length;

use crate::build::passage::blocked;
use crate::build::supply::{PROPOSED_ROUTE, ways_in};
use crate::document::TubeSpan;

/// Where a control device may stand.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Spot {
    /// A mains point, driver place or way in of the survey.
    End(RouteEnd),
    /// A chainage of a rail.
    OnRail(Id, Length),
    /// The place that is proposed for a driver, by the driver's reference.
    Proposed(String),
}

/// A way between two spots, shorter ones first.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Way {
    /// Its length.
    pub length: Length,
    /// The routes it follows, in order.
    pub routes: Vec<Id>,
    /// The stretches of tube it lies in, in order.
    pub tube: Vec<TubeSpan>,
}

#[derive(Clone, Debug)]
enum Step {
    Route(Id),
    Tube(TubeSpan),
    Nothing,
}

/// Spots and what joins them. A cable never passes a mains point; it may end there.
#[derive(Default)]
pub(crate) struct Graph {
    edges: BTreeMap<Spot, Vec<(Spot, Length, Step)>>,
}

impl Graph {
    /// The routes that are not known to be shut.
    pub(crate) fn of(routes: &[Route]) -> Self {
        let mut graph = Self::default();
        for route in routes.iter().filter(|route| !route.passage.is_blocked() && route.length.value >= Length::ZERO) {
            let (from, to) = (Spot::End(route.from.clone()), Spot::End(route.to.clone()));
            graph.join(from, to, route.length.value, &Step::Route(route.id.clone()));
        }
        graph
    }

    /// Adds the bore of a rail: its ways in and these chainages, joined where nothing shuts the bore between them.
    pub(crate) fn add_rail(&mut self, rail: &Rail, chainages: &[Length]) {
        let entries = ways_in(rail);
        let mut at: Vec<Length> = entries.iter().map(|entry| entry.chainage).chain(chainages.iter().copied()).collect();
        at.sort_unstable();
        at.dedup();
        let spot = |chainage: Length| Spot::OnRail(rail.id.clone(), chainage);
        for entry in &entries {
            let end = RouteEnd::WayIn { rail: rail.id.clone(), feature: entry.id.clone() };
            self.join(Spot::End(end), spot(entry.chainage), Length::ZERO, &Step::Nothing);
        }
        let shut = blocked(rail);
        for pair in at.windows(2) {
            let (from, to) = (pair[0], pair[1]);
            if !shut.iter().any(|shut| shut.from <= to && shut.to >= from) {
                let span = TubeSpan { rail: rail.id.clone(), from, to };
                self.join(spot(from), spot(to), to - from, &Step::Tube(span));
            }
        }
    }

    /// Adds the place that is proposed for a driver, near a way in.
    pub(crate) fn add_proposed(&mut self, driver: &str, rail: &Id, way_in: &Id) {
        let end = RouteEnd::WayIn { rail: rail.clone(), feature: way_in.clone() };
        self.join(Spot::Proposed(driver.to_owned()), Spot::End(end), PROPOSED_ROUTE, &Step::Nothing);
    }

    fn join(&mut self, from: Spot, to: Spot, length: Length, step: &Step) {
        self.edges.entry(from.clone()).or_default().push((to.clone(), length, step.clone()));
        self.edges.entry(to).or_default().push((from, length, step.clone()));
    }

    /// The shortest way from one spot to every spot that can be reached; of equal ones the one with the lower route ids.
    pub(crate) fn ways_from(&self, start: &Spot) -> BTreeMap<Spot, Way> {
        let mut found: BTreeMap<Spot, Way> = BTreeMap::new();
        let mut settled: BTreeSet<&Spot> = BTreeSet::new();
        let mut waiting = BinaryHeap::from([Reverse((Way::default(), start))]);
        while let Some(Reverse((way, spot))) = waiting.pop() {
            if !settled.insert(spot) {
                continue;
            }
            let passes = spot == start || !matches!(spot, Spot::End(RouteEnd::MainsPoint(_)));
            for (next, length, step) in self.edges.get(spot).into_iter().flatten().filter(|_| passes) {
                if !settled.contains(next) {
                    let mut further = way.clone();
                    further.length += *length;
                    further.take(step);
                    waiting.push(Reverse((further, next)));
                }
            }
            found.insert(spot.clone(), way);
        }
        found
    }
}

impl Way {
    fn take(&mut self, step: &Step) {
        match step {
            Step::Nothing => {}
            Step::Route(id) => self.routes.push(id.clone()),
            Step::Tube(span) => match self.tube.last_mut() {
                Some(last) if last.rail == span.rail && last.to == span.from => last.to = span.to,
                Some(last) if last.rail == span.rail && last.from == span.to => last.from = span.from,
                _ => self.tube.push(span.clone()),
            },
        }
    }
}
