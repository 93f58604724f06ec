//! Feeds of modules against every scheme there is, on random small rails.

mod series_support;

use plan::feeds::Place;
use plan::series::{Gap, Outcome, Path, Problem, solve};
use proptest::prelude::*;
use series_support::random::{draws, problem};
use series_support::{brute, mm, row, shut};
use units::{Amps, Money, Volts};

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, max_shrink_iters: 300, ..ProptestConfig::default() })]

    #[test]
    fn the_cheapest_scheme_is_the_cheapest_of_all(draw in draws()) {
        let problem = problem(&draw);
        let found = solve(&problem);
        match (brute::cheapest(&problem), &found) {
            (Some(cost), Outcome::Solved(scheme)) => {
                let rounded = Money::ten_thousandths(i64::try_from((cost + 500_000).div_euclid(1_000_000)).unwrap());
                prop_assert_eq!(scheme.cost, rounded, "{:#?}", scheme);
            }
            (None, Outcome::Infeasible(_)) => {}
            (cost, found) => prop_assert!(false, "every scheme: {:?}, ours: {:#?}", cost, found),
        }
    }

    #[test]
    fn a_relaxed_constraint_never_costs_more(draw in draws()) {
        let problem = problem(&draw);
        let Outcome::Solved(scheme) = solve(&problem) else { return Ok(()) };
        let mut free = problem.clone();
        // With constant power a lower limit of voltage lets a luminaire draw more, which is reckoned against the leads.
        if draw.load != 1 {
            free.drop_permille = 100;
        }
        free.longest_chain = free.longest_chain * 2;
        free.blocked.clear();
        free.passes_behind = vec![true, true];
        free.locks.clear();
        let relaxed = solve(&free);
        let Outcome::Solved(relaxed) = relaxed else { panic!("a free problem has a scheme") };
        prop_assert!(relaxed.cost <= scheme.cost);
    }
}

#[test]
fn a_driver_with_two_outputs_feeds_one_chain_each_way_from_the_middle() {
    // Twelve short modules at 0.25 A and a way in between the sixth and the seventh: 3 A in all, 1.5 A each way.
    let mut problem = row(12, 0.25);
    problem.gaps[5] = Gap::Linked { length: mm(104) };
    for module in &mut problem.modules[6..] {
        module.start += mm(100);
        module.end += mm(100);
    }
    problem.ways_in[0].chainage = mm(100 + 504 * 6 + 46);
    let Outcome::Solved(scheme) = solve(&problem) else { panic!("feasible") };
    assert_eq!(scheme.drivers.len(), 1);
    // One chain of 6 m would need a lead back to its end: two chains are cheaper, unless a link is.
    problem.longest_chain = mm(3_000);
    let Outcome::Solved(scheme) = solve(&problem) else { panic!("feasible") };
    let chains = &scheme.drivers[0].chains;
    use plan::series::Heading::{Falling, Rising};
    assert_eq!(
        chains.iter().map(|c| (c.first, c.last, c.heading)).collect::<Vec<_>>(),
        [(0, 5, Falling), (6, 11, Rising)]
    );
}

#[test]
fn what_would_help_is_said() {
    use plan::series::Relief;
    let reliefs = |problem: &Problem| match solve(problem) {
        Outcome::Solved(scheme) => panic!("{scheme:#?}"),
        Outcome::Infeasible(why) => why.reliefs,
    };
    let base = row(4, 0.5);
    assert_eq!(reliefs(&Problem { paths: vec![], ..base.clone() })[0], Relief::Place);
    assert_eq!(
        reliefs(&Problem {
            drivers: vec![],
            places: vec![Place { fits: vec![], ..base.places[0].clone() }],
            ..base.clone()
        }),
        [Relief::Driver]
    );
    let no_lead =
        |e: Vec<usize>, l: Vec<usize>| vec![Path { extensions: e, luminaire_leads: l, ..base.paths[0].clone() }];
    assert_eq!(reliefs(&Problem { paths: no_lead(vec![], vec![0]), ..base.clone() }), [Relief::Extension]);
    assert_eq!(reliefs(&Problem { paths: no_lead(vec![0], vec![]), ..base.clone() }), [Relief::LuminaireLead]);
    assert!(reliefs(&Problem { longest_chain: mm(400), ..base.clone() }).contains(&Relief::LongestChain));
    assert!(reliefs(&Problem { drop_permille: 0, ..base.clone() }).contains(&Relief::Volts));
    assert!(reliefs(&Problem { connector_carries: Amps::new(4.5), ..base.clone() }).contains(&Relief::Short));
    assert!(reliefs(&Problem { blocked: vec![shut(60, 90)], ..base.clone() }).contains(&Relief::Bore));
    let mut room = base.clone();
    room.places[0].room = Some(0);
    assert_eq!(reliefs(&room), [Relief::Room]);
    let Outcome::Infeasible(why) = solve(&Problem { drop_permille: 0, ..base }) else { panic!("no drop is allowed") };
    let margin = why.best_effort.expect("it lights, too low").drivers[0].chains[0].margin.expect("solved");
    assert!(margin < Volts::ZERO);
}
