//! Every way to make a lead of one part: cut from a reel, or one to three made-up lengths plugged together.

use plan::feeds::{LeadOption, LeadSupply};
use units::Length;

use super::{Fine, fine, metres};

/// One way to make a lead.
#[derive(Clone, Copy, Debug)]
pub struct Made {
    /// Material, plugs and ends; without laying.
    pub cost: Fine,
    /// Resistance of one conductor with its connections, ohms.
    pub ohms: f64,
    /// Current that cores and plugs carry, amperes.
    pub carries: f64,
}

/// Every way to make a lead for a way of some length; none is left out for being beaten.
pub fn made(lead: &LeadOption, way: Length) -> Vec<Made> {
    let least = way + lead.allowance;
    let of = |length: Length, price: Fine, joints: usize, plug: f64, carries: f64| Made {
        cost: price + fine(lead.ends_cost),
        ohms: lead.ohms_per_m * length.to_m() + lead.ends.get() + plug * joints as f64,
        carries,
    };
    match &lead.supply {
        LeadSupply::Reel { per_metre } => vec![of(least, metres(*per_metre, least), 0, 0.0, lead.carries.get())],
        LeadSupply::MadeUp { lengths, plug, plug_carries, plug_cost } => {
            let carries = lead.carries.get().min(plug_carries.get());
            let mut sets: Vec<Vec<usize>> = Vec::new();
            for a in 0..lengths.len() {
                sets.push(vec![a]);
                for b in a..lengths.len() {
                    sets.push(vec![a, b]);
                    sets.extend((b..lengths.len()).map(|c| vec![a, b, c]));
                }
            }
            let sets = sets.into_iter().map(|set| {
                let whole: Length = set.iter().map(|index| lengths[*index].0).sum();
                let price: Fine = set.iter().map(|index| fine(lengths[*index].1)).sum();
                let joints = set.len() - 1;
                (whole, of(whole, price + fine(*plug_cost) * joints as Fine, joints, plug.get(), carries))
            });
            sets.filter(|(whole, _)| *whole >= least).map(|(_, made)| made).collect()
        }
    }
}
