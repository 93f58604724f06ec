//! The report in plain text: every schedule lined up, every verdict with its reason, each rail drawn in characters.

mod columns;
mod rail_line;

#[cfg(feature = "pdf")]
pub use columns::is_invisible;
use columns::plain;

use plan::document::RailPlan;
use survey::{Finding, Verdict};

use crate::cautions::{CAUTIONS, DISCLAIMER, one_line};
use crate::table::{Side, Table};
use crate::{PaperInput, figures, schedules, wording};
use columns::{drawn, filled, width, wrapped};

/// Width of the report's running text.
const PAGE: usize = 100;

/// The whole report. The same input gives the same bytes.
#[must_use]
pub fn report(input: &PaperInput) -> String {
    let mut out = String::new();
    head(&mut out, input);
    section(&mut out, "RAILS");
    table(&mut out, &schedules::summary(input), "The brief names no rail, so nothing is laid out.");
    for rail in &input.plan.rails {
        rail_part(&mut out, input, rail);
    }
    section(&mut out, "DRIVERS");
    table(&mut out, &schedules::drivers(input), "No driver is needed.");
    section(&mut out, "CIRCUITS, worst case: low end of the source, warm conductors, all at full output");
    table(&mut out, &schedules::circuits(input), "There is no circuit.");
    out.push_str("Least: volts at the worst lamp. It must stay above both limits: drop rule and lamp limit.\n");
    section(&mut out, "CABLE SCHEDULE");
    table(&mut out, &schedules::cables(input), "There is no cable.");
    section(&mut out, "CUT LIST OVER REELS");
    table(&mut out, &schedules::reels(input), "Nothing is cut from a reel.");
    section(&mut out, "CONTROLS");
    table(&mut out, &schedules::control_lines(input), "No control line is planned.");
    out.push('\n');
    table(&mut out, &schedules::controls(input), "No control device is planned.");
    section(&mut out, "PARTS");
    table(&mut out, &schedules::parts(input), "No part is needed.");
    section(&mut out, "TESTS");
    table(&mut out, &schedules::tests(input), "There is nothing to test.");
    findings(&mut out, input);
    cautions(&mut out);
    out
}

fn head(out: &mut String, input: &PaperInput) {
    let (site, plan) = (&input.survey.site, input.plan);
    out.push_str(&format!("{}\n{}\n", plain(&site.label), "=".repeat(PAGE)));
    if let Some(warning) = input.invented() {
        out.push_str(&format!("*** {warning} ***\n"));
    }
    let surveyed = match (&site.surveyed_on, &site.surveyor) {
        (Some(day), Some(person)) => format!("{day} by {person}"),
        (Some(day), None) => day.clone(),
        (None, Some(person)) => format!("day not stated, by {person}"),
        (None, None) => "day not stated".to_owned(),
    };
    let catalogue = format!("{}, prices of {}", input.catalogue.label, input.catalogue.priced_on);
    let cost = format!(
        "{} {currency}, proved to be at least {} {currency} whatever the feeds (gap {} {currency})",
        plan.objective.cost.to_hundredths(),
        plan.objective.lower_bound.to_hundredths(),
        plan.objective.gap(),
        currency = input.catalogue.currency,
    );
    for (name, value) in [
        ("Address", site.address.as_str()),
        ("Surveyed", &surveyed),
        ("Issued", input.issued),
        ("Catalogue", &catalogue),
        ("Plan", &plan.plan_id),
        ("Engine", plan.engine_version),
        ("Cost of feeds", &cost),
        ("Findings", &verdict_counts(input)),
    ] {
        fact(out, name, value);
    }
    out.push_str(&format!("{DISCLAIMER} Read the cautions at the end before drilling or connecting anything.\n"));
}

/// How many findings of each verdict there are, worst first.
#[must_use]
pub fn verdict_counts(input: &PaperInput) -> String {
    [Verdict::Stop, Verdict::NotEvaluated, Verdict::Caution, Verdict::Pass]
        .map(|verdict| format!("{} {}", input.count(verdict), wording::verdict(verdict).to_lowercase()))
        .join(", ")
}

fn fact(out: &mut String, name: &str, value: &str) {
    let value = if value.is_empty() { figures::NONE } else { value };
    for (place, line) in wrapped(&plain(value), PAGE - 16).iter().enumerate() {
        let name = if place == 0 { name } else { "" };
        out.push_str(format!("{}{line}", filled(name, 16, Side::Left)).trim_end());
        out.push('\n');
    }
}

fn section(out: &mut String, title: &str) {
    let title = plain(title);
    out.push_str(&format!("\n{title}\n{}\n", "-".repeat(width(&title).clamp(1, PAGE))));
}

fn table(out: &mut String, table: &Table, without_rows: &str) {
    if table.rows.is_empty() {
        out.push_str(without_rows);
        out.push('\n');
    } else {
        out.push_str(&drawn(table));
    }
}

fn rail_part(out: &mut String, input: &PaperInput, rail: &RailPlan) {
    section(out, &format!("RAIL {}", wording::named(rail.id.as_str(), Some(&rail.label))));
    if let Some(surveyed) = input.survey.rail(&rail.id) {
        fact(out, "Tube", &wording::tube(&surveyed.tube));
        fact(out, "Datum", &format!("{}; mark: {}", surveyed.datum.end, surveyed.datum.mark));
    }
    out.push('\n');
    out.push_str(&rail_line::rail_line(input, rail));
    out.push_str(rail_line::LEGEND);
    out.push_str("\n\n");
    match &rail.lit {
        Some(lit) => {
            fact(out, "Layout", &schedules::lit_words(lit));
            table(out, &schedules::modules(input, rail), "No module is laid out here.");
        }
        None => table(out, &schedules::patterns(rail), "No luminaire is laid out here."),
    }
    if !rail.luminaires.is_empty() {
        out.push('\n');
        fact(out, "Cost of feeds", &input.cost_of(rail));
    }
    let locks = schedules::locks(input, rail);
    if !locks.rows.is_empty() {
        out.push('\n');
        table(out, &locks, "");
    }
    if !rail.not_ready.is_empty() {
        let what = if rail.lit.is_some() { "FIT" } else { "DRILL" };
        out.push_str(&format!("\nNOT READY TO {what}, because:\n"));
        for reason in &rail.not_ready {
            bullet(out, reason);
        }
    } else if input.plan.drilling.iter().any(|hole| hole.rail == rail.id) {
        out.push('\n');
        for line in wrapped(&format!("Before any hole: {}.", one_line()), PAGE) {
            out.push_str(&format!("{line}\n"));
        }
        out.push_str("Holes, mm from the datum (the drilling schedule has the rest):\n");
        let holes: Vec<String> = input
            .plan
            .drilling
            .iter()
            .filter(|hole| hole.rail == rail.id)
            .map(|hole| figures::decimals(hole.chainage.to_mm(), 0))
            .collect();
        let widest = holes.iter().map(String::len).max().unwrap_or(0).max(5);
        for row in holes.chunks(PAGE / (widest + 2)) {
            let row: Vec<String> = row.iter().map(|hole| filled(hole, widest, Side::Right)).collect();
            out.push_str(&format!("{}\n", row.join("  ")));
        }
    }
}

fn bullet(out: &mut String, text: &str) {
    for (place, line) in wrapped(&plain(text), PAGE - 4).iter().enumerate() {
        out.push_str(if place == 0 { "  - " } else { "    " });
        out.push_str(line);
        out.push('\n');
    }
}

fn findings(out: &mut String, input: &PaperInput) {
    section(out, &format!("FINDINGS: {}", verdict_counts(input)));
    for finding in input.findings_in_order().into_iter().filter(|finding| finding.verdict != Verdict::Pass) {
        one_finding(out, input, finding);
    }
    for pass in schedules::passes(input) {
        hanging(out, wording::verdict(Verdict::Pass), &format!("{}: {}", capital(&pass.about), pass.message));
        if pass.reason != figures::NONE {
            hanging(out, "", &capital(&pass.reason));
        }
        hanging(out, "", &format!("Rule {}, source: {}", pass.rule, pass.source));
    }
    if input.findings.is_empty() {
        out.push_str("No rule had anything to say; that is not a pass.\n");
    }
}

fn one_finding(out: &mut String, input: &PaperInput, finding: &Finding) {
    let verdict = wording::verdict(finding.verdict);
    let about = wording::subject(&finding.subject, input.survey);
    hanging(out, verdict, &format!("{}: {}", capital(&about), finding.message));
    let reason = wording::reason(finding);
    if reason != figures::NONE {
        hanging(out, "", &capital(&reason));
    }
    hanging(out, "", &format!("Rule {}, source: {}", finding.rule, finding.source));
    if !finding.advice.is_empty() {
        hanging(out, "", &format!("To do: {}", finding.advice));
    }
}

/// A word in the margin and text beside it.
fn hanging(out: &mut String, word: &str, text: &str) {
    const MARGIN: usize = 15;
    for (place, line) in wrapped(&plain(text), PAGE - MARGIN).iter().enumerate() {
        let word = if place == 0 { word } else { "" };
        out.push_str(format!("{}{line}", filled(word, MARGIN, Side::Left)).trim_end());
        out.push('\n');
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

fn cautions(out: &mut String) {
    section(out, "CAUTIONS");
    for caution in &CAUTIONS {
        bullet(out, caution.full);
    }
    out.push_str(&format!("{DISCLAIMER}\n"));
}
