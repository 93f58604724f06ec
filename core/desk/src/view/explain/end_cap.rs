//! The cap that closes a chain of modules: why it has so many poles, and where it is.

use catalogue::FixingKind;
use survey::Subject;

use super::{Explanation, Figure, Note, Scheme, StepRole, open_remarks, step, words_only};
use crate::view::wire::Mark;

pub(super) fn explain(scheme: Scheme<'_>, circuit: &str) -> Option<Explanation> {
    let cap = scheme.plan.end_caps.iter().find(|cap| cap.circuit == circuit)?;
    let chain = scheme.plan.circuits.iter().find(|chain| chain.id == circuit)?;
    let channels = chain.loads.iter().filter_map(|load| load.channel).max();
    let conductors = match channels {
        Some(channels) => format!("one common conductor and {channels} channels run through the modules"),
        None => "plus and minus run through the modules".to_owned(),
    };
    let mut steps = vec![
        words_only("Conductors of the chain", conductors),
        step(
            StepRole::Given,
            "Closes the connector of",
            Figure::mm(cap.chainage),
            format!("the far end of {}", cap.luminaire),
        ),
    ];
    let described = cap.part.as_ref().and_then(|part| {
        let is_it = |fixing: &&catalogue::Fixing| {
            &fixing.item.part == part && fixing.kind == FixingKind::EndCap { poles: cap.poles }
        };
        scheme.catalogue.fixings.iter().find(is_it)
    });
    if let Some(fixing) = described {
        steps.push(words_only(
            format!("Part {}", fixing.item.part),
            format!("{}; the catalogue", fixing.item.description),
        ));
    }
    let missing = cap.part.is_none().then(|| Note {
        mark: Mark::Stop,
        text: format!(
            "The catalogue lists no end cap with {} poles: add one, or the open connector lets water in.",
            cap.poles
        ),
    });
    let related = scheme.findings.iter().filter(|f| f.subject == Subject::Circuit(circuit.to_owned()));
    Some(Explanation {
        figure: Some(Figure::new(f64::from(cap.poles), if cap.poles == 1 { "pole" } else { "poles" }, 0)),
        title: format!("of the cap that ends chain {circuit}: as many as the connector of its modules."),
        mark: None,
        steps,
        notes: missing.into_iter().chain(open_remarks(related)).collect(),
    })
}
