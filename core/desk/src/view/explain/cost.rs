//! What the feeds of a rail cost.

use super::{Explanation, Figure, Note, Scheme, Step, StepRole, open_remarks, step, words_only};
use crate::view::power::others;
use crate::view::wire::Mark;

pub(super) fn explain(scheme: Scheme<'_>, rail: &str) -> Option<Explanation> {
    let planned = scheme.plan.rails.iter().find(|planned| planned.id.as_str() == rail)?;
    let currency = &scheme.catalogue.currency;
    let money = |amount: units::Money| Figure::new(amount.to_ten_thousandths() as f64 / 1e4, currency, 2);
    let (own, whole) = (planned.objective, scheme.plan.objective);
    let mut steps: Vec<Step> = vec![
        step(
            StepRole::Given,
            "It cannot be fed for less by itself than",
            money(own.lower_bound),
            "proved, whatever is done for other rails",
        ),
        step(StepRole::Given, "All rails together", money(whole.cost), "the plan"),
        step(StepRole::Given, "All rails cannot be fed for less than", money(whole.lower_bound), "proved"),
    ];
    let drivers = scheme.plan.drivers.iter().filter(|driver| driver.rails.contains(&planned.id));
    let mut shared = false;
    for driver in drivers {
        let also = others(scheme, driver, &planned.id);
        let Some(first) = driver.rails.first().filter(|_| !also.is_empty()) else { continue };
        shared = true;
        let stands = if *first == planned.id {
            "its cost is counted here".to_owned()
        } else {
            format!("its cost is counted with {}", scheme.rail_label(first))
        };
        steps.push(words_only(format!("Driver {} also serves {}", driver.id, also.join(", ")), stands));
    }
    steps.push(step(
        StepRole::Result,
        "Feeds of this rail",
        money(own.cost),
        "drivers, mains leads, leads and running cores with the labour for them",
    ));
    let proved = whole.cost == whole.lower_bound;
    let mut notes = Vec::new();
    if shared {
        let text = "Drivers that serve several rails are counted once, so the cost of a rail by itself says less than that of all.";
        notes.push(Note { mark: Mark::Pass, text: text.to_owned() });
    }
    let of_rail = |finding: &&survey::Finding| {
        finding.rule == "feed-possible" && crate::view::findings::rails(scheme, &finding.subject).contains(&planned.id)
    };
    notes.extend(open_remarks(scheme.findings.iter().filter(of_rail)));
    Some(Explanation {
        figure: Some(money(own.cost)),
        title: if proved {
            "for the feeds of this rail. All feeds together are proved to be the cheapest.".to_owned()
        } else {
            "for the feeds of this rail. All feeds together may be dearer than need be by what lies above the bound."
                .to_owned()
        },
        mark: None,
        steps,
        notes,
    })
}
