//! How long a first pull of a site with 500 photos takes, beside what copies the same bytes by other means, and how long a
//! round takes in which nothing is new. Usage: rounds [PHOTOS [idle|folder|web]...]

#[allow(dead_code)]
#[path = "../../tests/servers/mod.rs"]
mod servers;
mod shelf;

use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode};
use std::time::Instant;

use exchange::DeviceId;
use exchange::engine::{AT_ONCE, Go, Report, Round, drive};
use exchange::members::Label;
use exchange::memory::Memory;
use exchange::pack::{Blob, Class, Item};
use exchange::place::{Folder, Place};
use exchange::seal::{Identity, Name};
use places::open;
use servers::apache::{Apache, Wish};
use shelf::Shelf;

/// The size of a photo, bytes.
const PHOTO: usize = 3_000_000;
/// A pull from a folder may take so many times as long as a copy.
const MOST_OF_COPY: f64 = 1.5;
/// A pull over WebDAV must be so fast beside curl.
const LEAST_OF_CURL: f64 = 0.8;
/// A round in which nothing is new may take so long, s.
const MOST_IDLE_S: f64 = 2.0;
/// So often each is measured, by turns; the figure is the one in the middle.
const TIMES: u8 = 5;

/// A device and its store.
struct Device {
    own: Identity,
    shelf: Shelf,
    drawn: u8,
}

impl Device {
    fn new(n: u8, folder: PathBuf, keeps: bool) -> Self {
        Self { own: Identity::new([n; 32]), shelf: Shelf::new(folder, keeps), drawn: 0 }
    }

    fn random(&mut self) -> [u8; 32] {
        self.drawn += 1;
        [self.drawn; 32]
    }

    fn round(&mut self, place: &dyn Place) -> Report {
        let memory = Memory::from_bytes(&self.shelf.memory).expect("what it wrote");
        let round = Round::new(self.own.clone(), memory, 0, self.random());
        drive(round, place, &mut self.shelf, &mut |_| Go::On).expect("a round").expect("nobody stops it").0
    }

    fn change(&mut self, change: impl FnOnce(&mut Memory, &Identity, [u8; 32])) {
        let mut memory = Memory::from_bytes(&self.shelf.memory).expect("what it wrote");
        let random = self.random();
        change(&mut memory, &self.own, random);
        self.shelf.memory = memory.to_bytes();
    }
}

fn label() -> Label {
    Label { person: "Invented Person".to_owned(), device: "tablet".to_owned() }
}

fn found(device: &mut Device) {
    let random = device.random();
    let memory = Memory::found(&device.own, &label(), true, &mut || random, 0).expect("founded");
    device.shelf.memory = memory.to_bytes();
}

/// Lets a newcomer in, who has not pulled anything then.
fn let_in(place: &dyn Place, a: &mut Device, b: &mut Device) {
    let (mut code, mut root) = (None, [0; 32]);
    a.change(|memory, own, random| {
        code = memory.invite(own, &mut || random, 0).ok();
        root = memory.log().root();
    });
    b.shelf.memory = Memory::join(root, &b.own, code.expect("invited"), &label()).to_bytes();
    a.round(place);
    b.round(place);
    a.round(place);
    let id: DeviceId = b.own.id();
    a.change(|memory, own, random| {
        memory.approve(own, id, &mut || random, 0).expect("let in");
    });
    a.round(place);
}

fn seconds(work: impl FnOnce()) -> f64 {
    let begun = Instant::now();
    work();
    begun.elapsed().as_secs_f64()
}

fn run(command: &mut Command) {
    let status = command.status().expect("a program");
    assert!(status.success(), "{command:?}");
}

fn photos(folder: &Path, many: usize) -> Vec<PathBuf> {
    std::fs::create_dir_all(folder).expect("a folder");
    let mut state = 1u64;
    let photo = |n: usize| {
        let mut bytes = Vec::with_capacity(PHOTO + 8);
        while bytes.len() < PHOTO {
            // xorshift64: photos are as good as random, so that nothing on the way makes them smaller.
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            bytes.extend(state.to_le_bytes());
        }
        let path = folder.join(format!("{n:05}"));
        std::fs::write(&path, &bytes[..PHOTO]).expect("a photo");
        path
    };
    (0..many).map(photo).collect()
}

/// Whether a goal is met, told.
fn told(what: &str, found: f64, goal: &str, met: bool) -> bool {
    println!("  {what:<62} {found:7.2}  goal: {goal}: {}", if met { "met" } else { "missed" });
    met
}

/// The one in the middle.
fn median(mut all: Vec<f64>) -> f64 {
    all.sort_by(f64::total_cmp);
    all[all.len() / 2]
}

/// The most memory that this process has had since this was last asked, MB; `None` where the system does not tell.
fn peak_mb() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    // The highest mark is set back to what is held now (proc(5), clear_refs).
    std::fs::write("/proc/self/clear_refs", "5").ok()?;
    Some(line.trim().strip_suffix("kB")?.trim().parse::<f64>().ok()? * 1024.0 / 1e6)
}

/// A site with photos in a team's folder, and where it came from.
struct Site {
    base: PathBuf,
    from: PathBuf,
    shared: PathBuf,
    place: Folder,
    a: Device,
    many: usize,
}

impl Site {
    fn new(base: &Path, many: usize) -> Self {
        let (from, shared) = (base.join("from"), base.join("shared"));
        std::fs::create_dir_all(&shared).expect("a folder");
        let files = photos(&from, many);
        let place = Folder::open(&shared, [1; 8]).expect("a place");
        let mut a = Device::new(1, base.join("a"), true);
        found(&mut a);
        for file in files {
            a.shelf.add(file);
        }
        let gave = seconds(|| assert_eq!(a.round(&place).blobs_gave, many as u64));
        let site = Self { base: base.to_owned(), from, shared, place, a, many };
        println!("{many} photos, {:.0} MB; in the middle of {TIMES} times each:", site.megabytes());
        println!("  into a folder {:.0} MB/s", site.megabytes() / gave);
        site
    }

    fn megabytes(&self) -> f64 {
        (self.many * PHOTO) as f64 / 1e6
    }

    /// The first pull of a newcomer: how long it takes, s, and its memory, MB.
    fn pulled(&mut self, n: u8, place: Option<&dyn Place>, syncs: bool) -> (f64, f64) {
        let folder = self.base.join("b");
        let mut b = Device::new(n, folder.clone(), true);
        let place = place.unwrap_or(&self.place);
        let_in(place, &mut self.a, &mut b);
        run(&mut Command::new("sync"));
        peak_mb();
        let took = seconds(|| {
            b.round(place);
            if syncs {
                run(&mut Command::new("sync"));
            }
        });
        let peak = peak_mb().unwrap_or(f64::NAN);
        assert_eq!(b.shelf.came(), self.many);
        std::fs::remove_dir_all(&folder).expect("removed");
        (took, peak)
    }

    fn against_copy(&mut self) -> bool {
        let (mut copies, mut pulls, mut most) = (Vec::new(), Vec::new(), 0.0_f64);
        for n in 0..TIMES {
            let copy = self.base.join("copy");
            run(&mut Command::new("sync"));
            copies.push(seconds(|| {
                run(Command::new("cp").arg("-r").arg(&self.from).arg(&copy));
                run(&mut Command::new("sync"));
            }));
            std::fs::remove_dir_all(&copy).expect("removed");
            let (took, peak) = self.pulled(10 + n, None, true);
            pulls.push(took);
            most = most.max(peak);
        }
        let (copied, pulled, megabytes) = (median(copies), median(pulls), self.megabytes());
        println!(
            "  cp -r and sync {:.0} MB/s; first pull and sync {:.0} MB/s, in {most:.0} MB of memory at most",
            megabytes / copied,
            megabytes / pulled
        );
        let times = pulled / copied;
        told("first pull from a folder, times a copy", times, "at most 1.5", times <= MOST_OF_COPY)
    }

    fn against_curl(&mut self) -> bool {
        let apache = Apache::start(Wish { shared: Some(self.shared.clone()), ..Wish::default() });
        run(Command::new("chmod").args(["-R", "a+rwX"]).arg(&self.shared));
        let (mut curls, mut pulls, mut most) = (Vec::new(), Vec::new(), 0.0_f64);
        for n in 0..TIMES {
            run(&mut Command::new("sync"));
            curls.push(curl(&apache, &self.shared, &self.base));
            let opened = open(&apache.settings(), [n; 8]).expect("a place");
            let (took, peak) = self.pulled(20 + n, Some(opened.place()), false);
            pulls.push(took);
            most = most.max(peak);
        }
        let (curled, pulled, megabytes) = (median(curls), median(pulls), self.megabytes());
        println!(
            "  {AT_ONCE} curl at once {:.0} MB/s; first pull over WebDAV {:.0} MB/s, in {most:.0} MB of memory at most",
            megabytes / curled,
            megabytes / pulled
        );
        let times = curled / pulled;
        told("first pull over WebDAV, times as fast as curl", times, "at least 0.8", times >= LEAST_OF_CURL)
    }
}

/// The same objects by curl into files, several at once over the same TLS.
fn curl(apache: &Apache, shared: &Path, base: &Path) -> f64 {
    let to = base.join("curl");
    std::fs::create_dir_all(&to).expect("a folder");
    let mut config = String::new();
    for folder in std::fs::read_dir(shared.join("objects")).expect("objects").map(|folder| folder.expect("one").path())
    {
        for object in std::fs::read_dir(&folder).expect("objects").map(|object| object.expect("one").path()) {
            let path = object.strip_prefix(shared).expect("inside").display().to_string();
            let name = object.file_name().expect("a name").to_string_lossy().into_owned();
            config.push_str(&format!(
                "url = {}/{path}\noutput = {}\n",
                apache.settings().address,
                to.join(name).display()
            ));
        }
    }
    let list = base.join("curl.list");
    std::fs::write(&list, config).expect("written");
    let login = format!("{}:{}", servers::apache::USER, servers::apache::PASSWORD);
    let took = seconds(|| {
        run(Command::new("curl")
            .args([
                "--silent",
                "--show-error",
                "--no-progress-meter",
                "--fail",
                "--parallel",
                "--parallel-max",
                &AT_ONCE.to_string(),
                "--user",
                &login,
                "--cacert",
            ])
            .arg(&apache.certificates.ca)
            .arg("--config")
            .arg(&list));
    });
    std::fs::remove_dir_all(&to).expect("removed");
    took
}

/// Nothing new on 1,000 sites with 200 photos and 50 changes each.
fn idle(base: &Path) -> bool {
    let shared = base.join("many");
    std::fs::create_dir_all(&shared).expect("a folder");
    let place = Folder::open(&shared, [1; 8]).expect("a place");
    let mut a = Device::new(1, base.join("many-a"), false);
    let mut b = Device::new(2, base.join("many-b"), false);
    found(&mut a);
    let_in(&place, &mut a, &mut b);
    for n in 0..200_000u64 {
        let mut id = [7; 32];
        id[..8].copy_from_slice(&n.to_be_bytes());
        let blob = Blob { id, class: Class::Original, bytes: PHOTO as u64, blocks: vec![Name(id)] };
        a.shelf.pending.push_back(Item::Blob(blob));
        if n % 4 == 0 {
            a.shelf.pending.push_back(Item::Data(n.to_be_bytes().repeat(15)));
        }
    }
    a.round(&place);
    b.round(&place);
    assert_eq!(b.shelf.taken, 250_000);
    for _ in 0..20 {
        a.round(&place);
        b.round(&place);
    }
    let worst = (0..5).map(|_| seconds(|| drop(b.round(&place))).max(seconds(|| drop(a.round(&place)))));
    let worst = worst.fold(0.0, f64::max);
    println!("1,000 sites with 200,000 photos and 50,000 changes, nothing new:");
    told("the longest of ten rounds, s", worst, "under 2", worst < MOST_IDLE_S)
}

/// What is measured where nothing is named.
const PARTS: [&str; 3] = ["idle", "folder", "web"];

fn main() -> ExitCode {
    let args: Vec<String> = std::env::args().skip(1).filter(|arg| arg != "--bench").collect();
    let (many, parts) = match args.split_first() {
        None => (Some(500), &args[..]),
        Some((many, parts)) => (many.parse().ok(), parts),
    };
    let Some(many) = many.filter(|many| *many > 0 && parts.iter().all(|part| PARTS.contains(&part.as_str()))) else {
        eprintln!("rounds [PHOTOS [{}]...]", PARTS.join("|"));
        return ExitCode::from(2);
    };
    let measures = |part: &str| parts.is_empty() || parts.iter().any(|named| named == part);
    let base = Path::new(env!("CARGO_TARGET_TMPDIR")).join("rounds-bench");
    let _ = std::fs::remove_dir_all(&base);
    std::fs::create_dir_all(&base).expect("a folder");
    let mut met = true;
    if measures("idle") {
        met &= idle(&base);
    }
    if measures("folder") || measures("web") {
        let mut site = Site::new(&base, many);
        if measures("folder") {
            met &= site.against_copy();
        }
        if measures("web") {
            met &= site.against_curl();
        }
    }
    let _ = std::fs::remove_dir_all(&base);
    ExitCode::from(u8::from(!met))
}
