//! Which small parts and cables of the catalogue a plan uses, and what they do electrically.

use catalogue::{Catalogue, Fixing, FixingKind, Lead, LeadUse, Supply};
use units::{Amps, Celsius, Length, Money, Ohms, SquareMm};

use crate::circuit::conductor;

/// Resistance of copper for areas between the standard ones, in Ω·mm²/m at 20 °C: that of the 0.5 mm² row of class 5,
/// the smallest of IEC 60228:2004 table 3 (39.0 Ω/km), carried on in proportion to the area.
const OHM_MM2_PER_M: f64 = 0.0195;

/// The cheapest fixing of a kind, of two the one with the lower part reference.
pub(crate) fn cheapest(catalogue: &Catalogue, fits: impl Fn(&FixingKind) -> bool) -> Option<&Fixing> {
    catalogue
        .fixings
        .iter()
        .filter(|fixing| fits(&fixing.kind))
        .min_by(|a, b| (a.item.price, &a.item.part).cmp(&(b.item.price, &b.item.part)))
}

/// The tap for a luminaire that draws this much on one core.
pub(crate) fn tap(catalogue: &Catalogue, amps: Amps) -> Option<&Fixing> {
    cheapest(catalogue, |kind| match kind {
        FixingKind::Tap { tenths_amp, .. } => f64::from(*tenths_amp) / 10.0 >= amps.get(),
        _ => false,
    })
}

/// The seal for the end of a running core.
pub(crate) fn end_seal(catalogue: &Catalogue) -> Option<&Fixing> {
    cheapest(catalogue, |kind| matches!(kind, FixingKind::EndSeal))
}

/// The end cap of a chain of modules, by its number of poles.
pub(crate) fn end_cap(catalogue: &Catalogue, wanted: u8) -> Option<&Fixing> {
    cheapest(catalogue, |kind| matches!(kind, FixingKind::EndCap { poles } if *poles == wanted))
}

/// The clip for linear modules.
pub(crate) fn clip(catalogue: &Catalogue) -> Option<&Fixing> {
    cheapest(catalogue, |kind| matches!(kind, FixingKind::Clip))
}

/// The strip that closes the slot over a lead, with its length.
pub(crate) fn containment(catalogue: &Catalogue) -> Option<(&Fixing, Length)> {
    let found = cheapest(catalogue, |kind| matches!(kind, FixingKind::Containment { .. }))?;
    match found.kind {
        FixingKind::Containment { length } => Some((found, length)),
        _ => None,
    }
}

/// The rivet of a diameter.
pub(crate) fn rivet(catalogue: &Catalogue, wanted: Length) -> Option<&Fixing> {
    cheapest(catalogue, |kind| matches!(kind, FixingKind::Rivet { diameter } if *diameter == wanted))
}

/// The gland for a cable.
pub(crate) fn gland(catalogue: &Catalogue, cable: Length) -> Option<&Fixing> {
    cheapest(catalogue, |kind| matches!(kind, FixingKind::Gland { greatest_cable } if *greatest_cable >= cable))
}

/// The enclosure for a driver that does not stand the weather by itself. The catalogue states neither its size nor its
/// ingress code, so the user lists one that suits the site.
pub(crate) fn enclosure(catalogue: &Catalogue) -> Option<&Fixing> {
    cheapest(catalogue, |kind| matches!(kind, FixingKind::Enclosure))
}

/// The mains cable: the cheapest by the reel, with three cores or more, that stands weather where it must.
pub(crate) fn mains_cable(catalogue: &Catalogue, weather: Weather) -> Option<&Lead> {
    catalogue
        .leads
        .iter()
        .filter(|lead| {
            lead.uses.contains(&LeadUse::Mains)
                && lead.cores >= 3
                && matches!(lead.supply, Supply::Reel { .. })
                && (lead.outdoor || weather == Weather::Indoors)
        })
        .min_by(|a, b| (a.item.price, &a.item.part).cmp(&(b.item.price, &b.item.part)))
}

/// Whether a cable sees the weather.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Weather {
    /// It does not.
    Indoors,
    /// It does.
    Outdoors,
}

impl Weather {
    /// Of a setting.
    pub(crate) const fn of(setting: survey::Setting) -> Self {
        match setting {
            survey::Setting::IndoorDry | survey::Setting::IndoorDamp => Self::Indoors,
            _ => Self::Outdoors,
        }
    }
}

/// Resistance of one core of a lead for a metre at a temperature; `None` where its area is not above zero.
///
/// # Source
/// IEC 60228:2004 through [`conductor`]; areas that are not standard in proportion to the smallest standard one.
pub(crate) fn ohms_per_m(lead: &Lead, at: Celsius) -> Option<f64> {
    let class = match lead.class {
        catalogue::ConductorClass::Solid => conductor::ConductorClass::Solid1,
        catalogue::ConductorClass::Stranded => conductor::ConductorClass::Stranded2,
        catalogue::ConductorClass::Flexible => conductor::ConductorClass::Flexible5,
    };
    let coating = match lead.coating {
        catalogue::Coating::Plain => conductor::Coating::Plain,
        catalogue::Coating::Coated => conductor::Coating::MetalCoated,
    };
    let standard = conductor::ohms_per_km_20(class, coating, lead.area).map(|per_km| per_km / 1000.0);
    let at_20 = standard.or_else(|| plain_ohms_per_m(lead.area))?;
    Some(at_20 * conductor::temperature_factor(at)?)
}

fn plain_ohms_per_m(area: SquareMm) -> Option<f64> {
    (area.get() > 1e-3).then(|| OHM_MM2_PER_M / area.get())
}

/// Resistance of one core of a luminaire's tail at a temperature.
pub(crate) fn tail_ohms(point: &catalogue::PointLuminaire, at: Celsius) -> Ohms {
    let area = SquareMm::new(f64::from(point.tail_hundredths_mm2) / 100.0);
    let flexible = conductor::ConductorClass::Flexible5;
    let standard = conductor::ohms_per_km_20(flexible, conductor::Coating::Plain, area).map(|per_km| per_km / 1000.0);
    let at_20 = standard.or_else(|| plain_ohms_per_m(area)).unwrap_or(0.0);
    let factor = conductor::temperature_factor(at).unwrap_or(1.0);
    Ohms::checked(at_20 * factor * point.tail.max(Length::ZERO).to_m()).unwrap_or(Ohms::ZERO)
}

/// Resistance of one tap.
pub(crate) fn tap_ohms(tap: Option<&Fixing>) -> Ohms {
    match tap.map(|fixing| &fixing.kind) {
        Some(FixingKind::Tap { milliohms, .. }) => Ohms::new(f64::from(*milliohms) / 1000.0),
        _ => Ohms::ZERO,
    }
}

/// Price of a fixing, nothing where the catalogue has none (a finding says so).
pub(crate) fn price(fixing: Option<&Fixing>) -> Money {
    fixing.map_or(Money::ZERO, |fixing| fixing.item.price)
}

/// How many lengths of a lead lie side by side for this many conductors: one where it holds them all.
pub(crate) fn lengths_side_by_side(lead: &Lead, conductors: u8) -> u8 {
    conductors.div_ceil(lead.cores.max(1))
}
