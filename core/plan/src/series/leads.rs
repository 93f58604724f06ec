//! Ways to make a lead of a length from one part: cut from a reel, or made-up lengths plugged together.

use units::Length;

use super::cost::{Fine, fine, metres, micro_down};
use crate::feeds::{LeadOption, LeadPieces, LeadSupply, MOST_JOINED};

/// A part with more made-up lengths than this is only used singly, not plugged together.
const MOST_LENGTHS_TO_JOIN: usize = 24;

/// One way to make a lead.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Make {
    /// Which made-up lengths, by their place among a [`Maker`]'s; of no matter where it is cut from a reel.
    pub(super) combination: u32,
    /// Resistance of one conductor with its connections, ohms.
    pub(super) ohms: f64,
    /// Cost of material and ends.
    pub(super) cost: Fine,
}

/// A part with everything that does not depend on the length.
#[derive(Clone, Debug)]
pub(super) struct Maker<'a> {
    option: &'a LeadOption,
    /// Made-up lengths of each combination, the longest first.
    combinations: Vec<Vec<Length>>,
    /// By least length, ascending: every combination as long that no other as long beats in both cost and resistance, the
    /// cheapest first.
    unbeaten: Vec<(Length, Vec<Make>)>,
    /// Current that cores and plugs carry, microamperes.
    pub(super) carries: i64,
}

impl<'a> Maker<'a> {
    pub(super) fn of(option: &'a LeadOption) -> Self {
        let mut carries = micro_down(option.carries.get());
        let (mut combinations, mut made) = (Vec::new(), Vec::new());
        if let LeadSupply::MadeUp { lengths, plug, plug_carries, plug_cost } = &option.supply {
            carries = carries.min(micro_down(plug_carries.get()));
            let most = if lengths.len() > MOST_LENGTHS_TO_JOIN { 1 } else { MOST_JOINED };
            join(lengths.len(), 0, most, &mut Vec::new(), &mut |chosen| {
                let mut pieces: Vec<Length> = chosen.iter().map(|index| lengths[*index].0).collect();
                pieces.sort_by(|a, b| b.cmp(a));
                let whole: Length = pieces.iter().copied().sum();
                let price: Fine = chosen.iter().map(|index| fine(lengths[*index].1)).sum();
                let joints = pieces.len() - 1;
                let make = Make {
                    combination: combinations.len() as u32,
                    ohms: ohms(option, whole) + joints as f64 * plug.get(),
                    cost: fine(option.ends_cost) + price + fine(*plug_cost) * joints as Fine,
                };
                combinations.push(pieces);
                if make.ohms.is_finite() {
                    made.push((whole, make));
                }
            });
        }
        Self { option, combinations, unbeaten: unbeaten(made), carries }
    }

    /// Every way to make a lead for a way of this length that no other way beats in both cost and resistance, the cheapest
    /// first.
    pub(super) fn makes(&self, way: Length) -> impl Iterator<Item = Make> + '_ {
        let least = way + self.option.allowance;
        let (cut, made) = match &self.option.supply {
            LeadSupply::Reel { per_metre } => {
                let cost = fine(self.option.ends_cost) + metres(*per_metre, least);
                (Some(Make { combination: 0, ohms: ohms(self.option, least), cost }), &[][..])
            }
            LeadSupply::MadeUp { .. } => {
                let at = self.unbeaten.partition_point(|(whole, _)| *whole < least);
                (None, self.unbeaten.get(at).map_or(&[][..], |found| &found.1))
            }
        };
        cut.into_iter().filter(|make| make.ohms.is_finite()).chain(made.iter().copied())
    }

    /// What a lead for a way of this length consists of.
    pub(super) fn pieces(&self, way: Length, make: u32) -> LeadPieces {
        match self.combinations.get(make as usize) {
            Some(pieces) => LeadPieces::MadeUp(pieces.clone()),
            None => LeadPieces::Cut(way + self.option.allowance),
        }
    }
}

/// Resistance of one conductor of so much lead with its ends, ohms.
fn ohms(option: &LeadOption, length: Length) -> f64 {
    option.ohms_per_m * length.to_m() + option.ends.get()
}

/// By least length, ascending, what is as long and not beaten in both cost and resistance; lengths at which nothing
/// changes are left out.
fn unbeaten(mut made: Vec<(Length, Make)>) -> Vec<(Length, Vec<Make>)> {
    made.sort_by_key(|own| (std::cmp::Reverse(own.0), own.1.combination));
    let mut steps: Vec<(Length, Vec<Make>)> = Vec::new();
    let mut kept: Vec<Make> = Vec::new();
    for (whole, make) in made {
        if kept.iter().any(|known| known.cost <= make.cost && known.ohms <= make.ohms) {
            continue;
        }
        kept.retain(|known| known.cost < make.cost || known.ohms < make.ohms);
        kept.insert(kept.partition_point(|known| known.cost < make.cost), make);
        match steps.last_mut() {
            Some(last) if last.0 == whole => last.1.clone_from(&kept),
            _ => steps.push((whole, kept.clone())),
        }
    }
    steps.reverse();
    steps
}

/// Visits every choice of 1 to `most` of `count` things, order no matter, repeats allowed.
fn join(count: usize, from: usize, most: usize, chosen: &mut Vec<usize>, visit: &mut impl FnMut(&[usize])) {
    for thing in from..count {
        chosen.push(thing);
        visit(chosen);
        if chosen.len() < most {
            join(count, thing, most, chosen, visit);
        }
        chosen.pop();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use units::{Amps, Money, Ohms, SquareMm};

    fn lead(supply: LeadSupply) -> LeadOption {
        LeadOption {
            part: "L".into(),
            area: SquareMm::new(1.0),
            ohms_per_m: 0.02,
            carries: Amps::new(8.0),
            supply,
            allowance: Length::mm(200),
            ends: Ohms::new(0.01),
            ends_cost: Money::ZERO,
        }
    }

    #[test]
    fn the_cheapest_length_that_reaches_comes_first_and_less_resistance_after_it() {
        let unit = |price: i64| Money::ten_thousandths(price * 10_000);
        let option = lead(LeadSupply::MadeUp {
            lengths: vec![(Length::mm(5_000), unit(5)), (Length::mm(10_000), unit(6)), (Length::mm(3_000), unit(9))],
            plug: Ohms::new(0.004),
            plug_carries: Amps::new(4.0),
            plug_cost: Money::ZERO,
        });
        let maker = Maker::of(&option);
        assert_eq!(maker.carries, 4_000_000);
        // 2.8 m and 0.2 m of slack: 5 m is cheapest; 3 m costs more and has less resistance; 10 m is beaten by both.
        let makes: Vec<Make> = maker.makes(Length::mm(2_800)).collect();
        let pieces: Vec<LeadPieces> =
            makes.iter().map(|make| maker.pieces(Length::mm(2_800), make.combination)).collect();
        let made = |mm| LeadPieces::MadeUp(vec![Length::mm(mm)]);
        assert_eq!(pieces, [made(5_000), made(3_000)]);
        // By hand: 5 m at 0.02 Ω/m and 0.01 Ω at the ends.
        assert!((makes[0].ohms - 0.11).abs() < 1e-12);
        // 29 m takes three; nothing takes more.
        assert_eq!(maker.makes(Length::mm(29_000)).count(), 1);
        assert_eq!(maker.makes(Length::mm(30_000)).count(), 0);
    }

    #[test]
    fn a_reel_is_cut_with_its_allowance() {
        let option = lead(LeadSupply::Reel { per_metre: Money::ten_thousandths(10_000) });
        let maker = Maker::of(&option);
        let makes: Vec<Make> = maker.makes(Length::mm(800)).collect();
        assert_eq!(maker.pieces(Length::mm(800), makes[0].combination), LeadPieces::Cut(Length::mm(1_000)));
        assert_eq!(makes[0].cost, fine(Money::ten_thousandths(10_000)));
    }
}
