//! Which leads of the catalogue may serve a chain of modules, and as what.

use catalogue::{Catalogue, Lead, LeadUse};
use units::{Amps, Celsius, Length, Ohms};

use crate::build::feeding::{contact_ohms, lead_option};
use crate::build::stock::{self, Weather};
use crate::feeds::LeadOption;

/// What a make of modules asks of leads.
#[derive(Clone, Copy, Debug)]
pub(super) struct Asked {
    /// Conductors: 2, or 1 + channels.
    pub conductors: u8,
    /// Poles of a module's connector.
    pub poles: u8,
    /// Resistance of one of those poles.
    pub contact: Ohms,
    /// Temperature of conductors, warm.
    pub warm: Celsius,
    /// Whether leads see the weather.
    pub weather: Weather,
}

/// Slack of a link lead, for its plugs, or to make off both ends of a cut one (common practice, no source).
pub(super) const LINK_SLACK: Length = Length::mm(60);

/// Leads of one use with so many cores whose plugs, where they have any, have so many poles.
pub(super) fn leads(catalogue: &Catalogue, asked: Asked, wanted: LeadUse, cores: u8, poles: Option<u8>) -> Vec<&Lead> {
    catalogue
        .leads
        .iter()
        .filter(|lead| {
            let plugs = lead.connector.as_ref().map(|connector| connector.poles);
            lead.uses.contains(&wanted)
                && lead.cores >= cores
                && lead.kind == catalogue::LeadKind::Sheathed
                && plugs.is_none_or(|own| poles.is_none_or(|poles| own == poles))
                && lead.greatest_temperature >= asked.warm
                && (lead.outdoor || asked.weather == Weather::Indoors)
                && stock::ohms_per_m(lead, asked.warm).is_some()
        })
        .collect()
}

/// An extension lead as the choice of feeds sees it: one plug at the driver, one at what it goes to.
pub(super) fn extension(lead: &Lead, catalogue: &Catalogue, warm: Celsius) -> Option<LeadOption> {
    lead_option(lead, catalogue, warm)
}

/// Resistance where a lead meets a module: the greater of both contacts.
pub(super) fn at_module(lead: &Lead, asked: Asked) -> Ohms {
    contact_ohms(lead).max(asked.contact)
}

/// A luminaire lead: plugged onto what feeds it (whose plug counts there, unless that is a decoder) and onto a module.
pub(super) fn luminaire_lead(lead: &Lead, catalogue: &Catalogue, asked: Asked, from: From) -> Option<LeadOption> {
    let first = match from {
        From::Extension => Ohms::ZERO,
        From::Decoder => contact_ohms(lead),
    };
    Some(LeadOption { ends: first + at_module(lead, asked), ..lead_option(lead, catalogue, asked.warm)? })
}

/// What a luminaire lead starts from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum From {
    /// An extension lead's end, whose contact belongs to that lead.
    Extension,
    /// A decoder's outlet.
    Decoder,
}

/// A link lead: plugged onto a module at either end.
pub(super) fn link(lead: &Lead, catalogue: &Catalogue, asked: Asked) -> Option<LeadOption> {
    let option = lead_option(lead, catalogue, asked.warm)?;
    let ends_cost = match lead.connector {
        // Plugging takes no time worth charging.
        Some(_) => units::Money::ZERO,
        None => option.ends_cost,
    };
    Some(LeadOption { ends: at_module(lead, asked) * 2.0, allowance: LINK_SLACK, ends_cost, ..option })
}

/// Current that one core and plug of a lead carries.
pub(super) fn carries(lead: &Lead) -> Amps {
    lead.connector.as_ref().map_or(lead.carries, |connector| connector.limit.min(lead.carries))
}
