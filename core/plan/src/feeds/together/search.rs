//! The cheapest scheme of a group: a floor, a quick scheme, then walks under ceilings between the two until they meet.

use super::group::Readied;
use super::walk::{Counted, Ground, Step, Walked, walk};
use crate::feeds::bound::{BEYOND, Floors};
use crate::feeds::charge::Weights;
use crate::feeds::choose::Chosen;
use crate::feeds::lead::Fine;
use crate::feeds::side_by_side;

/// How many comparisons the walks of one group may take altogether.
pub(super) const PATIENCE: u64 = 40_000_000;
/// How many partial schemes the quick scheme keeps for each luminaire and table.
const WIDTH: usize = 6;
/// Ceilings tried in turn, parts in 64 of the way from the floor to the best known.
const CEILINGS: [i64; 8] = [0, 1, 2, 4, 8, 16, 32, 48];
/// Ceilings tried where nothing is known, thousandths above the floor.
const BLIND: [i64; 6] = [0, 10, 40, 150, 500, 2000];

/// Weights tried for what blocks pay of shared drivers, see [`crate::feeds::charge`].
const TRIED: [Weights; 7] = [
    Weights { block: 0, chain: 1000, power: 0 },
    Weights { block: 1000, chain: 0, power: 0 },
    Weights { block: 0, chain: 0, power: 1000 },
    Weights { block: 0, chain: 500, power: 500 },
    Weights { block: 500, chain: 0, power: 500 },
    Weights { block: 500, chain: 500, power: 0 },
    Weights { block: 300, chain: 300, power: 400 },
];

/// What a search found.
pub(super) struct Best {
    /// Least cost found.
    pub(super) cost: Fine,
    /// Proven floor, equal to the cost where the optimum is proved.
    pub(super) floor: Fine,
    /// Its chains; `None` where nothing is cheaper than what was known before.
    pub(super) steps: Option<Vec<Step>>,
}

/// The cheapest scheme of a group, with what is known to be possible; `None` where no scheme was found.
pub(super) fn search(group: &Readied<'_>, known: Option<Fine>, patience: u64) -> Option<Best> {
    let rails = group.rails.len();
    let (weights, floors) = priced(group, known);
    let root: Fine = floors.iter().map(|own| own.rest[0].min(BEYOND)).fold(0, Fine::saturating_add);
    if floors.iter().any(|own| own.rest[0] >= BEYOND) {
        return None;
    }
    let free = free_floors(group);
    let mut search = Search { group, weights, floors, free: &free, patience, floor: root };
    let mut best = known.map(|cost| Best { cost, floor: root, steps: None });
    let mut counted = Counted { rooms: Vec::new(), locks: vec![Vec::new(); rails] };
    loop {
        let upper = best.as_ref().map(|own| own.cost);
        if upper.is_some_and(|upper| upper <= search.floor) {
            break;
        }
        let (found, proved) = search.under(&counted, upper);
        let Some((cost, steps)) = found else {
            if proved {
                // Nothing is cheaper than what is known.
                search.floor = upper.unwrap_or(search.floor);
            }
            break;
        };
        if proved {
            search.floor = search.floor.max(cost);
        }
        if !count_broken(group, &steps, &mut counted) {
            best = Some(Best { cost, floor: search.floor, steps: Some(steps) });
            break;
        }
    }
    best.map(|own| Best { floor: search.floor.min(own.cost), ..own })
}

/// Floors under the cost of each rail whatever the others do: drivers that they may share are free.
fn free_floors(group: &Readied<'_>) -> Vec<Floors> {
    let weights = vec![Weights::FREE; group.classes.len()];
    let rails: Vec<usize> = (0..group.rails.len()).collect();
    side_by_side::each(&rails, |rail| group.floors(*rail, &weights))
}

/// The weights with the highest floor, and the floors.
fn priced(group: &Readied<'_>, known: Option<Fine>) -> (Vec<Weights>, Vec<Floors>) {
    let rails: Vec<usize> = (0..group.rails.len()).collect();
    let floors = |weights: &[Weights]| side_by_side::each(&rails, |rail| group.floors(*rail, weights));
    let sum = |floors: &[Floors]| floors.iter().map(|own| own.rest[0]).fold(0, Fine::saturating_add);
    let reached = |sum: Fine| known.is_some_and(|known| sum >= known);
    let mut weights = vec![TRIED[0]; group.classes.len()];
    let mut best = floors(&weights);
    for tried in &TRIED[1..] {
        if reached(sum(&best)) || group.classes.is_empty() {
            return (weights, best);
        }
        let others = vec![*tried; group.classes.len()];
        let found = floors(&others);
        if sum(&found) > sum(&best) {
            (weights, best) = (others, found);
        }
    }
    // Class by class from there.
    for class in 0..group.classes.len() {
        for tried in TRIED {
            if reached(sum(&best)) {
                return (weights, best);
            }
            if weights[class] == tried {
                continue;
            }
            let mut others = weights.clone();
            others[class] = tried;
            let own: Vec<(usize, Floors)> =
                group.classes[class].rails.iter().map(|rail| (rail.0, group.floors(rail.0, &others))).collect();
            let gain: Fine = own.iter().map(|(rail, floors)| floors.rest[0] - best[*rail].rest[0]).sum();
            if gain > 0 {
                weights = others;
                own.into_iter().for_each(|(rail, floors)| best[rail] = floors);
            }
        }
    }
    (weights, best)
}

struct Search<'g, 'p> {
    group: &'g Readied<'p>,
    weights: Vec<Weights>,
    floors: Vec<Floors>,
    free: &'g [Floors],
    patience: u64,
    /// Proved so far.
    floor: Fine,
}

impl Search<'_, '_> {
    /// The cheapest scheme below a known cost with this kept count of, and whether it is proved to be that (or, without
    /// one, that there is none).
    fn under(&mut self, counted: &Counted, known: Option<Fine>) -> (Option<(Fine, Vec<Step>)>, bool) {
        let mut best = None;
        let mut upper = known;
        let most = known.map_or(BEYOND - 1, |known| known - 1);
        if let Walked::Found(cost, steps) = self.walk(counted, most, Some(WIDTH)) {
            (best, upper) = (Some((cost, steps)), Some(cost));
        }
        let ceilings: Vec<Fine> = match upper {
            Some(upper) => {
                let way = upper - 1 - self.floor;
                CEILINGS.iter().map(|parts| self.floor + way / 64 * parts).chain([upper - 1]).collect()
            }
            None => {
                let above = |parts: &i64| self.floor.saturating_add(self.floor / 1000 * parts).min(BEYOND - 1);
                BLIND.iter().map(above).chain([BEYOND - 1]).collect()
            }
        };
        for ceiling in ceilings {
            if ceiling < self.floor {
                continue;
            }
            match self.walk(counted, ceiling, None) {
                Walked::Found(cost, steps) => return (Some((cost, steps)), true),
                Walked::Nothing => self.floor = ceiling + 1,
                Walked::TooLong => return (best, false),
            }
        }
        (best, true)
    }

    fn walk(&mut self, counted: &Counted, ceiling: Fine, width: Option<usize>) -> Walked {
        let ground = Ground {
            group: self.group,
            weights: &self.weights,
            floors: &self.floors,
            free: self.free,
            counted,
            ceiling,
            width,
            patience: if width.is_some() { PATIENCE } else { self.patience },
        };
        let (walked, left) = walk(&ground);
        if width.is_none() {
            self.patience = left;
        }
        walked
    }
}

/// Adds places that a scheme fills beyond their room, and locks that it does not keep; whether there were any.
fn count_broken(group: &Readied<'_>, steps: &[Step], counted: &mut Counted) -> bool {
    let mut broken = false;
    let mut here = vec![0_u32; group.places.len()];
    for (rail, prepared) in group.rails.iter().enumerate() {
        let own = steps.iter().filter(|step| step.rail == rail);
        let chosen: Vec<Chosen> = own.clone().map(|step| step.chosen).collect();
        for step in own.filter(|step| step.chosen.starts && step.taken.is_none()) {
            here[group.place_of[rail][prepared.stands[step.chosen.stand].place]] += 1;
        }
        if counted.locks[rail].is_empty() && !prepared.keeps_locks(&chosen) {
            counted.locks[rail] = prepared.keepers();
            broken = true;
        }
    }
    for (index, (place, here)) in group.places.iter().zip(here).enumerate() {
        let Some(room) = place.room else { continue };
        if here > room && !counted.rooms.iter().any(|own| own.0 == index) {
            counted.rooms.push((index, room.min(254)));
            broken = true;
        }
    }
    broken
}
