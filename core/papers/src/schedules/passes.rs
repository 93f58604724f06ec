//! Passed checks gathered by rule, so that a long list of what is well does not hide what is not.

use survey::{Figure, Finding, Verdict};

use crate::{PaperInput, figures, wording};

/// Names that are written out before the rest is only counted.
const NAMED: usize = 6;

/// Passes of one rule against one limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Passes {
    /// The rule.
    pub rule: &'static str,
    /// Its source.
    pub source: &'static str,
    /// What passed: one thing by name, several by number.
    pub about: String,
    /// What was measured, from least to greatest, and the limit.
    pub reason: String,
    /// What the rule says of one thing; of several their names, the first ones where they are many.
    pub message: String,
}

/// The passes in order of rule; the CSV of findings has each by itself.
#[must_use]
pub fn passes(input: &PaperInput) -> Vec<Passes> {
    let mut groups: Vec<Vec<&Finding>> = Vec::new();
    for finding in input.findings_in_order().into_iter().filter(|finding| finding.verdict == Verdict::Pass) {
        let same = |group: &&mut Vec<&Finding>| {
            let first = group[0];
            (first.rule, first.source, first.unit, &first.limit)
                == (finding.rule, finding.source, finding.unit, &finding.limit)
        };
        match groups.iter_mut().find(same) {
            Some(group) => group.push(finding),
            None => groups.push(vec![finding]),
        }
    }
    groups.iter().map(|group| gathered(group, input)).collect()
}

fn gathered(group: &[&Finding], input: &PaperInput) -> Passes {
    let first = group[0];
    let names: Vec<String> =
        group.iter().take(NAMED).map(|finding| wording::subject(&finding.subject, input.survey)).collect();
    let mut subjects = names.join(", ");
    if group.len() > NAMED {
        subjects.push_str(&format!(" and {} more", group.len() - NAMED));
    }
    let (about, message) = match group {
        [alone] => (subjects, alone.message.clone()),
        several => (format!("{} checks", several.len()), subjects),
    };
    Passes { rule: first.rule, source: first.source, about, reason: reason(group), message }
}

fn reason(group: &[&Finding]) -> String {
    let first = group[0];
    let numbers: Option<Vec<f64>> = group
        .iter()
        .map(|finding| match &finding.measured {
            Some(Figure::Number(number)) => Some(*number),
            _ => None,
        })
        .collect();
    let (Some(numbers), true) = (numbers, group.len() > 1) else {
        let all_alike = group.iter().all(|finding| finding.measured == first.measured);
        return if all_alike { wording::reason(first) } else { limit_only(first) };
    };
    let least = numbers.iter().copied().fold(f64::INFINITY, f64::min);
    let greatest = numbers.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let print = |number: f64| figures::grouped(&figures::at_most(number, 3));
    let range = if least < greatest { format!("{} to {}", print(least), print(greatest)) } else { print(least) };
    let unit = if first.unit.is_empty() { String::new() } else { format!(" {}", first.unit) };
    match &first.limit {
        Some(limit) => format!("measured {range}{unit}, limit {}", wording::figure(Some(limit), first.unit)),
        None => format!("measured {range}{unit}"),
    }
}

fn limit_only(finding: &Finding) -> String {
    finding.limit.as_ref().map_or_else(
        || "each as its check asks".to_owned(),
        |limit| format!("limit {}", wording::figure(Some(limit), finding.unit)),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use survey::{Id, Subject};

    fn pass(measured: f64) -> Finding {
        Finding {
            rule: "closure",
            subject: Subject::Rail(Id::new("A").expect("a valid id")),
            verdict: Verdict::Pass,
            measured: Some(Figure::Number(measured)),
            limit: Some(Figure::Number(9.5)),
            unit: "mm",
            source: "a source",
            message: "closes".to_owned(),
            advice: String::new(),
        }
    }

    #[test]
    fn the_range_and_the_limit_stand_beside_the_passes_of_a_rule() {
        let all = [pass(1.25), pass(0.5), pass(3.0)];
        assert_eq!(reason(&all.iter().collect::<Vec<_>>()), "measured 0.5 to 3 mm, limit 9.5 mm");
        assert_eq!(reason(&[&all[0]]), "measured 1.25 mm, limit 9.5 mm");
    }
}
