//! Thumbnails against ImageMagick on the same file: mean absolute difference under 3/255, upright, in sRGB.

use std::path::Path;

use newel_tests::outside::{folder, run};
use photos::{Edge, Import, Library, Outcome, Unwatched};

const BASE: &str = env!("CARGO_TARGET_TMPDIR");

/// The thumbnail of a file and what ImageMagick makes of it, as rows of red, green and blue.
fn both(file: &Path, edge: Edge) -> (Vec<u8>, Vec<u8>) {
    let home = folder(BASE, &format!("thumbnails-of-{}", file.file_name().unwrap().to_string_lossy()));
    let library = Library::open(&home).unwrap();
    let import = Import { library: &library, known: &[], assume: Default::default(), hands: 1 };
    let lines = import.run(&[file.to_owned()], &Unwatched);
    let Outcome::Photo(photo) = &lines[0].outcome else { panic!("{lines:?}") };
    let ours = library.thumbnail(photo.content, edge).unwrap();
    let ours = run("convert", &[ours.to_str().unwrap(), "-depth", "8", "rgb:-"]);
    let size = format!("{0}x{0}>", edge.pixels());
    let srgb = home.join("srgb.icc");
    std::fs::write(&srgb, moxcms::ColorProfile::new_srgb().encode().unwrap()).unwrap();
    let theirs = run(
        "convert",
        &[
            file.to_str().unwrap(),
            "-auto-orient",
            "+repage",
            "-profile",
            srgb.to_str().unwrap(),
            "-background",
            "white",
            "-flatten",
            "-filter",
            "Lanczos",
            "-resize",
            &size,
            "-depth",
            "8",
            "rgb:-",
        ],
    );
    (ours, theirs)
}

fn difference(ours: &[u8], theirs: &[u8]) -> f64 {
    assert_eq!(ours.len(), theirs.len(), "the two are of unequal size");
    let sum: u64 = ours.iter().zip(theirs).map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
    sum as f64 / ours.len() as f64
}

/// A picture with edges, slopes and grain as a lens and a sensor give it, drawn by ImageMagick, no two sides alike. (Grain
/// sharper than a lens lets through is lost to any packing: ImageMagick's own JPEG of it differs by 3.5 of 255.)
fn drawn(file: &Path, extra: &[&str]) {
    let mut arguments = vec![
        "-size",
        "500x375",
        "-seed",
        "7",
        "plasma:tomato-steelblue",
        "-resize",
        "2000x1500",
        "-attenuate",
        "0.2",
        "+noise",
        "Gaussian",
        "-blur",
        "0x0.8",
        "-fill",
        "#f0f0f0",
        "-draw",
        "rectangle 100,100 700,400",
        "-fill",
        "#203040",
        "-draw",
        "circle 1500,1000 1500,1300",
        "-sampling-factor",
        "4:2:0",
        "-quality",
        "90",
    ];
    arguments.extend(extra);
    arguments.push(file.to_str().unwrap());
    let _ = run("convert", &arguments);
}

#[test]
fn thumbnails_look_as_another_program_makes_them() {
    let base = folder(BASE, "thumbnails");
    for (name, extra) in [
        ("plain.jpg", vec![]),
        ("progressive.jpg", vec!["-interlace", "JPEG"]),
        ("grey.jpg", vec!["-colorspace", "Gray"]),
        ("full-colour.jpg", vec!["-sampling-factor", "4:4:4"]),
        ("flat.png", vec![]),
        ("deep.png", vec!["-depth", "16"]),
        ("see-through.png", vec!["-alpha", "set", "-channel", "A", "-evaluate", "set", "60%"]),
        ("scan.tif", vec!["-compress", "lzw"]),
        ("packed.webp", vec!["-define", "webp:lossless=true"]),
        ("small.webp", vec![]),
    ] {
        let file = base.join(name);
        drawn(&file, &extra);
        for edge in [Edge::Small, Edge::Large] {
            let (ours, theirs) = both(&file, edge);
            let difference = difference(&ours, &theirs);
            assert!(difference < 3.0, "{name}, {} pixels: differs by {difference:.2} of 255", edge.pixels());
        }
    }
}

#[test]
fn every_orientation_comes_out_upright() {
    let base = folder(BASE, "orientations");
    for orientation in 1..=8 {
        let file = base.join(format!("turned-{orientation}.jpg"));
        drawn(&file, &[]);
        let tag = format!("-Orientation={orientation}");
        let _ = run("exiftool", &["-q", "-overwrite_original", "-n", &tag, file.to_str().unwrap()]);
        let (ours, theirs) = both(&file, Edge::Small);
        let difference = difference(&ours, &theirs);
        assert!(difference < 3.0, "orientation {orientation}: differs by {difference:.2} of 255");
    }
}

#[test]
fn wide_colours_are_brought_into_srgb() {
    let base = folder(BASE, "wide");
    for (name, profile) in
        [("p3.jpg", moxcms::ColorProfile::new_display_p3()), ("wide.png", moxcms::ColorProfile::new_adobe_rgb())]
    {
        let (bare, file) = (base.join(format!("bare-{name}")), base.join(name));
        drawn(&bare, &["-strip"]);
        let icc = base.join("profile.icc");
        std::fs::write(&icc, profile.encode().unwrap()).unwrap();
        let _ = run("convert", &[bare.to_str().unwrap(), "-profile", icc.to_str().unwrap(), file.to_str().unwrap()]);
        let (ours, theirs) = both(&file, Edge::Small);
        let converted = difference(&ours, &theirs);
        assert!(converted < 3.0, "{name}: differs by {converted:.2} of 255");
        // Without the profile the same numbers mean other colours, so the check can fail.
        let (unconverted, _) = both(&bare, Edge::Small);
        assert!(difference(&unconverted, &theirs) > 3.0, "{name}: the profile changes nothing");
    }
}
