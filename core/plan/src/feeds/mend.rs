//! What the plain scheme would give where it fails on volts, and what the cheapest scheme does otherwise.

use units::Volts;

use super::problem::Problem;
use super::scheme::{Change, Mend, Scheme};
use super::solve::{Prepared, spare};
use super::source::VOLT_ROUNDING;

/// A luminaire that has least to spare over a whole scheme.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Worst {
    pub(super) luminaire: usize,
    /// Volts there, `None` where the network has no solution.
    pub(super) volts: Option<Volts>,
    pub(super) limit: Volts,
    /// Volts above the limit; minus infinity without a solution.
    pub(super) margin: f64,
}

/// The luminaire with least to spare, `None` for an empty scheme.
pub(super) fn worst(problem: &Problem, limits: &[f64], scheme: &Scheme) -> Option<Worst> {
    let mut found: Option<Worst> = None;
    for driver in &scheme.drivers {
        for chain in &driver.chains {
            let here = match spare(problem, limits, driver.driver, chain) {
                Some(spare) => Worst {
                    luminaire: spare.luminaire,
                    volts: Volts::checked(spare.volts),
                    limit: Volts::new(limits[spare.luminaire]),
                    margin: spare.margin,
                },
                // Without a solution the far end of the longer arm is where it shows.
                None => {
                    let luminaire = if chain.left > chain.right { chain.first } else { chain.last };
                    let limit = Volts::new(limits[luminaire]);
                    Worst { luminaire, volts: None, limit, margin: f64::NEG_INFINITY }
                }
            };
            if found.is_none_or(|known| here.margin < known.margin) {
                found = Some(here);
            }
        }
    }
    found
}

/// The same problem with the thinnest leads and running cores alone.
fn plain(problem: &Problem) -> Problem {
    let mut plain = problem.clone();
    let thinnest_lead = problem.leads.iter().map(|lead| lead.area).min();
    let thinnest_run = problem.runs.iter().map(|run| run.area).min();
    for path in &mut plain.paths {
        path.leads.retain(|lead| Some(problem.leads[*lead].area) == thinnest_lead);
    }
    // Running cores keep their indexes; those that are not the thinnest carry nothing and so are never chosen.
    for run in &mut plain.runs {
        if Some(run.area) != thinnest_run {
            run.carries = units::Amps::new(-1.0);
        }
    }
    plain
}

/// The mend, where the plain scheme fails.
pub(super) fn mend(problem: &Problem, limits: &[f64], solution: &Scheme) -> Option<Mend> {
    let regardless = |problem: &Problem| Prepared::of(problem, f64::INFINITY).cheapest();
    // Where the thinnest do not even carry the current, the plain scheme is the cheapest of all with volts left aside.
    let scheme = regardless(&plain(problem)).or_else(|| regardless(problem))?;
    let worst = worst(problem, limits, &scheme)?;
    if worst.margin >= -VOLT_ROUNDING {
        return None;
    }
    Some(Mend {
        luminaire: worst.luminaire,
        volts: worst.volts,
        limit: worst.limit,
        changes: changes(problem, &scheme, solution),
        extra: solution.cost - scheme.cost,
        plain: scheme,
    })
}

/// The same mend compared with another scheme of the rail.
pub(super) fn compared(problem: &Problem, mend: &Mend, solution: &Scheme) -> Mend {
    Mend { changes: changes(problem, &mend.plain, solution), extra: solution.cost - mend.plain.cost, ..mend.clone() }
}

fn changes(problem: &Problem, plain: &Scheme, solution: &Scheme) -> Vec<Change> {
    let chains = |scheme: &Scheme| -> Vec<super::scheme::Chain> {
        scheme.drivers.iter().flat_map(|driver| driver.chains.clone()).collect()
    };
    let (before, after) = (chains(plain), chains(solution));
    let sorted = |mut values: Vec<usize>| {
        values.sort_unstable();
        values
    };
    let thickest = |area: &dyn Fn(&super::scheme::Chain) -> units::SquareMm, chains: &[super::scheme::Chain]| {
        chains.iter().map(area).max()
    };
    let lead = |chain: &super::scheme::Chain| problem.leads[chain.lead].area;
    let run = |chain: &super::scheme::Chain| problem.runs[chain.run].area;
    let ways = |chains: &[super::scheme::Chain]| sorted(chains.iter().map(|chain| chain.way_in).collect());
    let places = |scheme: &Scheme| sorted(scheme.drivers.iter().map(|driver| driver.place).collect());
    let parts = |scheme: &Scheme| sorted(scheme.drivers.iter().map(|driver| driver.driver).collect());
    let all = [
        (thickest(&lead, &after) > thickest(&lead, &before), Change::ThickerLead),
        (thickest(&run, &after) > thickest(&run, &before), Change::ThickerRun),
        (ways(&after) != ways(&before), Change::AnotherFeed),
        (places(solution) != places(plain), Change::AnotherPlace),
        (parts(solution) != parts(plain), Change::AnotherDriver),
    ];
    let mut found: Vec<Change> = all.into_iter().filter(|own| own.0).map(|own| own.1).collect();
    if found.is_empty() {
        // Everything is of the same kind, only cut into other stretches or led another way.
        found.push(Change::AnotherFeed);
    }
    found
}
