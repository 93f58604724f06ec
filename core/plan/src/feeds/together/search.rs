//! The cheapest scheme of a group: a floor, then walks under rising ceilings until one finds it.
//!
//! A walk under a ceiling finds the cheapest scheme or proves that none costs so little, which raises the floor. Where
//! walks take long, the floor is raised otherwise first: by other weights for what blocks pay of shared drivers, then from
//! the last rail to the first by walks from each to the end, guided by the floors behind it (Russian doll search;
//! Verfaillie, Lemaître and Schiex 1996, from memory). Where patience ends, a quick walk finds a good scheme, and the floor
//! that was proved is told with it.

use super::group::{Priced, Readied};
use super::walk::{Counted, Ground, Step, Walked, walk};
use crate::feeds::bound::BEYOND;
use crate::feeds::charge::Weights;
use crate::feeds::choose::Chosen;
use crate::feeds::lead::Fine;

/// How many comparisons the walks over all rails of a group may take altogether: about a second where none is proved.
/// Twice as many prove longer rows in twice the time.
pub(crate) const PATIENCE: u64 = 4_000_000;
/// How many a walk may take before the floor is raised otherwise.
const HASTE: u64 = 20_000;
/// The part of the patience that the walks from one rail to the last may take.
const PART: u64 = 32;
/// How many partial schemes a quick walk keeps from rail to rail.
const WIDTH: usize = 12;
/// Ceilings tried in turn, parts in 64 of the way from the floor to the best known.
const CEILINGS: [i64; 9] = [0, 1, 2, 4, 8, 16, 32, 48, 64];
/// Ceilings tried where nothing is known, thousandths above the floor.
const BLIND: [i64; 7] = [0, 5, 20, 60, 150, 500, 2000];
/// Ceilings of walks from one rail to the last, parts in 32 of a driver's cost above the floor.
const STEPS: [i64; 8] = [0, 1, 2, 4, 8, 16, 32, 64];

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
    /// By rail, a proven floor under its own cost whatever the others do.
    pub(super) alone: Vec<Fine>,
}

/// The cheapest scheme of a group, with what is known to be possible; `None` where no scheme was found.
pub(super) fn search(group: &Readied<'_>, known: Option<Fine>, patience: u64) -> Option<Best> {
    // Where shared drivers are free nothing costs less, whatever the others do.
    let free = group.priced(Weights::FREE);
    if free.behind[0] >= BEYOND {
        return None;
    }
    let floors = group.priced(TRIED[0]);
    let raises = if group.classes.is_empty() { 0 } else { 2 };
    let mut search = Search { group, floor: floors.behind[0], floors, free: &free, patience, raises };
    let mut best = known.map(|cost| (cost, None));
    let mut counted = Counted { rooms: Vec::new(), locks: vec![Vec::new(); group.rails.len()] };
    loop {
        let upper = best.as_ref().map(|own| own.0);
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
            best = Some((cost, Some(steps)));
            break;
        }
    }
    let alone = free.rails.iter().map(|own| own.rest[0]).collect();
    best.map(|(cost, steps)| Best { cost, floor: search.floor.min(cost), steps, alone })
}

struct Search<'g, 'p> {
    group: &'g Readied<'p>,
    floors: Priced,
    free: &'g Priced,
    /// Comparisons left.
    patience: u64,
    /// Proved so far.
    floor: Fine,
    /// How often the floor can still be raised otherwise than by walks over all rails.
    raises: u32,
}

impl<'p> Search<'_, 'p> {
    /// The cheapest scheme below a known cost with this kept count of, and whether it is proved to be that (or, without
    /// one, that there is none).
    fn under(&mut self, counted: &Counted, known: Option<Fine>) -> (Option<(Fine, Vec<Step>)>, bool) {
        let most = known.map_or(BEYOND - 1, |known| known - 1);
        let mut next = 0;
        while let Some(ceiling) = self.ceiling(next, known) {
            let ceiling = ceiling.min(most);
            let patience = if self.raises > 0 { HASTE.min(self.patience) } else { self.patience };
            let (walked, left) = walk(&Ground { ceiling, patience, ..self.ground(counted) });
            self.patience -= patience - left;
            match walked {
                Walked::Found(cost, steps) => return (Some((cost, steps)), true),
                Walked::Nothing => (self.floor, next) = (self.floor.max(ceiling + 1), next + 1),
                Walked::TooLong if self.raises > 0 => {
                    self.raises -= 1;
                    self.raise();
                    next = 0;
                }
                Walked::TooLong => {
                    let quick = Ground { width: Some(WIDTH), ceiling: most, ..self.ground(counted) };
                    let found = match walk(&quick).0 {
                        Walked::Found(cost, steps) => Some((cost, steps)),
                        Walked::Nothing | Walked::TooLong => None,
                    };
                    return (found, false);
                }
            }
            if self.floor > most {
                break;
            }
        }
        (None, true)
    }

    /// A walk over all rails.
    fn ground<'s>(&'s self, counted: &'s Counted) -> Ground<'s, 'p> {
        Ground {
            group: self.group,
            rails: 0..self.group.rails.len(),
            floors: &self.floors,
            free: self.free,
            counted,
            ceiling: BEYOND - 1,
            width: None,
            patience: PATIENCE,
        }
    }

    /// The ceiling of a walk, by its number since the floor was raised.
    fn ceiling(&self, number: usize, known: Option<Fine>) -> Option<Fine> {
        match known {
            Some(known) => {
                let way = known - 1 - self.floor;
                let parts = CEILINGS.get(number)?;
                Some(if *parts == 64 { known - 1 } else { self.floor + way / 64 * parts })
            }
            None if number == BLIND.len() => Some(BEYOND - 1),
            None => Some(self.floor.saturating_add(self.floor / 1000 * BLIND.get(number)?).min(BEYOND - 1)),
        }
    }

    /// Raises the floor: by other weights first, by walks from each rail to the last after that.
    fn raise(&mut self) {
        if self.raises > 0 {
            for tried in &TRIED[1..] {
                let found = self.group.priced(*tried);
                if found.behind[0] > self.floors.behind[0] {
                    self.floors = found;
                }
            }
        } else {
            for rail in (0..self.group.rails.len()).rev() {
                let raised = self.floor_from(rail);
                self.floors.behind[rail] = raised;
            }
        }
        self.floor = self.floor.max(self.floors.behind[0]);
    }

    /// A floor under the cost of a rail and all behind it, by walks over them where blocks pay their part of what they may
    /// share with rails before.
    fn floor_from(&self, rail: usize) -> Fine {
        let counted = Counted { rooms: Vec::new(), locks: vec![Vec::new(); self.group.rails.len()] };
        let least = self.floors.rails[rail].rest[0] + self.floors.behind[rail + 1];
        let dearest = self.group.classes.iter().map(|class| class.dearest).max().unwrap_or(0);
        let mut proved = least;
        let mut patience = self.patience / PART;
        for parts in STEPS {
            let ceiling = least + dearest / 32 * parts;
            let ground = self.ground(&counted);
            let rails = rail..ground.rails.end;
            let (walked, left) = walk(&Ground { rails, ceiling, patience, ..ground });
            patience = left;
            match walked {
                Walked::Found(bound, _) => return bound.max(proved),
                Walked::Nothing => proved = ceiling + 1,
                Walked::TooLong => break,
            }
        }
        proved
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
