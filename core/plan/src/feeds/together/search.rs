//! The cheapest scheme of a group: a floor, then walks under rising ceilings until one finds it.
//!
//! A walk under a ceiling finds the cheapest scheme or proves that none costs so little, which raises the floor. Where
//! walks take long, the floor is raised otherwise first: by better weights for what blocks pay of shared drivers
//! ([`super::weigh`]), then, where rails are walked one after another, by walks from each rail to the last, guided by the
//! floors behind it. Where patience ends, a good scheme is looked for stretch by stretch ([`super::improve`]), and the floor
//! that was proved is told with it.

use super::feeding::Feeding;
use super::group::{Priced, Readied};
use super::improve::improved;
use super::order::Order;
use super::pool::Tally;
use super::walk::{Counted, Ground, Walked, walk};
use super::weigh::raised;
use crate::feeds::bound::BEYOND;
use crate::feeds::charge::WHOLE;
use crate::feeds::lead::Fine;
use crate::feeds::missing::{Kinds, LockFloors};
use crate::feeds::rail::Rail;

/// How many comparisons the walks over all rails of a group may take altogether: a fifth of a second where none is proved.
pub(crate) const PATIENCE: u64 = 600_000;
/// How many a walk may take before the floor is raised otherwise.
const HASTE: u64 = 6_000;
/// Ceilings tried in turn, parts in 1024 of the way from the floor to the best known.
const CEILINGS: [i64; 11] = [0, 1, 4, 16, 32, 64, 128, 256, 512, 768, 1024];
/// The part of the patience that the walks from one rail to the last may take each.
const PART: u64 = 4;
/// Where the floor lies farther below what is known, as a part of that, no walk will prove it.
const HOPELESS: Fine = 32;
/// Ceilings of walks from one rail to the last, parts in 32 of a driver's cost above the floor.
const STEPS: [i64; 8] = [0, 1, 2, 4, 8, 16, 32, 64];
/// Ceilings tried where nothing is known, thousandths above the floor.
const BLIND: [i64; 7] = [0, 5, 20, 60, 150, 500, 2000];

/// What a search found.
pub(super) struct Best {
    /// Least cost found.
    pub(super) cost: Fine,
    /// Proven floor, equal to the cost where the optimum is proved.
    pub(super) floor: Fine,
    /// Its blocks; `None` where nothing is cheaper than what was known before.
    pub(super) feeding: Option<Feeding>,
    /// By rail, a proven floor under its own cost whatever the others do.
    pub(super) alone: Vec<Fine>,
}

/// The cheapest scheme of a group, with what is known to be possible; `None` where no scheme was found.
pub(super) fn search(group: &Readied<'_>, known: Option<Fine>, patience: u64) -> Option<Best> {
    let locks = group.rails.iter().map(Rail::keepers).collect();
    let mut counted = Counted { rooms: Vec::new(), locks };
    let kinds = group.kinds();
    // Where shared drivers are free nothing costs less, whatever the others do.
    let free = group.priced(group.alike(0, 0, 0), &kinds);
    if free.floor() >= BEYOND {
        return None;
    }
    let third = WHOLE / 3;
    let floors = group.priced(group.alike(third, third, third), &kinds);
    let order = Order::of(group);
    let raises = if group.classes.is_empty() { 0 } else { 1 + u32::from(order.by_rail) };
    let mut search =
        Search { group, order: &order, kinds: &kinds, floor: floors.floor(), floors, free: &free, patience, raises };
    let mut best = known.map(|cost| (cost, None));
    loop {
        let upper = best.as_ref().map(|own| own.0);
        if upper.is_some_and(|upper| upper <= search.floor) {
            break;
        }
        let (found, proved) = search.under(&counted, upper);
        let Some((cost, feeding)) = found else {
            if proved {
                // Nothing is cheaper than what is known.
                search.floor = upper.unwrap_or(search.floor);
            }
            break;
        };
        if proved {
            search.floor = search.floor.max(cost);
        }
        if !count_crowded(group, &feeding, &mut counted) {
            best = Some((cost, Some(feeding)));
            break;
        }
    }
    let alone = free.rails.iter().map(LockFloors::whole).collect();
    best.map(|(cost, feeding)| Best { cost, floor: search.floor.min(cost), feeding, alone })
}

/// A search.
pub(super) struct Search<'g, 'p> {
    pub(super) group: &'g Readied<'p>,
    pub(super) order: &'g Order,
    kinds: &'g [Kinds],
    floors: Priced,
    free: &'g Priced,
    /// Comparisons left.
    pub(super) patience: u64,
    /// Proved so far.
    floor: Fine,
    /// How often the floor can still be raised otherwise than by walks over all rails.
    raises: u32,
}

impl<'p> Search<'_, 'p> {
    /// The cheapest scheme below a known cost with this kept count of, and whether it is proved to be that (or, without
    /// one, that there is none).
    fn under(&mut self, counted: &Counted, known: Option<Fine>) -> (Option<(Fine, Feeding)>, bool) {
        let mut known = known;
        let mut good = None;
        let mut next = 0;
        while let Some(ceiling) = self.ceiling(next, known) {
            let most = known.map_or(BEYOND - 1, |known| known - 1);
            let ceiling = ceiling.min(most);
            if self.floor > most {
                break;
            }
            let patience = if self.raises > 0 { HASTE.min(self.patience) } else { self.patience };
            let (walked, left) = walk(&Ground { ceiling, patience, ..self.ground(counted) });
            self.patience -= patience - left;
            match walked {
                Walked::Found(cost, steps) => {
                    return (Some((cost, Feeding::default().with(self.group, &steps))), true);
                }
                Walked::Nothing => (self.floor, next) = (self.floor.max(ceiling + 1), next + 1),
                Walked::TooLong if self.raises > 0 => {
                    self.raise(known, &counted.locks);
                    next = 0;
                    if self.raises > 0 || self.order.by_rail {
                        continue;
                    }
                    good = self.improved(counted, known);
                    known = good.as_ref().map(|own| own.0).or(known);
                    if known.is_some_and(|known| known - self.floor > known / HOPELESS) {
                        return (good, false);
                    }
                }
                Walked::TooLong => return (good.or_else(|| self.improved(counted, known)), false),
            }
        }
        (good, true)
    }

    /// A good scheme that is cheaper than what is known.
    fn improved(&mut self, counted: &Counted, known: Option<Fine>) -> Option<(Fine, Feeding)> {
        improved(self, counted).filter(|own| known.is_none_or(|known| own.0 < known))
    }

    /// A walk over all rails.
    pub(super) fn ground<'s>(&'s self, counted: &'s Counted) -> Ground<'s, 'p> {
        let spans = self.group.rails.iter().map(|prepared| (0, prepared.count() as u32)).collect();
        Ground {
            group: self.group,
            order: self.order,
            floors: &self.floors,
            free: self.free,
            counted,
            ceiling: BEYOND - 1,
            spans,
            start: Tally { rooms: vec![0; counted.rooms.len()], locks: counted.no_locks(), open: Vec::new() },
            suffix: self.order.by_rail.then_some(0),
            patience: PATIENCE,
        }
    }

    /// The ceiling of a walk, by its number since the floor was raised.
    fn ceiling(&self, number: usize, known: Option<Fine>) -> Option<Fine> {
        match known {
            Some(known) => {
                let way = known - 1 - self.floor;
                let parts = CEILINGS.get(number)?;
                Some(if *parts == 1024 { known - 1 } else { self.floor + way / 1024 * parts })
            }
            None if number == BLIND.len() => Some(BEYOND - 1),
            None => Some(self.floor.saturating_add(self.floor / 1000 * BLIND.get(number)?).min(BEYOND - 1)),
        }
    }

    /// Raises the floor: by better weights first, by walks from each rail to the last after that.
    fn raise(&mut self, known: Option<Fine>, locks: &[Vec<Vec<usize>>]) {
        self.raises -= 1;
        if self.raises == u32::from(self.order.by_rail) {
            if let Some(raised) = raised(self.group, &self.floors, self.kinds, known) {
                self.floors = raised;
            }
        } else {
            let counted = Counted { rooms: Vec::new(), locks: locks.to_vec() };
            for rail in (0..self.group.rails.len()).rev() {
                let raised = self.floor_from(rail, &counted);
                self.floors.behind[rail] = raised;
            }
        }
        self.floor = self.floor.max(self.floors.floor());
    }

    /// A floor under the cost of a rail and all behind it, by walks over them where blocks pay their part of what they may
    /// share with rails before (Russian doll search; Verfaillie, Lemaître and Schiex 1996, from memory).
    fn floor_from(&self, rail: usize, counted: &Counted) -> Fine {
        let least = self.floors.rails[rail].whole() + self.floors.behind[rail + 1];
        let dearest = self.group.classes.iter().map(|class| class.dearest).max().unwrap_or(0);
        let mut proved = least;
        let mut patience = self.patience / PART;
        for parts in STEPS {
            let ceiling = least + dearest / 32 * parts;
            let mut ground = Ground { ceiling, patience, suffix: Some(rail), ..self.ground(counted) };
            ground.spans[..rail].fill((0, 0));
            let (walked, left) = walk(&ground);
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

/// Adds places that a scheme fills beyond their room; whether there were any.
fn count_crowded(group: &Readied<'_>, feeding: &Feeding, counted: &mut Counted) -> bool {
    let mut here = vec![0_u32; group.places.len()];
    feeding.standing(group).iter().flatten().for_each(|driver| here[driver.place] += 1);
    let before = counted.rooms.len();
    for (index, (place, here)) in group.places.iter().zip(here).enumerate() {
        let Some(room) = place.room else { continue };
        if here > room && !counted.rooms.iter().any(|own| own.0 == index) {
            counted.rooms.push((index, room.min(254)));
        }
    }
    counted.rooms.len() > before
}
