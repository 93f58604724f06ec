//! Shortest ways for a cable over the measured routes.

use std::collections::{BTreeMap, BTreeSet, BinaryHeap};

use std::cmp::Reverse;

use survey::{Id, Route, RouteEnd};
use units::Length;

/// The routes of a site as a graph: mains points, driver places and ways in are its nodes.
///
/// A cable may follow several routes that meet at a way in or a driver place; it ends at a mains point and never passes
/// one, so that no extra-low-voltage lead is drawn through a mains enclosure. A route known to be shut is no edge; one
/// that is only taken for open is, and holds the drilling papers back. A route runs either way.
pub(crate) struct Network<'a> {
    edges: BTreeMap<&'a RouteEnd, Vec<(&'a Route, &'a RouteEnd)>>,
}

/// A way along one or more routes.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Way {
    /// Length along all of them.
    pub length: Length,
    /// The routes in the order they are followed from where the way starts.
    pub routes: Vec<Id>,
}

impl<'a> Network<'a> {
    /// The graph of these routes.
    pub(crate) fn of(routes: &'a [Route]) -> Self {
        let mut edges: BTreeMap<&RouteEnd, Vec<(&Route, &RouteEnd)>> = BTreeMap::new();
        for route in routes.iter().filter(|route| !route.passage.is_blocked() && route.length.value >= Length::ZERO) {
            edges.entry(&route.from).or_default().push((route, &route.to));
            edges.entry(&route.to).or_default().push((route, &route.from));
        }
        Self { edges }
    }

    /// The shortest way from one node to every node that routes reach. Of two ways of the same length the one with the
    /// lower route ids wins, so that the answer does not depend on any order.
    pub(crate) fn ways_from(&self, start: &'a RouteEnd) -> BTreeMap<&'a RouteEnd, Way> {
        let mut found: BTreeMap<&RouteEnd, Way> = BTreeMap::new();
        let mut settled = BTreeSet::new();
        let mut waiting = BinaryHeap::from([Reverse((Way { length: Length::ZERO, routes: Vec::new() }, start))]);
        while let Some(Reverse((way, node))) = waiting.pop() {
            if !settled.insert(node) {
                continue;
            }
            let passes = node == start || !matches!(node, RouteEnd::MainsPoint(_));
            for (route, next) in self.edges.get(node).into_iter().flatten().filter(|_| passes) {
                if !settled.contains(next) {
                    let mut routes = way.routes.clone();
                    routes.push(route.id.clone());
                    waiting.push(Reverse((Way { length: way.length + route.length.value, routes }, *next)));
                }
            }
            found.insert(node, way);
        }
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use survey::{Measurement, Passage, RouteKind};

    fn id(text: &str) -> Id {
        Id::new(text).unwrap()
    }

    fn route(name: &str, from: &str, to: &str, mm: i64) -> Route {
        Route {
            id: id(name),
            label: String::new(),
            from: RouteEnd::DriverPlace(id(from)),
            to: RouteEnd::DriverPlace(id(to)),
            length: Measurement::taped(Length::mm(mm)),
            kind: RouteKind::Surface,
            clear: None,
            passage: Passage::Unknown,
            corners: vec![],
            obstacles: vec![],
            note: String::new(),
        }
    }

    #[test]
    fn the_shortest_way_may_follow_several_routes_and_ties_go_by_id() {
        let routes = [
            route("direct", "a", "c", 5_000),
            route("r2", "b", "c", 2_000),
            route("r1", "b", "a", 2_000),
            route("r3", "c", "b", 2_000),
        ];
        let network = Network::of(&routes);
        let start = RouteEnd::DriverPlace(id("a"));
        let ways = network.ways_from(&start);
        let way = &ways[&RouteEnd::DriverPlace(id("c"))];
        assert_eq!(way.length, Length::mm(4_000));
        assert_eq!(way.routes, [id("r1"), id("r2")]);
    }

    #[test]
    fn no_way_leads_through_a_mains_point() {
        let mut routes = [route("r1", "a", "b", 1_000), route("r2", "b", "c", 1_000)];
        let mains = RouteEnd::MainsPoint(id("b"));
        (routes[0].to, routes[1].from) = (mains.clone(), mains.clone());
        let start = RouteEnd::DriverPlace(id("a"));
        let network = Network::of(&routes);
        let ways = network.ways_from(&start);
        assert!(ways.contains_key(&mains));
        assert!(!ways.contains_key(&RouteEnd::DriverPlace(id("c"))));
    }

    #[test]
    fn a_shut_route_is_no_way() {
        let mut shut = route("shut", "a", "b", 1);
        shut.passage = Passage::Blocked { how: survey::Proof::Seen };
        let routes = [shut];
        let start = RouteEnd::DriverPlace(id("a"));
        assert_eq!(Network::of(&routes).ways_from(&start).len(), 1);
    }
}
