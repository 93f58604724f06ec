//! Ways to make a lead of a length from one part: cut from a reel, or made-up lengths plugged together.

use units::Length;

use super::cost::{Fine, fine, metres, micro_down};
use crate::feeds::{LeadOption, LeadPieces, LeadSupply, MOST_JOINED};

/// A part with more made-up lengths than this is only used singly, not plugged together.
const MOST_LENGTHS_TO_JOIN: usize = 24;

/// One way to make a lead.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Make {
    /// How.
    pub(super) pieces: LeadPieces,
    /// Resistance of one conductor with its connections, ohms.
    pub(super) ohms: f64,
    /// Cost of material and ends.
    pub(super) cost: Fine,
}

/// A part with everything that does not depend on the length.
#[derive(Clone, Debug)]
pub(super) struct Maker<'a> {
    option: &'a LeadOption,
    /// Made-up combinations: whole length, lengths with the longest first, price.
    combinations: Vec<(Length, Vec<Length>, Fine)>,
    /// Current that cores and plugs carry, microamperes.
    pub(super) carries: i64,
}

impl<'a> Maker<'a> {
    pub(super) fn of(option: &'a LeadOption) -> Self {
        let mut carries = micro_down(option.carries.get());
        let mut combinations = Vec::new();
        if let LeadSupply::MadeUp { lengths, plug_carries, plug_cost, .. } = &option.supply {
            carries = carries.min(micro_down(plug_carries.get()));
            let most = if lengths.len() > MOST_LENGTHS_TO_JOIN { 1 } else { MOST_JOINED };
            let mut chosen = Vec::new();
            join(lengths.len(), 0, most, &mut chosen, &mut |chosen| {
                let mut pieces: Vec<Length> = chosen.iter().map(|index| lengths[*index].0).collect();
                pieces.sort_by(|a, b| b.cmp(a));
                let price: Fine = chosen.iter().map(|index| fine(lengths[*index].1)).sum();
                let joints = fine(*plug_cost) * (chosen.len() as Fine - 1);
                combinations.push((pieces.iter().copied().sum(), pieces, price + joints));
            });
        }
        Self { option, combinations, carries }
    }

    /// Every way to make a lead for a way of this length that no other way beats in both cost and resistance, the cheapest
    /// first.
    pub(super) fn makes(&self, way: Length) -> Vec<Make> {
        let least = way + self.option.allowance;
        let ends = fine(self.option.ends_cost);
        let ohms = |length: Length| self.option.ohms_per_m * length.to_m() + self.option.ends.get();
        let mut all: Vec<Make> = match &self.option.supply {
            LeadSupply::Reel { per_metre } => {
                vec![Make { pieces: LeadPieces::Cut(least), ohms: ohms(least), cost: ends + metres(*per_metre, least) }]
            }
            LeadSupply::MadeUp { plug, .. } => self
                .combinations
                .iter()
                .filter(|(whole, ..)| *whole >= least)
                .map(|(whole, pieces, price)| Make {
                    pieces: LeadPieces::MadeUp(pieces.clone()),
                    ohms: ohms(*whole) + (pieces.len() as f64 - 1.0) * plug.get(),
                    cost: ends + price,
                })
                .collect(),
        };
        all.retain(|make| make.ohms.is_finite());
        all.sort_by(|a, b| a.cost.cmp(&b.cost).then(a.ohms.total_cmp(&b.ohms)));
        let mut kept: Vec<Make> = Vec::new();
        for make in all {
            if kept.last().is_none_or(|known| make.ohms < known.ohms) {
                kept.push(make);
            }
        }
        kept
    }
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
        let makes = maker.makes(Length::mm(2_800));
        let pieces: Vec<LeadPieces> = makes.iter().map(|make| make.pieces.clone()).collect();
        let made = |mm| LeadPieces::MadeUp(vec![Length::mm(mm)]);
        assert_eq!(pieces, [made(5_000), made(3_000)]);
        // By hand: 5 m at 0.02 Ω/m and 0.01 Ω at the ends.
        assert!((makes[0].ohms - 0.11).abs() < 1e-12);
        // 29 m takes three; nothing takes more.
        assert_eq!(maker.makes(Length::mm(29_000)).len(), 1);
        assert!(maker.makes(Length::mm(30_000)).is_empty());
    }

    #[test]
    fn a_reel_is_cut_with_its_allowance() {
        let option = lead(LeadSupply::Reel { per_metre: Money::ten_thousandths(10_000) });
        let makes = Maker::of(&option).makes(Length::mm(800));
        assert_eq!(makes[0].pieces, LeadPieces::Cut(Length::mm(1_000)));
        assert_eq!(makes[0].cost, fine(Money::ten_thousandths(10_000)));
    }
}
