//! How long a person waits for the store: an edit until it is on the disk, opening a large site, the list, a search.
//!
//! Prints goal, figure and verdict, and ends with 1 where a goal is missed; the figures depend on the machine and on what
//! else it is doing.

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use record::document::Thing;
use record::edit::Edit;
use record::sign::Device;
use record::store::{Site as OpenSite, Store};
use survey::{Site as SurveyedSite, *};
use units::{Celsius, Degrees, Length};

const RAILS: usize = 100;
const FEATURES: usize = 60;
const EDITS: usize = 2_000;
const SITES: usize = 1_000;
const NOTES: usize = 100;

/// Whether a goal was missed.
static MISSED: AtomicBool = AtomicBool::new(false);

/// A folder on the same drive as the build, so that "durable" means what it means there; removed in the end.
struct Folder(PathBuf);

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

fn main() {
    let folder = Folder(Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("record-speed-{}", std::process::id())));
    std::fs::create_dir_all(&folder.0).expect("a folder");
    println!("The store, on {}:", folder.0.display());
    one_large_site(&folder.0.join("large"));
    many_sites(&folder.0.join("many"));
    drop(folder);
    std::process::exit(i32::from(MISSED.load(Ordering::Relaxed)));
}

fn open(folder: &Path, opening: u8) -> Store {
    Store::open(folder, Device::new("Invented Person", "bench", [1; 32]), [opening; 16]).expect("a store")
}

fn one_large_site(folder: &Path) {
    let mut store = open(folder, 1);
    let mut site = store.create(&large("large", RAILS, FEATURES), 0).expect("created");
    println!("  a site of {RAILS} rails and {} features:", RAILS * FEATURES);
    let mut times: Vec<Duration> = (0..EDITS).map(|n| one_edit(&mut store, &mut site, n)).collect();
    times.sort_unstable();
    say("one edit to durable, p50", times[EDITS / 2], None);
    say("one edit to durable, p99", times[EDITS * 99 / 100], Some(20.0));
    say("one edit to durable, worst", times[EDITS - 1], None);
    say("the whole survey after it", median(9, || drop(site.reading())), None);
    say("take back", median(5, || drop(site.undo(&mut store, 9).expect("taken back"))), None);
    drop((site, store));
    let mut store = open(folder, 2);
    let mut times: Vec<Duration> = (0..9).map(|_| one_opening(&mut store)).collect();
    say("open, first time after the edits", times[0], None);
    times.sort_unstable();
    let time = times[times.len() / 2];
    say(&format!("open, with {EDITS} edits"), time, Some(150.0));
}

/// Opens the site; what was opened is put away afterwards, which nobody waits for.
fn one_opening(store: &mut Store) -> Duration {
    let start = Instant::now();
    let site = store.site("large").expect("opened");
    let time = start.elapsed();
    drop(site);
    time
}

fn one_edit(store: &mut Store, site: &mut OpenSite, n: usize) -> Duration {
    let (rail, feature) = (format!("R{}", n * 7 % RAILS), format!("P{}", n * 13 % FEATURES));
    let edit = match n % 4 {
        0 => Edit::set(Thing::feature(&rail, &feature), "note", &format!("loose, seen {n} times")),
        1 => Edit::ChangeKind { rail, feature, to: FeatureKind::Damage { width: Length::um(n as i64) } },
        2 => Edit::set(Thing::rail(&rail), "overall", &Some(Measurement::taped(Length::um(n as i64)))),
        _ => Edit::Move { rail, feature, to: Measurement::taped(Length::um(n as i64)) },
    };
    let time = i64::try_from(n).expect("few");
    let start = Instant::now();
    site.edit(store, &edit, time).expect("made");
    start.elapsed()
}

fn many_sites(folder: &Path) {
    let mut store = open(folder, 1);
    for n in 0..SITES {
        store.create(&large(&format!("site-{n}"), 1, NOTES - 3), n as i64).expect("created");
    }
    println!("  {SITES} sites with {} texts:", SITES * NOTES);
    say("the list", median(9, || assert_eq!(store.sites().expect("list").len(), SITES)), Some(50.0));
    for (what, words) in [
        ("a search for a rare word", "porter77"),
        ("a search for a word begun", "por"),
        ("a search for a word in every note", "loose"),
        ("a search for two words", "loose bracket5"),
    ] {
        let time = median(9, || assert!(!store.search(words, 50).expect("searched").is_empty(), "{words}"));
        say(what, time, Some(50.0));
    }
}

fn once(work: impl FnOnce()) -> Duration {
    let start = Instant::now();
    work();
    start.elapsed()
}

fn median(runs: usize, mut work: impl FnMut()) -> Duration {
    let mut times: Vec<Duration> = (0..runs).map(|_| once(&mut work)).collect();
    times.sort_unstable();
    times[runs / 2]
}

fn say(what: &str, time: Duration, goal_ms: Option<f64>) {
    let ms = time.as_secs_f64() * 1000.0;
    let verdict = match goal_ms {
        Some(goal) if ms <= goal => format!("goal {goal:.0} ms, met"),
        Some(goal) => {
            MISSED.store(true, Ordering::Relaxed);
            format!("goal {goal:.0} ms, MISSED")
        }
        None => "no goal".to_owned(),
    };
    println!("    {what:<36} {ms:>9.2} ms   {verdict}");
}

/// An invented site.
fn large(own: &str, rails: usize, features: usize) -> Survey {
    let id = |text: &str| Id::new(text).expect("a short printable text");
    let exposure = Exposure {
        setting: Setting::OutdoorOpen,
        salt: Salt { salt_water: None, deicing: None },
        cleaning: String::new(),
        public_reach: PublicReach::PublicAlways,
        least_temperature: Celsius::new(-10.0),
        greatest_temperature: Celsius::new(40.0),
        in_sun: true,
        special: None,
    };
    let feature = |rail: usize, n: usize| Feature {
        id: id(&format!("P{n}")),
        label: format!("P{n}"),
        chainage: Measurement::taped(Length::mm(400 * n as i64)),
        kind: FeatureKind::Post { width: Length::mm(40), kind: PostKind::Saddle, into_post: Passage::Unknown },
        keep_clear: Some(Length::mm(60)),
        bore: Passage::Assumed,
        note: format!("loose bracket{} by the porter{} of stair {rail}", n % 11, (rail + n) % 97),
    };
    let rail = |n: usize| Rail {
        id: id(&format!("R{n}")),
        label: format!("rail {n}"),
        datum: Datum { end: "foot".to_owned(), mark: "punch".to_owned() },
        pieces: vec![Piece::Straight(Straight {
            id: id("s1"),
            length: Measurement::taped(Length::mm(400 * features as i64)),
            slope: Degrees::new(0.0),
            mark: None,
        })],
        overall: Some(Measurement::taped(Length::mm(400 * features as i64))),
        tube: Tube {
            profile: Profile::Round,
            outside_diameter: Measurement::taped(Length::um(42_400)),
            wall: None,
            material: Material::StainlessSteel,
            grade: None,
            finish: None,
        },
        height: None,
        walking_width: None,
        walked_side: WalkedSide::Left,
        start_end: EndState::Open,
        far_end: EndState::Open,
        features: (0..features).map(|f| feature(n, f)).collect(),
        sketch: None,
        ownership: None,
        bonding: Bonding { bonded: Answer::Unknown, lightning: Answer::No, near_traction: Answer::No },
        guard: Answer::Yes,
        sealed: Answer::No,
        drains: Answer::Unknown,
        exposure: None,
        note: "sounded along its length".to_owned(),
    };
    Survey {
        site: SurveyedSite {
            id: id(own),
            label: format!("invented site {own}"),
            address: "1 Invented Road".to_owned(),
            invented: true,
            surveyed_on: None,
            surveyor: None,
            origin: None,
            exposure,
            note: String::new(),
        },
        rails: (0..rails).map(rail).collect(),
        mains_points: vec![],
        driver_places: vec![],
        routes: vec![],
        photos: vec![],
        brief: Brief {
            rails: vec![],
            zones: vec![],
            reserve_percent: 20,
            drop_permille: 50,
            loop_per_hole: Length::mm(50),
            spare_percent: 5,
        },
    }
}
