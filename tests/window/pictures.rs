//! Takes the pictures of the window that the README shows: `window_pictures FOLDER [WIDTHxHEIGHT]`.
//!
//! The WebDriver call for a picture never answers on a virtual screen, so the screen itself is photographed.

#[allow(dead_code, reason = "the journeys use more of it")]
mod machine;
#[allow(dead_code, reason = "the journeys use more of it")]
mod page;

use std::path::Path;
use std::process::Command;
use std::time::Duration;

use machine::{Machine, built, workspace};
use page::Page;

fn main() {
    let folder = std::env::args().nth(1).unwrap_or_else(|| workspace("ui/pictures").to_string_lossy().into_owned());
    let size = std::env::args().nth(2).unwrap_or_else(|| "1366x820".to_owned());
    let (width, height) = size.split_once('x').expect("a size such as 1366x820");
    let machine = Machine::start("pictures", &size);
    let demo = workspace("fixtures/demo/site.json");
    let page = Page::open(machine.port, &built("newel-window"), &[demo.to_str().expect("a plain path")]);
    page.resize(width.parse().expect("a width"), height.parse().expect("a height"));
    page.wait_for("#drawing");

    page.click("[data-rail='ramp']");
    page.click("#tab-holes");
    photograph(&machine, &Path::new(&folder).join("rail.png"));

    page.click("[data-rail='promenade']");
    page.click("#tab-findings");
    page.click("#theme");
    photograph(&machine, &Path::new(&folder).join("findings-dark.png"));
    page.close();
    machine.end();
}

/// One picture of the whole screen in 128 colours, which is plenty for drawings and keeps the repository small.
fn photograph(machine: &Machine, file: &Path) {
    // The picture is taken outside the page, so nothing but time tells when it has been painted.
    std::thread::sleep(Duration::from_millis(1500));
    let taken = Command::new("import")
        .args(["-display", &machine.display, "-window", "root", "-strip", "+dither", "-colors", "128"])
        .arg(format!("PNG8:{}", file.display()))
        .status();
    assert!(taken.is_ok_and(|status| status.success()), "ImageMagick took no picture");
    println!("{}", file.display());
}
