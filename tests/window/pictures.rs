//! Takes the pictures of the window: `window_pictures [FOLDER [WIDTHxHEIGHT]]`. Each screen is taken in both themes, at the least size
//! that is designed for and at that of a large screen, from invented sites.
//!
//! The WebDriver call for a picture never answers on a virtual screen, so the screen itself is photographed.

#[allow(dead_code, reason = "the journeys use more of it")]
mod machine;
#[allow(dead_code, reason = "the journeys use more of it")]
mod page;

use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Duration;

use desk::photos::Unwatched;
use desk::sites::{Sites, rename_device};
use machine::{Machine, built, workspace};
use page::{Page, key};
use serde_json::{Value, json};

/// The sizes of the window [px]: the least, a laptop's (whose pictures the README shows), a large screen's.
const SIZES: [(u32, u32); 3] = [(1024, 700), (1366, 820), (1920, 1080)];

fn main() {
    let folder = std::env::args().nth(1).map_or_else(|| workspace("ui/pictures"), PathBuf::from);
    let asked = std::env::args().nth(2).map(|size| size_of(&size));
    for (width, height) in asked.map_or_else(|| SIZES.to_vec(), |size| vec![size]) {
        let machine = Machine::start("pictures", &format!("{width}x{height}"));
        let page = open(&machine, width, height);
        page.wait_for("#first-run");
        each_theme(&page, |theme| photograph(&machine, &folder, "first-run", theme, width));
        machine.close(page);
        let demo = invent(&machine);
        let page = open(&machine, width, height);
        take(&machine, &page, &folder, &demo, width);
        machine.close(page);
        machine.end();
    }
}

/// A size as `1280x800`.
fn size_of(text: &str) -> (u32, u32) {
    let sides = text.split_once('x').and_then(|(width, height)| Some((width.parse().ok()?, height.parse().ok()?)));
    sides.unwrap_or_else(|| panic!("{text:?} is no size; 1280x800 is one"))
}

fn open(machine: &Machine, width: u32, height: u32) -> Page {
    let page = Page::open(machine.port, &built("newel-window"), &[]);
    page.resize(width, height);
    page
}

/// Every screen in turn.
fn take(machine: &Machine, page: &Page, folder: &Path, demo: &str, width: u32) {
    let both = |name: &str| each_theme(page, |theme| photograph(machine, folder, name, theme, width));
    page.wait_for("[data-site]");
    page.click(&format!("[data-more='{demo}']"));
    both("sites");
    page.click(&format!("[data-site='{demo}']"));
    page.wait_for("#drawing");
    // The driver's pointer never leaves a button, whose hint would hang over every later picture.
    page.run("document.querySelectorAll('header [title]').forEach((each) => each.removeAttribute('title'))", &[]);
    page.click("[data-rail='ramp']");
    both("scheme");
    page.click("[data-rail='stair']");
    page.click("[data-device='B4'] button");
    both("sensors");
    page.click("[data-rail='shelter']");
    page.click("#tab-cables");
    both("modules");
    page.click("[data-rail='promenade']");
    page.click("#tab-findings");
    both("findings");
    page.click("#screen-survey");
    page.wait_for("#survey-drawing");
    both("survey");
    page.click("#screen-photos");
    page.wait_for("#photo-ph-landing");
    page.click("#photo-ph-landing");
    both("photos");
    page.click("#open-photo");
    page.wait("the photo", "return document.querySelector('#viewer-stage img')?.naturalWidth > 0", &[]);
    both("photo");
    page.click("#screen-catalogue");
    page.wait_for("#copy-demo");
    page.click("#copy-demo");
    page.wait_for("#copy");
    page.click("[data-part='PT-18-W30']");
    page.wait_for("#field-price");
    both("catalogue");
    import(machine, page);
    both("import");
    page.click("#cancel-import");
    page.wait_for("#find-part");
    share(machine, page, both);
    page.click("#screen-history");
    page.wait_for("[data-disagreement]");
    both("history");
    page.click("tr:nth-child(3) [data-at]");
    page.wait_for("#read-only");
    both("past");
    page.click("#to-sites");
    page.wait_for("[data-site]");
    page.chord(&["?"]);
    page.wait_for("#key-sheet[open]");
    both("keys");
    page.chord(&[key::ESCAPE]);
}

/// The shared folder, before and after a team begins; somebody has joined it and somebody else asks.
fn share(machine: &Machine, page: &Page, both: impl Fn(&str)) {
    let folder = machine.folder().join("Team drive");
    std::fs::create_dir_all(&folder).expect("a folder");
    let address = folder.display().to_string();
    page.click("#screen-shared");
    page.wait_for("#begin-address");
    page.press("#begin-address", &address);
    both("sharing");
    page.click("#start-team");
    page.wait_for_text("#share-state", "Up to date");
    for (person, device, joins) in [("Invented Ben", "site laptop", true), ("Invented Cleo", "van tablet", false)] {
        page.click("#invite");
        page.wait_for("#invite-code");
        let code = page.run("return document.querySelector('#invite-code').value", &[]);
        page.click("#invite-done");
        let home = machine.folder().join(device);
        rename_device(&home, Some(person), Some(device)).expect("a device");
        let mut other = Sites::open(&home, desk::sites::now_ms).expect("a store");
        page.wait_for_text("#share-state", "Up to date");
        other.join_team(&address, code.as_str()).expect("asks");
        let mut round = || other.exchange(&mut desk::exchange::Unfollowed).expect("a round");
        round();
        page.click("#share-now");
        page.wait_for("[data-asks]");
        if joins {
            page.click("[data-approve]");
            page.wait("nobody asks", "return document.querySelector('[data-asks]') === null", &[]);
            page.wait_for_text("#share-state", "Up to date");
            round();
        }
    }
    page.click("#share-now");
    page.wait_for_text("[data-member]:last-child", "shared ");
    page.wait_for_text("#share-state", "Up to date");
    both("shared");
    page.click("#place summary");
    page.wait_for("#change-place");
    both("place");
    page.click("#place summary");
}

/// A list of parts with something new, something changed and something wrong is looked at.
fn import(machine: &Machine, page: &Page) {
    let list = machine.folder().join("spring prices.csv");
    let head = "part;price;description;pack\r\n";
    let rows = "PT-18-W30;18,20;Point luminaire 18 mm, warm white, 30 mA;1\r\nPT-22-W50;dear;Point luminaire 22 mm;1\r\n\
                DR-12-20;39,50;Driver 12 V, 20 W, one output, SELV;4\r\nDR-12-40;54,50;Driver 12 V, 40 W, one output, SELV;1\r\n\
                DR-99;12,00;Not in the catalogue;1\r\n";
    std::fs::write(&list, format!("{head}{rows}")).expect("written");
    // The shell's own chooser stands outside the page; what it would answer is answered for it.
    page.run(
        "const [path] = arguments, pass = window.fetch; window.fetch = (address, given) => \
         decodeURIComponent(String(address)).endsWith('plugin:dialog|open') \
           ? Promise.resolve(new Response(JSON.stringify(path), \
               { headers: { 'Content-Type': 'application/json', 'Tauri-Response': 'ok' } })) : pass(address, given)",
        &[json!(list)],
    );
    page.click("#import");
    page.wait_for("#import-view");
}

/// Shows the page in each theme, as a person would; the page is left in the day theme.
fn each_theme(page: &Page, mut show: impl FnMut(&str)) {
    for theme in ["dark", "day"] {
        let change = "const now = document.documentElement.dataset.theme; \
                      if (now !== arguments[0]) document.querySelector('#theme').click()";
        page.run(change, &[json!(theme)]);
        show(theme);
    }
}

/// One picture of the whole screen in few colours, which is plenty for drawings and keeps the repository small. Of the
/// laptop's size, only what the README shows is kept.
fn photograph(machine: &Machine, folder: &Path, name: &str, theme: &str, width: u32) {
    let file = match (width, name, theme) {
        (1366, "scheme", "day") => folder.join("rail.png"),
        (1366, "findings", "dark") => folder.join("findings-dark.png"),
        (1366, "sites", "day") => folder.join("sites.png"),
        (1366, ..) => return,
        _ => folder.join(format!("{name}-{theme}-{width}.png")),
    };
    // The picture is taken outside the page, so nothing but time tells when it has been painted.
    std::thread::sleep(Duration::from_millis(1200));
    let colours = if width == 1366 { "128" } else { "48" };
    let taken = Command::new("import")
        .args(["-display", &machine.display, "-window", "root", "-strip", "+dither", "-colors", colours])
        .args(["-define", "png:compression-level=9"])
        .arg(format!("PNG8:{}", file.display()))
        .status();
    assert!(taken.is_ok_and(|status| status.success()), "ImageMagick took no picture");
    println!("{}", file.display());
}

/// Invented sites in the window's store; the id of the one that is shown.
fn invent(machine: &Machine) -> String {
    let there = machine.folder().join("there");
    rename_device(&machine.store(), Some("Ann Example"), Some("office laptop")).expect("named");
    rename_device(&there, Some("Ben Example"), Some("site tablet")).expect("named");
    let (mut ann, mut ben) = (store(&machine.store()), store(&there));
    for (label, address, stage) in [
        ("Millrace footbridge (invented)", "Weir Lane, Aldermouth: an invented place", "survey"),
        ("Harbour car park stair (invented)", "Quay 3, Port Sable: an invented place", "price"),
        ("Abbey terrace ramp (invented)", "Cloister Row, Velmouth: an invented place", "fit"),
    ] {
        let id = ann.new_site(label, address).expect("made").id;
        ann.put_stage(&id, stage).expect("put");
    }
    let id = ann.add_file(desk::demo::SITE, "site.json", None).expect("added").id;
    ann.put_stage(&id, "scheme").expect("put");
    ann.add_photos(&id, &[workspace("fixtures/demo/photos")], None, &Unwatched).expect("photos");
    let send = |from: &mut Sites, to: &mut Sites| {
        let mut file = std::io::Cursor::new(Vec::new());
        from.send(&id, file.get_mut()).expect("a file");
        for device in to.receive(&mut file).expect("taken in").unknown_devices {
            to.know(&device.id).expect("known");
        }
    };
    send(&mut ann, &mut ben);
    let survey = ann.survey(&id, None).expect("a survey");
    let ramp = survey.rails.iter().find(|rail| rail.id.as_str() == "ramp").expect("the ramp");
    let post = ramp.features.iter().find(|feature| feature.kind.word() == "post").expect("a post");
    let (at, post) = (post.chainage.value.to_mm(), post.id.to_string());
    let to = |mm: f64| json!({"kind": "move_feature", "rail": "ramp", "feature": post, "to_mm": mm});
    let note = |words: &str| json!({"kind": "set_rail", "rail": "ramp", "change": {"kind": "note", "value": words}});
    edit(&mut ann, &id, &note("Coating chipped by the lower landing"));
    edit(&mut ann, &id, &to(at + 15.0));
    edit(&mut ben, &id, &to(at + 35.0));
    edit(
        &mut ben,
        &id,
        &json!({"kind": "set_rail", "rail": "promenade", "change": {"kind": "note", "value": "Taped twice, dry"}}),
    );
    send(&mut ben, &mut ann);
    edit(&mut ann, &id, &json!({"kind": "set_brief", "change": {"kind": "reserve_percent", "value": 25}}));
    ann.undo(&id).expect("taken back");
    id
}

fn store(home: &Path) -> Sites {
    Sites::open(home, desk::sites::now_ms).expect("a store")
}

fn edit(sites: &mut Sites, id: &str, edit: &Value) {
    sites.edit(id, edit.to_string().as_bytes(), "edit").expect("made");
}
