//! What the choice of feeds for modules has to say, in plain words.

use survey::{Finding, Subject, Verdict};

use super::feeding::ModuleCase;
use crate::build::canonical::Inputs;
use crate::build::draft::RailDraft;
use crate::build::say::{from_source, list, say, with_figures};
use crate::build::supply::name_of;
use crate::series::{Feeding, Outcome, Relief};

/// The drop limit's source.
const DROP_SOURCE: &str = "IEC 60364-7-715 clause 715.525 (from memory) and the module's least voltage";

/// The findings about the feeds of one rail's modules.
pub(super) fn outcome_findings(
    inputs: &Inputs,
    draft: &RailDraft<'_>,
    case: &ModuleCase<'_>,
    outcome: &Outcome,
) -> Vec<Finding> {
    let Outcome::Infeasible(why) = outcome else { return vec![] };
    let subject = Subject::Rail(draft.rail.id.clone());
    let help: Vec<String> = why.reliefs.iter().map(|relief| words(inputs, draft, case, *relief)).collect();
    let advice = if help.is_empty() {
        "survey a way in between the modules or a nearer driver place, or add other drivers and leads to the catalogue"
            .to_owned()
    } else {
        format!("what would help, each by itself: {}", help.join("; "))
    };
    let margin = why
        .best_effort
        .iter()
        .flat_map(|scheme| &scheme.drivers)
        .flat_map(|driver| &driver.chains)
        .map(|chain| chain.margin)
        .min_by(|a, b| a.partial_cmp(b).unwrap_or(std::cmp::Ordering::Equal));
    match margin {
        Some(margin) => {
            let first = &case.problem.modules[0];
            let by_drop = case.problem.nominal * (1.0 - f64::from(case.problem.drop_permille) / 1000.0);
            let limit = by_drop.max(first.least);
            let message = "no feed of these modules gives every one enough volts; the plan draws the cheapest that keeps \
                           everything else";
            let finding = say(Verdict::Stop, "feed-possible", subject, message, advice);
            let finding = match margin {
                Some(margin) => with_figures(finding, (limit + margin).get(), limit.get(), "V"),
                None => finding,
            };
            vec![from_source(finding, DROP_SOURCE)]
        }
        None => {
            let message = "no scheme of drivers and leads feeds every module of this rail within every limit";
            vec![say(Verdict::Stop, "feed-possible", subject, message, advice)]
        }
    }
}

fn words(inputs: &Inputs, draft: &RailDraft<'_>, case: &ModuleCase<'_>, relief: Relief) -> String {
    let problem = &case.problem;
    match relief {
        Relief::Place => {
            let ways: Vec<String> = problem.ways_in.iter().map(|way| name_of(draft.rail, &way.id).to_owned()).collect();
            format!("survey a driver place with mains and a route to a way in of this rail ({})", list(&ways))
        }
        Relief::Driver => format!(
            "add a SELV driver of {} to the catalogue whose highest voltage these modules stand, or find more room or \
             shelter at the driver places",
            problem.nominal
        ),
        Relief::Extension => "add a two-core extension lead that goes along the routes to the catalogue".into(),
        Relief::Decoder => format!(
            "add a decoder of {} with a two-pole inlet and a {}-pole outlet to the catalogue, or an enclosure for it",
            problem.nominal, case.poles
        ),
        Relief::LuminaireLead => format!(
            "add a luminaire lead of {} cores or more with {}-pole plugs, or by the reel, that goes through the way in",
            case.behind.conductors, case.poles
        ),
        Relief::Link => format!(
            "add a link lead of {} cores or more with {}-pole plugs that is long enough for every gap",
            case.behind.conductors, case.poles
        ),
        Relief::Bore => "open the bore where it is shut, a thinner luminaire lead that passes behind modules, or a way in on the other \
                         side"
            .into(),
        Relief::Volts => "thicker or shorter leads, or a way in and a driver place nearer to the modules".into(),
        Relief::LongestChain => {
            format!("further ways in, so that no chain passes the maker's {:.2} m", problem.longest_chain.to_m())
        }
        Relief::Current => match problem.feeding {
            Feeding::Plain => "leads and plugs that carry more".into(),
            Feeding::Decoded { .. } => "leads, plugs and decoders that carry more".into(),
        },
        Relief::Short => "drivers that hold a short to less than every lead, plug and connector carries".into(),
        Relief::Power => "drivers with more power or more outputs after derating and reserve".into(),
        Relief::Room => {
            let places: Vec<String> = inputs
                .survey
                .driver_places
                .iter()
                .filter(|place| problem.places.iter().any(|own| own.id == place.id && own.room.is_some()))
                .map(|place| Inputs::name(&place.label, &place.id).to_owned())
                .collect();
            format!("more room for drivers at {}", list(&places))
        }
        Relief::Locks => "take out the locks that keep drivers where they are".into(),
    }
}
