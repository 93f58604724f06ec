//! The memory of an import stays under its stated bound, whatever the files claim.

use std::fs;
use std::path::Path;
use std::process::Command;

use photos::{Library, MOST_FILE_BYTES, bound};

use crate::bad_input::{jpeg_bomb, png_bomb, tiff_bomb};
use crate::made::{folder, import, jpeg, progressive};

/// The child of [`memory_stays_under_its_bound`]; alone it has nothing to do.
#[test]
fn child_that_is_measured() {
    let (Some(home), Some(from)) = (std::env::var_os("PHOTOS_HOME"), std::env::var_os("PHOTOS_FROM")) else { return };
    let library = Library::open(Path::new(&home)).unwrap();
    let lines = import(&library, &[from.into()]);
    for line in &lines {
        println!("{}: {:?}", line.name, line.outcome);
    }
    let status = fs::read_to_string("/proc/self/status").unwrap();
    println!("{}", status.lines().find(|line| line.starts_with("VmHWM")).unwrap());
}

#[test]
fn memory_stays_under_its_bound() {
    let (home, from) = (folder("memory-home"), folder("memory"));
    let put = |name: &str, bytes: &[u8]| fs::write(from.join(name), bytes).unwrap();
    for n in 0..4 {
        // 48 million pixels each, near the most that is unpacked of a progressive picture: two never fit at a time.
        put(&format!("several-passes-{n}.jpg"), &progressive(8000, 6000, n));
    }
    put("plain.jpg", &jpeg(12_000, 9000, 5));
    put("too-many-pixels.jpg", &progressive(9000, 7000, 6));
    put("bomb.jpg", &jpeg_bomb(65_500, 65_500));
    put("bomb.png", &png_bomb(60_000, 60_000));
    put("large-bomb.png", &png_bomb(8000, 8000));
    put("bomb.tif", &tiff_bomb(60_000, 60_000));
    // The largest files that are read: as TIFF and as JPEG, with nothing in them.
    for (name, start) in [
        ("hollow-1.tif", b"II*\0\x08\0\0\0".as_slice()),
        ("hollow-2.tif", b"MM\0*\0\0\0\x08"),
        ("hollow.jpg", b"\xff\xd8\xff\xe0"),
    ] {
        put(name, start);
        fs::File::options().write(true).open(from.join(name)).unwrap().set_len(MOST_FILE_BYTES).unwrap();
    }
    let output = Command::new(std::env::current_exe().unwrap())
        .args(["--exact", "memory::child_that_is_measured", "--nocapture"])
        .env("PHOTOS_HOME", &home)
        .env("PHOTOS_FROM", &from)
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&output.stdout);
    assert!(output.status.success(), "{said}{}", String::from_utf8_lossy(&output.stderr));
    let peak = said.lines().find_map(|line| line.strip_prefix("VmHWM:")).expect("the peak");
    let peak_kb: u64 = peak.trim().trim_end_matches(" kB").parse().unwrap();
    assert!(peak_kb * 1024 < bound(2), "{peak_kb} kB of {} kB\n{said}", bound(2) / 1024);
    // The check shows something only where much was unpacked.
    assert!(peak_kb > 300 * 1024, "{peak_kb} kB");
    assert!(said.contains("too-many-pixels.jpg: Photo") && said.contains("more memory than Newel takes"), "{said}");
}
