//! `newel photo`: the photos of the sites in the store.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{ArgGroup, Args, Subcommand};
use desk::photos::{Batch, Drawn, Offset, Place, Tell, seconds};
use desk::sites::{self, Said, Sites};

use crate::input;
use crate::output::{self, Done, print};
use crate::progress::Progress;

/// What to do with photos. A photo is named by its id, the beginning of its id, or the name of its file.
#[derive(Debug, Subcommand)]
pub enum PhotoCommand {
    /// Adds files, and all that is in folders, to a site. Originals are kept byte for byte; the same bytes are added once.
    /// Ctrl-C stops it: what was added stays.
    Add {
        /// The site.
        site: String,
        /// Files and folders.
        #[arg(required = true)]
        files: Vec<PathBuf>,
        /// How local time stands to UTC where no camera says so, such as +02:00.
        #[arg(long, value_name = "OFFSET", value_parser = offset, allow_hyphen_values = true)]
        offset: Option<Offset>,
        /// Print what became of every file as JSON, and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Lists the photos of a site, those taken elsewhere, and cameras whose clock seems wrong.
    List {
        /// The site.
        site: String,
        /// Print them as JSON, and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Prints everything that is known of one photo.
    Show {
        /// The site.
        site: String,
        /// The photo.
        photo: String,
        /// Print it as JSON, and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Says what photos show.
    Place {
        /// The site.
        site: String,
        /// The photos; with --accept all whose rail is certain where none is named.
        photos: Vec<String>,
        /// What they show.
        #[command(flatten)]
        what: What,
    },
    /// Lists cameras whose clock seems wrong, or puts the times of a batch right in the record; no file is touched.
    Clock {
        /// The site.
        site: String,
        /// The photos to put right; or all of a camera.
        photos: Vec<String>,
        /// All photos of this camera.
        #[arg(long, conflicts_with = "photos")]
        camera: Option<String>,
        /// How far the clock was ahead, such as "1 h 2 min" or seconds.
        #[arg(long, value_name = "SPAN", value_parser = span)]
        ahead: Option<i64>,
        /// How far the clock was behind.
        #[arg(long, value_name = "SPAN", value_parser = span, conflicts_with = "ahead")]
        behind: Option<i64>,
    },
    /// Writes the note of a photo.
    Note {
        /// The site.
        site: String,
        /// The photo.
        photo: String,
        /// The note.
        note: String,
    },
    /// Writes the mark-up of a photo: arrows, dimensions, boxes and words as data over the untouched original.
    Mark {
        /// The site.
        site: String,
        /// The photo.
        photo: String,
        /// The mark-up, JSON or TOML; - for standard input. `newel schema photo-marks` says what it may hold.
        file: PathBuf,
    },
    /// Writes a copy of a photo at full resolution with its mark-up drawn on it.
    Render {
        /// The site.
        site: String,
        /// The photo.
        photo: String,
        /// The file to write, a JPEG.
        file: PathBuf,
    },
    /// Writes copies for a client: without position, serial numbers and owner unless asked for.
    Client {
        /// The site.
        site: String,
        /// The photos; all where none is named.
        photos: Vec<String>,
        /// The folder; it is made where it is missing.
        #[arg(long, value_name = "DIR")]
        out: PathBuf,
        /// Tell where they were taken and which way the camera pointed.
        #[arg(long)]
        position: bool,
        /// Tell the camera with its serial number.
        #[arg(long)]
        camera: bool,
        /// Tell who owns the camera and took the picture.
        #[arg(long)]
        owner: bool,
        /// Draw the mark-up on them; such copies tell nothing else.
        #[arg(long, conflicts_with_all = ["position", "camera", "owner"])]
        marks: bool,
        /// Print what was written as JSON, and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Prints the photo log of a site as CSV.
    Log {
        /// The site.
        site: String,
        /// Write it to this file instead.
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
    },
    /// Prints rails, mains points and photo positions of a site as GeoJSON.
    Geojson {
        /// The site.
        site: String,
        /// Write it to this file instead.
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
    },
}

/// What photos show.
#[derive(Args, Debug)]
#[command(group = ArgGroup::new("what").required(true).args(["accept", "rail", "mains_point", "route", "defect", "general"]))]
pub struct What {
    /// The rail and chainage that their own positions propose.
    #[arg(long)]
    accept: bool,
    /// A rail, by its id or label.
    #[arg(long)]
    rail: Option<String>,
    /// Where on the rail, such as 3.2m.
    #[arg(long, requires = "rail", value_name = "LENGTH", value_parser = desk::photos::chainage)]
    chainage: Option<desk::photos::Chainage>,
    /// A mains point, by its id or label.
    #[arg(long)]
    mains_point: Option<String>,
    /// A route, by its id or label.
    #[arg(long)]
    route: Option<String>,
    /// A defect, in words.
    #[arg(long, value_name = "WORDS")]
    defect: Option<String>,
    /// The site in general.
    #[arg(long)]
    general: bool,
}

impl What {
    fn place(self) -> Place {
        match self {
            Self { rail: Some(rail), chainage, .. } => Place::Rail { rail, chainage },
            Self { mains_point: Some(point), .. } => Place::MainsPoint(point),
            Self { route: Some(route), .. } => Place::Route(route),
            Self { defect: Some(words), .. } => Place::Defect(words),
            Self { accept: true, .. } => Place::Proposed,
            _ => Place::General,
        }
    }
}

fn offset(text: &str) -> Result<Offset, String> {
    Offset::parse(text).ok_or_else(|| "accepted: an offset such as +02:00, -03:30 or Z".to_owned())
}

fn span(text: &str) -> Result<i64, String> {
    seconds(text).map_err(|why| why.to_string())
}

/// Does it.
pub fn run(home: Option<&Path>, command: PhotoCommand) -> Done {
    let home = sites::home_folder(home)?;
    let open = || Sites::open(&home, sites::now_ms);
    let read = || Sites::open_to_read(&home, sites::now_ms);
    match command {
        PhotoCommand::Add { site, files, offset, json } => return add(&mut open()?, &site, &files, offset, json),
        PhotoCommand::List { site, json } => {
            let found = read()?.photos(&site)?;
            print(&if json { desk::json_text(&found) } else { found.to_text() })?;
        }
        PhotoCommand::Show { site, photo, json } => {
            let found = read()?.photo(&site, &photo)?;
            print(&if json { desk::json_text(&found) } else { found.to_text() })?;
        }
        PhotoCommand::Place { site, photos, what } => {
            said(&open()?.place_photos(&site, &photos, &what.place())?)?;
        }
        PhotoCommand::Clock { site, photos, camera, ahead, behind } => {
            return clock(&home, &site, photos, camera, ahead.or(behind.map(|span| -span)));
        }
        PhotoCommand::Note { site, photo, note } => said(&open()?.note_photo(&site, &photo, &note)?)?,
        PhotoCommand::Mark { site, photo, file } => {
            // What is wrong with the file is said before the store is touched.
            let bytes = input::bytes_or_standard_input(&file)?;
            desk::read::read_marks(&bytes, &input::name(&file))?;
            said(&open()?.mark_photo(&site, &photo, &bytes, &input::name(&file))?)?;
        }
        PhotoCommand::Render { site, photo, file } => {
            let mut sites = read()?;
            let picture = sites.render_photo(&site, &photo)?;
            sites.write_outside(&file, &picture)?;
        }
        PhotoCommand::Client { site, photos, out, position, camera, owner, marks, json } => {
            let drawn = if marks { Drawn::Marks } else { Drawn::Nothing };
            let tell = Tell { position, camera, owner };
            let progress = Progress::until_interrupted()?;
            let copies = read()?.client_copies(&site, &photos, tell, drawn, &out, &progress)?;
            print(&if json { desk::json_text(&copies) } else { copies.to_text() })?;
            let refusals = copies.refusals();
            refusals.iter().for_each(|line| output::remark(line));
            if copies.stopped {
                return Ok(ExitCode::from(crate::STOPPED_BY_PERSON));
            }
            return Ok(status(refusals.len() == copies.copies.len() && !refusals.is_empty()));
        }
        PhotoCommand::Log { site, out } => {
            let mut sites = read()?;
            let log = sites.photo_log(&site)?;
            text(&sites, &log, out.as_deref())?;
        }
        PhotoCommand::Geojson { site, out } => {
            let mut sites = read()?;
            let positions = sites.geojson(&site)?;
            text(&sites, &positions, out.as_deref())?;
        }
    }
    Ok(ExitCode::SUCCESS)
}

fn said(done: &Said) -> std::io::Result<()> {
    print(&format!("{}\n", done.sentence))
}

fn text(sites: &Sites, text: &str, out: Option<&Path>) -> Result<(), Box<dyn std::error::Error>> {
    match out {
        Some(file) => Ok(sites.write_outside(file, text.as_bytes())?),
        None => Ok(print(text)?),
    }
}

/// Nothing of the input could be used, or some of it was.
fn status(is_refused: bool) -> ExitCode {
    if is_refused { ExitCode::from(crate::REFUSED) } else { ExitCode::SUCCESS }
}

fn add(sites: &mut Sites, site: &str, files: &[PathBuf], offset: Option<Offset>, json: bool) -> Done {
    let progress = Progress::until_interrupted()?;
    let done = sites.add_photos(site, files, offset, &progress)?;
    print(&if json { desk::json_text(&done) } else { done.to_text() })?;
    done.refusals().iter().for_each(|line| output::remark(line));
    if done.stopped {
        return Ok(ExitCode::from(crate::STOPPED_BY_PERSON));
    }
    Ok(status(done.refused > 0 && done.added + done.linked + done.restored + done.duplicates == 0))
}

fn clock(home: &Path, site: &str, photos: Vec<String>, camera: Option<String>, ahead_s: Option<i64>) -> Done {
    let batch = match (camera, photos) {
        (Some(camera), _) => Some(Batch::Camera(camera)),
        (None, photos) if !photos.is_empty() => Some(Batch::Photos(photos)),
        _ => None,
    };
    match (batch, ahead_s) {
        (Some(batch), Some(ahead_s)) => {
            said(&Sites::open(home, sites::now_ms)?.correct_clock(site, &batch, ahead_s)?)?;
        }
        (None, None) => {
            for clock in Sites::open_to_read(home, sites::now_ms)?.clocks(site)? {
                print(&format!("{}\n", clock.sentence))?;
            }
        }
        (Some(_), None) => return Err("say how far the clock was --ahead or --behind".into()),
        (None, Some(_)) => return Err("say which photos: name them, or a --camera".into()),
    }
    Ok(ExitCode::SUCCESS)
}
