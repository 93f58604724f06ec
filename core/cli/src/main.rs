//! The `newel` command: a thin shell over `desk`.

mod args;
mod input;

use std::io::{self, Write};
use std::path::Path;
use std::process::ExitCode;

use args::{Asked, Command, Document, Input};
use clap::Parser;
use desk::{Faults, Paper, Planned, demo};

/// The input can't be used.
const REFUSED: u8 = 2;
/// Done, and findings stop the job.
const STOPPED: u8 = 3;

fn main() -> ExitCode {
    let done = match Asked::parse().command {
        Command::Plan { input, json, csv } => plan(&input, json, csv.as_deref()),
        Command::Papers { input, out, only } => papers(&input, &out, &only),
        Command::Check { file, strict } => check(&file, strict),
        Command::Schema { document } => schema(document),
    };
    done.unwrap_or_else(|refusal| {
        // Standard error may be closed; there is nobody left to tell then.
        let _ = writeln!(io::stderr(), "{refusal}");
        ExitCode::from(REFUSED)
    })
}

type Done = Result<ExitCode, Box<dyn std::error::Error>>;

fn planned(input: &Input) -> Result<Planned, Faults> {
    let survey = input::bytes(&input.file);
    let named = input.catalogue.as_deref().map(|path| (input::bytes(path), input::name(path)));
    let (catalogue, name) = match named {
        Some((bytes, name)) => (bytes, name),
        None => {
            let _ = writeln!(io::stderr(), "newel: no --catalogue was given, so the invented demo catalogue is used");
            (Ok(demo::CATALOGUE.to_vec()), demo::CATALOGUE_NAME.to_owned())
        }
    };
    match (survey, catalogue) {
        (Ok(survey), Ok(catalogue)) => desk::plan_files((&survey, &input::name(&input.file)), (&catalogue, &name)),
        (Err(faults), Ok(_)) | (Ok(_), Err(faults)) => Err(faults),
        (Err(faults), Err(more)) => Err(faults.and(more)),
    }
}

fn exit(has_stops: bool, strict: bool) -> ExitCode {
    if has_stops && strict { ExitCode::from(STOPPED) } else { ExitCode::SUCCESS }
}

fn issued(input: &Input) -> String {
    input.issued.clone().unwrap_or_else(desk::day::today)
}

fn plan(input: &Input, json: bool, csv: Option<&Path>) -> Done {
    let planned = planned(input)?;
    if let Some(dir) = csv {
        list(dir, &desk::write_outputs(dir, &planned, &issued(input), &[Paper::Csv])?)?;
    } else if json {
        print(&planned.to_json())?;
    } else {
        print(&planned.to_text(&issued(input)))?;
    }
    Ok(exit(planned.has_stops(), input.strict))
}

fn papers(input: &Input, out: &Path, only: &[args::Kind]) -> Done {
    let planned = planned(input)?;
    let mut which: Vec<Paper> =
        if only.is_empty() { Paper::all() } else { only.iter().map(|kind| Paper::from(*kind)).collect() };
    which.sort_unstable();
    which.dedup();
    list(out, &desk::write_outputs(out, &planned, &issued(input), &which)?)?;
    Ok(exit(planned.has_stops(), input.strict))
}

fn check(file: &Path, strict: bool) -> Done {
    let checked = desk::check_survey(&input::bytes(file)?, &input::name(file))?;
    print(&checked.text)?;
    Ok(exit(checked.has_stops, strict))
}

fn schema(document: Document) -> Done {
    use desk::wire::schemas;
    let schema = match document {
        Document::Survey => schemas::survey(),
        Document::Brief => schemas::brief(),
        Document::Plan => schemas::plan(),
        Document::Catalogue => schemas::catalogue(),
        Document::Quotation => {
            return Err(
                "quotation: this release makes no quotations yet; accepted: survey, brief, plan, catalogue".into()
            );
        }
    };
    print(&desk::json_text(&schema))?;
    Ok(ExitCode::SUCCESS)
}

fn list(dir: &Path, names: &[String]) -> io::Result<()> {
    let lines: String = names.iter().map(|name| format!("{}\n", dir.join(name).display())).collect();
    print(&lines)
}

/// Prints, and takes a reader who has seen enough (`newel plan … | head`) for no fault.
fn print(text: &str) -> io::Result<()> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        written => written,
    }
}
