//! How long a person waits for the window, and what it takes of the machine: a cold start beside that of a blank window,
//! opening the demo site, from a key to the changed drawing, frames while 5,000 photos and a rail of 200 m scroll, memory.
//!
//! `window BLANK MANY.json [PART]`: the program of the blank window, and a survey of a hundred rails; `starts`, `demo` or
//! `large` measures that part alone. Prints goal, figure and verdict, and ends with 1 where a goal is missed. The page itself
//! takes the times, by `performance.now()`; a process's start is known to 10 ms. The page is drawn without a graphics card
//! here, for both windows alike.

#[allow(dead_code, reason = "the journeys use more of it")]
mod machine;
#[allow(dead_code, reason = "the journeys use more of it")]
mod page;

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant, SystemTime};

use desk::photos::Unwatched;
use desk::sites::{Sites, now_ms};
use machine::{Machine, built, workspace};
use page::{Page, key};
use serde_json::{Value, json};

const SCREEN: &str = "1366x820";
const STARTS: usize = 7;
const PHOTOS: u32 = 5_000;

fn main() {
    let mut words = std::env::args().skip(1).filter(|word| word != "--bench");
    let (blank, many) = words.next().zip(words.next()).expect("window BLANK MANY.json [starts|demo|large]");
    println!("The window, drawn by the processor:");
    let met = match words.next().as_deref() {
        None => [starts(blank.as_ref()), demo(), large(many.as_ref())].concat(),
        Some("starts") => starts(blank.as_ref()),
        Some("demo") => demo(),
        Some("large") => large(many.as_ref()),
        Some(part) => panic!("{part} is no part of it; accepted: starts, demo, large"),
    };
    let missed = met.iter().filter(|met| !**met).count();
    println!("{} of {} goals met", met.len() - missed, met.len());
    std::process::exit(i32::from(missed > 0));
}

/// Prints a figure with its goal; whether it is met.
fn verdict(what: &str, figure: f64, goal: f64, unit: &str) -> bool {
    let met = figure <= goal;
    println!("  {what}: {figure:.1}{unit}; goal at most {goal}{unit}: {}", if met { "met" } else { "MISSED" });
    met
}

/// Middle, 95th of a hundred and greatest.
fn spread(mut figures: Vec<f64>) -> (f64, f64, f64) {
    figures.sort_by(f64::total_cmp);
    let at = |part: f64| figures[((figures.len() as f64 * part) as usize).min(figures.len() - 1)];
    (at(0.5), at(0.95), figures[figures.len() - 1])
}

/// Cold starts in turn, with a list of some sites to show.
fn starts(blank: &Path) -> Vec<bool> {
    let machine = Machine::start("bench-start", SCREEN);
    let mut sites = Sites::open(&machine.store(), now_ms).expect("a store");
    sites.add_file(desk::demo::SITE, "site.json", None).expect("the demo site");
    for number in 1..=20 {
        sites.new_site(&format!("Invented site {number}"), "nowhere").expect("made");
    }
    drop(sites);
    let (mut ours, mut theirs) = (Vec::new(), Vec::new());
    for _ in 0..STARTS {
        theirs.push(start(&machine, blank, "shown"));
        ours.push(start(&machine, &built("newel-window"), "first-shown"));
    }
    machine.end();
    let (ours, theirs) = (spread(ours).0, spread(theirs).0);
    println!(
        "  from the start of the process, middle of {STARTS}: list of sites {ours:.0} ms, blank window {theirs:.0} ms"
    );
    vec![verdict("cold start, as many times as a blank window", ours / theirs, 1.5, "")]
}

/// From the start of a program's process until its page has noted a measure [ms].
fn start(machine: &Machine, program: &Path, measure: &str) -> f64 {
    let page = Page::open(machine.port, program, &[]);
    let script = "const found = performance.getEntriesByName(arguments[0])[0]; \
                  return found ? performance.timeOrigin + found.startTime + found.duration : null";
    let shown = page.wait("its content", script, &[json!(measure)]).as_f64().expect("a moment");
    let name = program.file_name().expect("a program").to_string_lossy().into_owned();
    let began = began(&name);
    machine.close_of(page, &name);
    shown - began
}

/// When the process of a program began, milliseconds since 1970.
fn began(name: &str) -> f64 {
    let stat = processes().into_iter().find(|(own, ..)| own == name).expect("it runs").1;
    let read = |path: &str| std::fs::read_to_string(path).expect("Linux has /proc");
    let up: f64 = read("/proc/uptime").split(' ').next().and_then(|word| word.parse().ok()).expect("a number");
    let now = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH).expect("after 1970").as_secs_f64();
    // The 22nd field, in hundredths of a second since the machine started (proc_pid_stat(5)).
    let ticks: f64 = stat.split(' ').nth(19).and_then(|word| word.parse().ok()).expect("a number");
    (now - up + ticks / 100.0) * 1000.0
}

/// Every process: its name, what follows that in its `stat`, and its folder.
fn processes() -> Vec<(String, String, PathBuf)> {
    let found = std::fs::read_dir("/proc").expect("Linux has /proc").flatten();
    let one = |entry: std::fs::DirEntry| {
        let stat = std::fs::read_to_string(entry.path().join("stat")).ok()?;
        let (head, tail) = stat.rsplit_once(") ")?;
        let name = head.split_once('(')?.1;
        Some((name.to_owned(), tail.to_owned(), entry.path()))
    };
    found.filter_map(one).collect()
}

/// Prints what the processes of the window hold of memory, shared pages in parts.
fn say_memory(when: &str) {
    let held = |folder: &Path| {
        let text = std::fs::read_to_string(folder.join("smaps_rollup")).unwrap_or_default();
        let line = text.lines().find(|line| line.starts_with("Pss:")).unwrap_or_default();
        line.split_whitespace().nth(1).and_then(|word| word.parse::<f64>().ok()).unwrap_or(0.0) / 1024.0
    };
    let of = |name: &str| processes().iter().filter(|own| own.0.starts_with(name)).map(|own| held(&own.2)).sum::<f64>();
    // The kernel keeps fifteen letters of a name.
    let (ours, page, net) = (of("newel-window"), of("WebKitWebProces"), of("WebKitNetworkPr"));
    println!("  memory {when}: program {ours:.0} MB, page {page:.0} MB, its network process {net:.0} MB");
}

/// Opening the demo site, and typing in its brief.
fn demo() -> Vec<bool> {
    let machine = Machine::start("bench-demo", SCREEN);
    let mut sites = Sites::open(&machine.store(), now_ms).expect("a store");
    let id = sites.add_file(desk::demo::SITE, "site.json", None).expect("the demo site").id;
    drop(sites);
    let page = Page::open(machine.port, &built("newel-window"), &[]);
    let mut opened = Vec::new();
    for _ in 0..5 {
        page.run("performance.clearMeasures('site-shown')", &[]);
        page.click(&format!("[data-site='{id}']"));
        opened.push(page.wait("the site", LAST, &[json!("site-shown")]).as_f64().expect("a time"));
        page.click("#to-sites");
        page.wait_for("[data-site]");
    }
    let first = opened[0];
    let mut met = vec![verdict("opening the demo site, the first time", first, 300.0, " ms")];
    println!("  opening it again: {}", opened[1..].iter().map(|ms| format!("{ms:.0}")).collect::<Vec<_>>().join(", "));
    page.click(&format!("[data-site='{id}']"));
    page.click("#screen-scheme");
    page.wait_for("#drawing [data-luminaire]");
    page.run("performance.clearMeasures('key-to-drawing')", &[]);
    for spacing in ["310", "320", "330", "340", "350", "360", "290", "280", "270", "260"] {
        page.click("#scheme-brief [data-field='spacing']");
        page.chord(&[key::CONTROL, "a"]);
        page.keys(spacing);
        std::thread::sleep(Duration::from_millis(400));
    }
    page.keys(key::ESCAPE);
    let script = "return performance.getEntriesByName('key-to-drawing').map((each) => each.duration)";
    let times = numbers(&page.run(script, &[]));
    let keys = times.len();
    let (p50, p95, worst) = spread(times);
    println!("  from a key to the changed drawing, {keys} keys: p50 {p50:.0} ms, p95 {p95:.0} ms, worst {worst:.0} ms");
    met.push(verdict("from a key to the changed drawing, p95", p95, 100.0, " ms"));
    say_memory("with the demo site");
    machine.close(page);
    machine.end();
    met
}

/// The duration of the last measure of a name, once there is one.
const LAST: &str = "return performance.getEntriesByName(arguments[0]).at(-1)?.duration ?? null";

fn numbers(list: &Value) -> Vec<f64> {
    let found: Vec<f64> = list.as_array().into_iter().flatten().filter_map(Value::as_f64).collect();
    assert!(!found.is_empty(), "nothing was measured");
    found
}

/// Scrolls an element for so many frames by so much, and brings back the gaps between them [ms].
const SCROLL: &str = "const [selector, way, by, frames, done] = arguments; const box = document.querySelector(selector); \
    const gaps = []; let before = performance.now(); \
    const step = () => { const now = performance.now(); gaps.push(now - before); before = now; \
      if (gaps.length === frames) return done(gaps); box[way] += by; requestAnimationFrame(step); }; \
    requestAnimationFrame(step)";

/// A site of a hundred rails and thousands of photos.
fn large(many: &Path) -> Vec<bool> {
    let folder = std::env::temp_dir().join(format!("newel-bench-photos-{}", std::process::id()));
    let kept = folder.join("store");
    let mut sites = Sites::open(&kept, now_ms).expect("a store");
    let survey = std::fs::read(many).expect("a survey");
    let id = sites.add_file(&survey, "many.json", None).expect("added").id;
    let began = Instant::now();
    let added = sites.add_photos(&id, &[photos(&folder)], None, &Unwatched).expect("photos");
    assert_eq!(added.added, PHOTOS, "photos taken in");
    drop(sites);
    println!("  a site of 100 rails and {PHOTOS} photos (made in {:.0} s):", began.elapsed().as_secs_f64());
    let machine = Machine::start("bench-large", SCREEN);
    std::fs::rename(&kept, machine.store()).expect("moved");
    let page = Page::open(machine.port, &built("newel-window"), &[]);
    page.click(&format!("[data-site='{id}']"));
    let opened = page.wait("the site", LAST, &[json!("site-shown")]).as_f64().expect("a time");
    println!("  opening it: {opened:.0} ms");
    page.click("#screen-photos");
    page.wait_for("#photo-grid [id^='photo-']");
    let mut met = vec![scrolled(&page, "the grid of photos", "#photo-grid", ("scrollTop", 90, 300))];
    say_memory("with all its photos listed");
    page.click("#screen-scheme");
    page.click("[data-rail='rail-001']");
    page.wait_for("#drawing [data-luminaire]");
    for _ in 0..8 {
        page.click("[aria-label='Zoom in']");
    }
    met.push(scrolled(&page, "the rail of 200 m, zoomed in", "#drawing", ("scrollLeft", 60, 300)));
    page.click("#screen-survey");
    page.wait_for("#survey-drawing");
    page.click("#survey-drawing");
    for _ in 0..8 {
        page.keys("+");
    }
    met.push(scrolled(&page, "its survey, zoomed in", "#survey-drawing", ("scrollLeft", 60, 300)));
    say_memory("at the end");
    machine.close(page);
    machine.end();
    std::fs::remove_dir_all(&folder).expect("removed");
    met
}

fn scrolled(page: &Page, what: &str, selector: &str, (way, by, frames): (&str, i32, u32)) -> bool {
    let before = page.run("return document.querySelector(arguments[0])[arguments[1]]", &[json!(selector), json!(way)]);
    let gaps = page.run_and_wait(SCROLL, &[json!(selector), json!(way), json!(by), json!(frames)]);
    let after = page.run("return document.querySelector(arguments[0])[arguments[1]]", &[json!(selector), json!(way)]);
    assert_ne!(before, after, "{what} does not scroll");
    // What was asked for before the first frame is none of its gap.
    let (p50, p95, worst) = spread(numbers(&gaps)[1..].to_vec());
    println!("  frame gaps, {what}, {frames} frames: p50 {p50:.0} ms, p95 {p95:.0} ms, worst {worst:.0} ms");
    verdict(&format!("worst frame gap, {what}"), worst, 100.0, " ms")
}

/// A folder of pictures that differ from one another by a comment after the first marker (ITU-T T.81, B.2.4.5).
fn photos(folder: &Path) -> PathBuf {
    let into = folder.join("pictures");
    std::fs::create_dir_all(&into).expect("a folder");
    let mut demo: Vec<PathBuf> = std::fs::read_dir(workspace("fixtures/demo/photos"))
        .expect("the demo's pictures")
        .flatten()
        .map(|entry| entry.path())
        .filter(|path| path.extension().is_some_and(|own| own == "jpg"))
        .collect();
    demo.sort();
    let pictures: Vec<Vec<u8>> = demo.iter().map(|path| std::fs::read(path).expect("a picture")).collect();
    for number in 0..PHOTOS {
        let comment = format!("picture {number}");
        let length = u16::try_from(comment.len() + 2).expect("short").to_be_bytes();
        let own = &pictures[number as usize % pictures.len()];
        let bytes = [&own[..2], &[0xff, 0xfe], &length, comment.as_bytes(), &own[2..]].concat();
        std::fs::write(into.join(format!("{number:04}.jpg")), bytes).expect("written");
    }
    into
}
