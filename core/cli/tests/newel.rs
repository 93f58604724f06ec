//! The built command: exit status, what stands on which output, and the same bytes whatever the surroundings.
//!
//! The contract is ours and has no outside source.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;

const SURVEY: &str = include_str!("../../desk/tests/files/survey.json");
const CATALOGUE: &str = include_str!("../../desk/tests/files/catalogue.toml");

fn demo(file: &str) -> String {
    format!("{}/../../fixtures/demo/{file}", env!("CARGO_MANIFEST_DIR"))
}

/// A folder of this test's own, empty at its start.
fn folder(test: &str) -> PathBuf {
    let dir = Path::new(env!("CARGO_TARGET_TMPDIR")).join(test);
    let _ = std::fs::remove_dir_all(&dir);
    std::fs::create_dir_all(&dir).expect("a folder for the test");
    dir
}

fn newel(args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_newel"));
    command.args(args);
    command
}

fn run(args: &[&str]) -> Output {
    newel(args).output().expect("newel runs")
}

fn code(output: &Output) -> i32 {
    output.status.code().expect("newel ends by itself")
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("output is UTF-8")
}

fn plan_demo() -> Vec<String> {
    ["plan", &demo("site.json"), "--catalogue", &demo("catalogue.toml")].map(str::to_owned).to_vec()
}

#[test]
fn the_demo_site_is_planned_as_one_json_document() {
    let mut args = plan_demo();
    args.push("--json".to_owned());
    let output = newel(&[]).args(&args).output().expect("newel runs");
    assert_eq!(code(&output), 0, "{}", text(&output.stderr));
    assert_eq!(text(&output.stderr), "");
    let plan: Value = serde_json::from_slice(&output.stdout).expect("one JSON document and nothing else");
    for name in [
        "schema_version",
        "plan_id",
        "engine_version",
        "rails",
        "drivers",
        "circuits",
        "controls",
        "cables",
        "reels",
        "drilling",
        "parts",
        "tests",
        "findings",
        "objective",
    ] {
        assert!(!plan[name].is_null(), "the contract has {name}");
    }
    let stops = |rail: &str| {
        let about = |f: &&Value| f["verdict"] == "stop" && f["subject"]["rail"] == rail;
        plan["findings"].as_array().expect("findings").iter().filter(about).count()
    };
    let rails = plan["rails"].as_array().expect("rails");
    assert!(rails.len() >= 5);
    for rail in rails {
        let held = !rail["not_ready"].as_array().expect("not_ready").is_empty();
        let is_ready = rail["drilling_ready"].as_bool().expect("drilling_ready");
        assert!(!(is_ready && (held || stops(rail["id"].as_str().expect("id")) > 0)), "{}", rail["id"]);
    }
    let order = ["stop", "not_evaluated", "caution", "pass"];
    let places: Vec<usize> = plan["findings"]
        .as_array()
        .expect("findings")
        .iter()
        .map(|f| order.iter().position(|v| f["verdict"] == *v).expect("a verdict"))
        .collect();
    assert!(places.is_sorted(), "findings are listed worst first");
}

#[test]
fn strict_ends_with_three_where_a_finding_stops_the_job() {
    let mut args = plan_demo();
    args.push("--strict".to_owned());
    // One rail of the demo site has conditions that must stop the job.
    assert_eq!(newel(&[]).args(&args).output().map(|o| code(&o)).expect("newel runs"), 3);
    args.pop();
    let output = newel(&[]).args(&args).output().expect("newel runs");
    assert_eq!(code(&output), 0);
    assert!(text(&output.stdout).contains("CABLE SCHEDULE"));
}

#[test]
fn the_same_bytes_under_any_locale_time_zone_and_order_of_rails() {
    let dir = folder("same_bytes");
    let mut site: Value =
        serde_json::from_slice(&std::fs::read(demo("site.json")).expect("the demo site")).expect("JSON");
    site["rails"].as_array_mut().expect("rails").reverse();
    site["routes"].as_array_mut().expect("routes").reverse();
    site["brief"]["rails"].as_array_mut().expect("wishes").reverse();
    let shuffled = dir.join("shuffled.json");
    std::fs::write(&shuffled, site.to_string()).expect("written");
    let of = |file: &str, lang: &str, zone: &str| {
        let output = newel(&["plan", file, "--catalogue", &demo("catalogue.toml"), "--json"])
            .env("LANG", lang)
            .env("LC_ALL", lang)
            .env("TZ", zone)
            .output()
            .expect("newel runs");
        assert_eq!(code(&output), 0, "{}", text(&output.stderr));
        output.stdout
    };
    let first = of(&demo("site.json"), "C", "UTC");
    assert!(first == of(&demo("site.json"), "de_DE.UTF-8", "Pacific/Kiritimati"));
    assert!(first == of(&demo("site.json"), "tr_TR.UTF-8", "America/Adak"));
    assert!(first == of(&shuffled.display().to_string(), "ar_EG.UTF-8", "Asia/Kolkata"));
}

#[test]
fn faults_of_both_files_come_on_standard_error_and_nothing_on_standard_output() {
    let dir = folder("faults");
    let (survey, catalogue) = (dir.join("s.json"), dir.join("c.toml"));
    std::fs::write(&survey, SURVEY.replace("\"width_mm\": 40,", "\"width_mm\": -40,").replace("\"duct\"", "\"pipe\""))
        .expect("written");
    std::fs::write(&catalogue, CATALOGUE.replace("rated_w = 60", "rated_w = 0")).expect("written");
    let (survey, catalogue) = (survey.display().to_string(), catalogue.display().to_string());
    let out = dir.join("out").display().to_string();
    for args in [
        vec!["plan", &survey, "--catalogue", &catalogue, "--json"],
        vec!["plan", &survey, "--catalogue", &catalogue],
        vec!["plan", &survey, "--catalogue", &catalogue, "--csv", &out],
        vec!["papers", &survey, "--catalogue", &catalogue, "--out", &out],
    ] {
        let output = run(&args);
        assert_eq!(code(&output), 2, "{args:?}");
        assert_eq!(text(&output.stdout), "", "{args:?}");
        let lines: Vec<String> = text(&output.stderr).lines().map(str::to_owned).collect();
        assert_eq!(lines.len(), 3, "{lines:#?}");
        assert!(
            lines[0].starts_with(&format!("{survey}:20:70: $.rails[0].features[0].width_mm: -40 ")),
            "{}",
            lines[0]
        );
        assert!(lines[1].starts_with(&format!("{survey}:32:34: $.routes[0].kind: \"pipe\" ")), "{}", lines[1]);
        assert!(lines[2].starts_with(&format!("{catalogue}:29:11: $.drivers[0].rated_w: 0 ")), "{}", lines[2]);
        assert!(!dir.join("out").exists(), "no partial output");
    }
}

#[test]
fn a_file_that_is_not_there_is_named() {
    let output = run(&["plan", "no-such-file.json"]);
    assert_eq!(code(&output), 2);
    assert_eq!(text(&output.stdout), "");
    assert!(text(&output.stderr).contains("no-such-file.json: can't be read: "), "{}", text(&output.stderr));
}

#[test]
fn papers_are_written_whole_and_may_be_written_again() {
    let dir = folder("papers");
    let out = dir.join("out");
    let write = || {
        let output = run(&[
            "papers",
            &demo("site.json"),
            "--catalogue",
            &demo("catalogue.toml"),
            "--out",
            &out.display().to_string(),
            "--only",
            "csv,txt,json",
            "--issued",
            "2030-03-04",
        ]);
        assert_eq!(code(&output), 0, "{}", text(&output.stderr));
        let mut names: Vec<String> = std::fs::read_dir(&out)
            .expect("the folder")
            .map(|entry| entry.expect("an entry").file_name().into_string().expect("a name"))
            .collect();
        names.sort();
        names
    };
    let names = write();
    for name in ["plan.json", "report.txt", "cables.csv", "drilling.csv", "findings.csv"] {
        assert!(names.iter().any(|n| n == name), "{name} in {names:?}");
    }
    let report = std::fs::read(out.join("report.txt")).expect("the report");
    assert_eq!(write(), names, "nothing is left beside the papers");
    assert_eq!(std::fs::read(out.join("report.txt")).expect("the report"), report);
    let beside: Vec<_> = std::fs::read_dir(&dir).expect("the folder").collect();
    assert_eq!(beside.len(), 1, "nothing is left beside the folder");
}

#[test]
fn a_folder_that_cannot_be_written_is_named_and_left_alone() {
    let dir = folder("blocked");
    let file = dir.join("file");
    std::fs::write(&file, "mine").expect("written");
    let under = file.join("out").display().to_string();
    let output = run(&["plan", &demo("site.json"), "--catalogue", &demo("catalogue.toml"), "--csv", &under]);
    assert_eq!(code(&output), 2);
    assert_eq!(text(&output.stdout), "");
    assert!(text(&output.stderr).contains("can't be written"), "{}", text(&output.stderr));
    assert_eq!(std::fs::read_to_string(&file).expect("the file"), "mine");
}

#[test]
fn schemas_are_printed_and_the_quotation_is_not_made_yet() {
    for document in ["survey", "brief", "plan", "catalogue"] {
        let output = run(&["schema", document]);
        assert_eq!(code(&output), 0);
        let kept = format!("{}/../../fixtures/schemas/{document}.schema.json", env!("CARGO_MANIFEST_DIR"));
        let kept = std::fs::read_to_string(kept).expect("the schema that is kept").replace("\r\n", "\n");
        assert_eq!(text(&output.stdout), kept, "`make bless` writes the schemas anew");
    }
    let output = run(&["schema", "quotation"]);
    assert_eq!((code(&output), text(&output.stdout).as_str()), (2, ""));
    assert!(text(&output.stderr).contains("no quotations yet"));
}

#[test]
fn a_check_lists_findings_without_planning() {
    let dir = folder("check");
    let file = dir.join("s.json");
    std::fs::write(&file, SURVEY).expect("written");
    let output = run(&["check", &file.display().to_string()]);
    assert_eq!(code(&output), 0, "{}", text(&output.stderr));
    assert!(text(&output.stdout).contains("read; 1 rails, 2 features"), "{}", text(&output.stdout));
}

#[test]
fn a_wrong_option_is_refused_with_what_is_accepted() {
    for args in [vec!["plan"], vec!["papers", "x.json"], vec!["schema", "house"], vec!["plan", "x", "--issued", "soon"]]
    {
        let output = run(&args);
        assert_eq!(code(&output), 2, "{args:?}");
        assert_eq!(text(&output.stdout), "");
        assert!(!output.stderr.is_empty());
    }
}
