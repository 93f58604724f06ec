//! Random small groups of rails that share places and parts.

use plan::feeds::*;
use survey::DriverLock;
use units::{Length, Money, Watts};

use super::Dice;
use super::rails::{self, id};

/// Lengths in whole centimetres, so that every cost is a whole number of ten-thousandths and sums are exact.
fn centimetres(length: Length) -> Length {
    Length::mm(length.to_um() / 10_000 * 10)
}

fn even(problem: &mut Problem) {
    problem.luminaires.iter_mut().for_each(|own| own.chainage = centimetres(own.chainage));
    problem.ways_in.iter_mut().for_each(|own| own.chainage = centimetres(own.chainage));
    problem.paths.iter_mut().for_each(|own| own.length = centimetres(own.length));
    for place in &mut problem.places {
        if let Mains::Route { length, .. } = &mut place.mains {
            *length = centimetres(*length);
        }
    }
}

/// Two or three rails of up to `most` luminaires that share up to two places and their parts.
pub fn random(seed: u64, most: i64) -> Vec<Problem> {
    let mut dice = Dice::new(seed ^ 0x5EED);
    let dice = &mut dice;
    let count = dice.pick(&[2, 2, 3]);
    // A rail that gives the parts and the places to all.
    let mut first = rails::random(seed * 8, most);
    first.places.truncate(2);
    first.drivers.truncate(2);
    for driver in &mut first.drivers {
        driver.outputs = dice.pick(&[1, 2, 2, 2, 3, 4]);
        driver.rated = Watts::new(dice.between(20, 120) as f64);
        driver.price = Money::ten_thousandths(dice.between(2_000, 9_000) * 100);
    }
    for place in &mut first.places {
        place.fits = (0..first.drivers.len())
            .filter(|_| dice.chance(90))
            .map(|driver| Fit { driver, share: 1.0, enclosure: Money::ZERO })
            .collect();
        place.room = if dice.chance(45) { Some(dice.pick(&[1, 1, 2, 3])) } else { None };
    }
    (0..count as u64)
        .map(|index| {
            let mut rail = rails::random(seed * 8 + 1 + index, most);
            let own_place = rail.places.first().cloned();
            (rail.drivers, rail.places, rail.costs) = (first.drivers.clone(), first.places.clone(), first.costs);
            if dice.chance(25) {
                rail.places.truncate(1);
            }
            if let (Some(mut own), true) = (own_place, dice.chance(30)) {
                own.id = id(&format!("own{index}"));
                own.fits.retain(|fit| fit.driver < rail.drivers.len());
                rail.places.insert(0, own);
            }
            for place in &mut rail.places {
                for fit in &mut place.fits {
                    if dice.chance(20) {
                        fit.share = dice.pick(&[0.5, 0.75, 0.9]);
                    }
                    if dice.chance(20) {
                        fit.enclosure = Money::ten_thousandths(dice.between(0, 2000) * 100);
                    }
                }
            }
            rail.paths.clear();
            for place in 0..rail.places.len() {
                for way_in in 0..rail.ways_in.len() {
                    if dice.chance(85) {
                        rail.paths.push(Path {
                            place,
                            way_in,
                            length: Length::mm(dice.between(0, 12_000)),
                            routes: Vec::new(),
                            leads: (0..rail.leads.len()).collect(),
                        });
                    }
                }
            }
            rail.locks = (0..dice.pick(&[0, 0, 0, 0, 1, 2]))
                .map(|_| DriverLock {
                    place: rail.places[dice.between(0, rail.places.len() as i64 - 1) as usize].id.clone(),
                    part: dice
                        .chance(50)
                        .then(|| rail.drivers[dice.between(0, rail.drivers.len() as i64 - 1) as usize].part.clone()),
                })
                .collect();
            even(&mut rail);
            rail
        })
        .collect()
}
