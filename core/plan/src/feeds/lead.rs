//! Extension leads for a path: cut from a reel or plugged together from made-up lengths, those that none beats.

use units::Length;

use super::problem::{LeadOption, LeadSupply, MOST_JOINED, Path, Problem};
use super::scheme::LeadPieces;
use super::source::micro_down;
use super::table::BEYOND;

/// Cost in ten-thousandths of the currency times micrometres, so that metres are charged exactly.
pub(crate) type Fine = i64;

/// One amount as a fine cost.
pub(super) const fn fine(amount: units::Money) -> Fine {
    amount.to_ten_thousandths() * 1_000_000
}

/// A metre price over a length as a fine cost.
pub(super) const fn fine_metres(per_metre: units::Money, length: Length) -> Fine {
    per_metre.to_ten_thousandths() * length.to_um()
}

/// One amount as a cost that no price passes, in the same unit.
pub(crate) fn amount(amount: units::Money) -> i128 {
    i128::from(amount.to_ten_thousandths()) * 1_000_000
}

/// A metre price over a length likewise.
pub(crate) fn metres(per_metre: units::Money, length: Length) -> i128 {
    i128::from(per_metre.to_ten_thousandths()) * i128::from(length.to_um())
}

/// Such a cost as a fine one: what is beyond any that is added up counts as impossible.
pub(crate) fn in_range(cost: i128) -> Fine {
    Fine::try_from(cost).unwrap_or(BEYOND).min(BEYOND)
}

/// A fine cost as money, rounded to the nearest ten-thousandth.
pub(crate) fn money(cost: Fine) -> units::Money {
    units::Money::ten_thousandths((cost + 500_000).div_euclid(1_000_000))
}

/// One way to make the lead of a path.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Make {
    /// Index of the path.
    pub(super) path: usize,
    /// Index of the lead part.
    pub(super) lead: usize,
    /// How it is made.
    pub(super) pieces: LeadPieces,
    /// Resistance of one conductor with its connections, ohms.
    pub(super) ohms: f64,
    /// Current that its cores and plugs carry, microamperes.
    pub(super) carries: i64,
    /// Cost with laying, plugs and ends.
    pub(super) cost: Fine,
}

/// A way to make a lead before its pieces are written down.
struct Way {
    path: usize,
    lead: usize,
    /// Which made-up lengths, so many of them; none where it is cut from a reel.
    chosen: [usize; MOST_JOINED],
    count: usize,
    ohms: f64,
    carries: i64,
    cost: Fine,
}

impl Way {
    /// Whether this one is no dearer and in no way weaker.
    fn beats(&self, other: &Self) -> bool {
        self.cost <= other.cost && self.ohms <= other.ohms && self.carries >= other.carries
    }

    fn make(&self, problem: &Problem) -> Make {
        let option = &problem.leads[self.lead];
        let pieces = match &option.supply {
            LeadSupply::Reel { .. } => LeadPieces::Cut(least(&problem.paths[self.path], option)),
            LeadSupply::MadeUp { lengths, .. } => {
                let mut sorted: Vec<Length> = self.chosen[..self.count].iter().map(|piece| lengths[*piece].0).collect();
                sorted.sort_by(|a, b| b.cmp(a));
                LeadPieces::MadeUp(sorted)
            }
        };
        let Self { path, lead, ohms, carries, cost, .. } = *self;
        Make { path, lead, pieces, ohms, carries, cost }
    }
}

/// Every way to make leads for the paths from a place to a way in, cheapest first, beaten ones left out.
pub(super) fn makes(problem: &Problem, place: usize, way_in: usize) -> Vec<Make> {
    let mut all = Vec::new();
    for (index, path) in problem.paths.iter().enumerate() {
        if path.place == place && path.way_in == way_in {
            for lead in &path.leads {
                add_ways(problem, index, path, *lead, &mut all);
            }
        }
    }
    // A stable sort keeps the lowest indexes first among equals.
    all.sort_by(|a: &Way, b| a.cost.cmp(&b.cost).then(a.ohms.total_cmp(&b.ohms)).then(b.carries.cmp(&a.carries)));
    let mut kept: Vec<Way> = Vec::new();
    for way in all {
        if !kept.iter().any(|known| known.beats(&way)) {
            kept.push(way);
        }
    }
    kept.iter().map(|way| way.make(problem)).collect()
}

/// How long the lead of a path is at least.
fn least(path: &Path, option: &LeadOption) -> Length {
    path.length + option.allowance
}

fn add_ways(problem: &Problem, index: usize, path: &Path, lead: usize, all: &mut Vec<Way>) {
    let option = &problem.leads[lead];
    let least = least(path, option);
    let common = fine_metres(problem.costs.lay_per_metre, path.length) + fine(option.ends_cost);
    let ohms = |length: Length| option.ohms_per_m * length.to_m() + option.ends.get();
    let core = micro_down(option.carries.get());
    let way =
        Way { path: index, lead, chosen: [0; MOST_JOINED], count: 0, ohms: ohms(least), carries: core, cost: common };
    match &option.supply {
        LeadSupply::Reel { per_metre } => all.push(Way { cost: common + fine_metres(*per_metre, least), ..way }),
        LeadSupply::MadeUp { lengths, plug, plug_carries, plug_cost } => {
            // Its end plugs are of the same kind as those between.
            let carries = core.min(micro_down(plug_carries.get()));
            // Whether another piece is of no use: it would only make what is long enough dearer.
            let dearer = lengths.iter().all(|own| own.1 > units::Money::ZERO);
            let mut add = |chosen: &[usize; MOST_JOINED], count: usize| {
                let pieces = chosen[..count].iter().map(|piece| lengths[*piece]);
                let (whole, price) = pieces.fold((Length::ZERO, 0), |(whole, price): (Length, Fine), own| {
                    (whole + own.0, price + fine(own.1))
                });
                if whole < least {
                    return false;
                }
                let joints = count as i64 - 1;
                all.push(Way {
                    chosen: *chosen,
                    count,
                    ohms: ohms(whole) + joints as f64 * plug.get(),
                    carries,
                    cost: common + price + fine(*plug_cost) * joints,
                    ..way
                });
                dearer
            };
            let mut chosen = [0; MOST_JOINED];
            each_multiset(lengths.len(), 0, 0, &mut chosen, &mut add);
        }
    }
}

/// Calls `visit` with every choice of 1 to [`MOST_JOINED`] of `count` things and how many they are, order no matter, repeats allowed, but not with
/// those that only add to one of which `visit` says that it is enough.
fn each_multiset(
    count: usize,
    from: usize,
    depth: usize,
    chosen: &mut [usize; MOST_JOINED],
    visit: &mut impl FnMut(&[usize; MOST_JOINED], usize) -> bool,
) {
    for thing in from..count {
        chosen[depth] = thing;
        let is_enough = visit(chosen, depth + 1);
        if !is_enough && depth + 1 < MOST_JOINED {
            each_multiset(count, thing, depth + 1, chosen, visit);
        }
    }
}
