//! `newel site`: the sites in the store.

use std::io;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Args, Subcommand};
use desk::sites::{self, Archive, Said, Sites};
use desk::{Fault, Faults, demo, read_catalogue};

use crate::args;
use crate::input;
use crate::output::{self, Done, exit, print};

/// What to do with sites.
#[derive(Debug, Subcommand)]
pub enum SiteCommand {
    /// Adds the survey in a file as a new site and prints its id.
    Add {
        /// The survey file, JSON or TOML; `demo` is the invented demo site.
        file: PathBuf,
        /// Keep it under this id instead of the file's own.
        #[arg(long)]
        id: Option<String>,
    },
    /// Adds an empty site and prints its id.
    New {
        /// What people call it.
        label: String,
        /// Where it is, in words.
        #[arg(default_value = "")]
        address: String,
    },
    /// Lists the sites, last changed first.
    List {
        /// Print them as JSON, and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Plans a site and prints the report for people.
    Show {
        /// The site.
        site: String,
        /// How.
        #[command(flatten)]
        how: Shown,
    },
    /// Prints a site as a survey file.
    Export {
        /// The site.
        site: String,
        /// As it was with this change, or at this day or moment.
        #[arg(long, value_name = "CHANGE|MOMENT")]
        at: Option<String>,
        /// Write it to this file instead.
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
    },
    /// Lists every change of a site: when, who, what.
    History {
        /// The site.
        site: String,
        /// Print it as JSON, and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Lists the values over which people disagree.
    Disagreements {
        /// The site.
        site: String,
        /// Print them as JSON, and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Settles a disagreement by one of its values.
    Settle {
        /// The site.
        site: String,
        /// The disagreement, by its name in the list.
        disagreement: String,
        /// The number of the value.
        number: u32,
    },
    /// Copies a site as it stands, without its history, and prints the copy's id.
    Duplicate {
        /// The site.
        site: String,
        /// What people call the copy.
        label: String,
    },
    /// Says how far the job has come: survey, scheme, price or fit.
    Stage {
        /// The site.
        site: String,
        /// The stage.
        stage: String,
    },
    /// Puts a site into the archive; nothing of it is lost.
    Archive {
        /// The site.
        site: String,
        /// Take it out again.
        #[arg(long)]
        back: bool,
    },
    /// Finds labels, notes and addresses that hold every word.
    Search {
        /// The words, or how they begin.
        #[arg(required = true)]
        words: Vec<String>,
        /// Print them as JSON, and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Builds list and search anew from the changes.
    Rebuild,
    /// Writes a site with its whole history into one file.
    Send {
        /// The site.
        site: String,
        /// The file.
        file: PathBuf,
    },
    /// Takes in a file that was written by `send`.
    Receive {
        /// The file.
        file: PathBuf,
        /// Print what came as JSON, and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Makes one edit of a site, given as JSON or TOML (`newel schema site-edit`), and says what it did.
    Edit {
        /// The site.
        site: String,
        /// The file with the edit; - reads standard input.
        file: PathBuf,
    },
    /// Takes back this device's last change of a site.
    Undo {
        /// The site.
        site: String,
    },
    /// Makes again what was taken back last.
    Redo {
        /// The site.
        site: String,
    },
}

/// How to show a site.
#[derive(Args, Debug)]
pub struct Shown {
    /// The catalogue, TOML or JSON; where absent the one in force, else the invented demo catalogue.
    #[arg(long, value_name = "FILE")]
    catalogue: Option<PathBuf>,
    /// As it was with this change, or at this day or moment.
    #[arg(long, value_name = "CHANGE|MOMENT")]
    at: Option<String>,
    /// Print the plan document as JSON instead, and nothing else.
    #[arg(long)]
    json: bool,
    /// Exit with 3 where a finding stops the job.
    #[arg(long)]
    strict: bool,
    /// Day of issue on the report, such as 2030-03-04; today (UTC) where absent.
    #[arg(long, value_name = "DAY", value_parser = args::day)]
    issued: Option<String>,
}

/// Does it.
pub fn run(home: Option<&Path>, command: SiteCommand) -> Done {
    // What is wrong with a file is said before the store is touched.
    let command = match command {
        SiteCommand::Add { file, id } => return add(home, &file, id.as_deref()),
        SiteCommand::Receive { file, json } => return receive(home, &file, json),
        SiteCommand::Show { site, how } => return show(home, &site, &how),
        SiteCommand::Edit { site, file } => {
            let bytes = input::bytes_or_standard_input(&file)?;
            said(&open(home)?.edit(&site, &bytes, &input::name(&file))?)?;
            return Ok(ExitCode::SUCCESS);
        }
        other => other,
    };
    let mut sites = if command.only_reads() { open_to_read(home)? } else { open(home)? };
    match command {
        SiteCommand::New { label, address } => added(&sites.new_site(&label, &address)?)?,
        SiteCommand::List { json } => {
            let found = sites.list()?;
            print(&if json { desk::json_text(&found) } else { found.to_text() })?;
        }
        SiteCommand::Export { site, at, out } => {
            let text = sites.export(&site, at.as_deref())?;
            match out {
                Some(file) => sites.write_outside(&file, text.as_bytes())?,
                None => print(&text)?,
            }
        }
        SiteCommand::History { site, json } => {
            let found = sites.history(&site)?;
            print(&if json { desk::json_text(&found) } else { found.to_text() })?;
        }
        SiteCommand::Disagreements { site, json } => {
            let found = sites.disagreements(&site)?;
            print(&if json { desk::json_text(&found) } else { found.to_text() })?;
        }
        SiteCommand::Settle { site, disagreement, number } => said(&sites.settle(&site, &disagreement, number)?)?,
        SiteCommand::Duplicate { site, label } => added(&sites.duplicate(&site, &label)?)?,
        SiteCommand::Stage { site, stage } => said(&sites.put_stage(&site, &stage)?)?,
        SiteCommand::Archive { site, back } => {
            said(&sites.archive(&site, if back { Archive::Out } else { Archive::In })?)?;
        }
        SiteCommand::Search { words, json } => {
            let found = sites.search(&words.join(" "))?;
            print(&if json { desk::json_text(&found) } else { found.to_text() })?;
        }
        SiteCommand::Rebuild => print(&format!("list and search built anew: {} sites\n", sites.rebuild()?))?,
        SiteCommand::Send { site, file } => print(&sites.send_file(&site, &file)?.to_text())?,
        SiteCommand::Undo { site } => said(&sites.undo(&site)?)?,
        SiteCommand::Redo { site } => said(&sites.redo(&site)?)?,
        // These were dealt with above.
        SiteCommand::Add { .. } | SiteCommand::Receive { .. } | SiteCommand::Show { .. } | SiteCommand::Edit { .. } => {
        }
    }
    Ok(ExitCode::SUCCESS)
}

impl SiteCommand {
    /// Whether it can be done beside a process that writes.
    fn only_reads(&self) -> bool {
        matches!(
            self,
            Self::List { .. }
                | Self::Show { .. }
                | Self::Export { .. }
                | Self::History { .. }
                | Self::Disagreements { .. }
                | Self::Search { .. }
                | Self::Send { .. }
        )
    }
}

fn open_to_read(home: Option<&Path>) -> Result<Sites, sites::SiteError> {
    Sites::open_to_read(&sites::home_folder(home)?, sites::now_ms)
}

fn open(home: Option<&Path>) -> Result<Sites, sites::SiteError> {
    Sites::open(&sites::home_folder(home)?, sites::now_ms)
}

/// A new site is answered with its id alone, for scripts; the words go to standard error.
fn added(new: &Said) -> io::Result<()> {
    output::remark(&new.sentence);
    print(&format!("{}\n", new.id))
}

fn said(done: &Said) -> io::Result<()> {
    print(&format!("{}\n", done.sentence))
}

fn add(home: Option<&Path>, file: &Path, id: Option<&str>) -> Done {
    let demo = file == Path::new("demo") && !file.exists();
    let (bytes, name) =
        if demo { (demo::SITE.to_vec(), demo::SITE_NAME.to_owned()) } else { (input::bytes(file)?, input::name(file)) };
    let survey = desk::read_survey(&bytes, &name)?;
    added(&open(home)?.add(survey, id)?)?;
    Ok(ExitCode::SUCCESS)
}

fn receive(home: Option<&Path>, file: &Path, json: bool) -> Done {
    let fault = |why: &dyn std::fmt::Display| {
        let fault = Fault::of_file(&input::name(file), &why.to_string(), "a file written by newel site send");
        Faults { list: vec![fault] }
    };
    let mut parcel = std::fs::File::open(file).map_err(|why| fault(&format!("can't be read: {why}")))?;
    let came = open(home)?.receive(&mut parcel).map_err(|why| fault(&why))?;
    print(&if json { desk::json_text(&came) } else { came.to_text() })?;
    Ok(ExitCode::SUCCESS)
}

fn show(home: Option<&Path>, site: &str, how: &Shown) -> Done {
    let catalogue = match &how.catalogue {
        Some(path) => read_catalogue(&input::bytes(path)?, &input::name(path))?,
        None => match open_to_read(home)?.catalogue_in_force()? {
            Some(catalogue) => catalogue,
            None => {
                output::say_demo_catalogue();
                read_catalogue(demo::CATALOGUE, demo::CATALOGUE_NAME)?
            }
        },
    };
    let planned = open_to_read(home)?.show(site, how.at.as_deref(), catalogue)?;
    if how.json {
        print(&planned.to_json())?;
    } else {
        print(&planned.to_text(&how.issued.clone().unwrap_or_else(desk::day::today)))?;
    }
    Ok(exit(planned.has_stops(), how.strict))
}
