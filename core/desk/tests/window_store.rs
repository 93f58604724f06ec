//! The window on a store: sites are made, edited as one change, taken back, looked back at, and kept by a restart.

mod common;

use common::home::Home;
use desk::sites::Sites;
use desk::view::{
    Asked, Beside, ExportForm, FindingLine, First, Opened, Settings, SitesPage, ThemeChoice, Units, WayOn, Window,
};
use serde_json::{Value, json};

fn window(home: &Home) -> Window {
    Window::new(None, Some(home.0.clone()))
}

/// The demo site in the store, open.
fn with_demo(home: &Home) -> (Window, Opened) {
    let window = window(home);
    let id = window.add_demo_site().expect("added").site.expect("an id");
    let opened = window.open_site(&id).expect("opened");
    (window, opened)
}

fn set_label(rail: &str, label: &str) -> Value {
    json!({"kind": "set_rail", "rail": rail, "change": {"kind": "label", "value": label}})
}

fn wire(opened: &Opened) -> Value {
    serde_json::to_value(&opened.survey).expect("a survey")
}

#[test]
fn the_first_run_is_empty_and_the_demo_becomes_a_site_to_work_on() {
    let home = Home::of("Invented Anna");
    let window = window(&home);
    assert!(matches!(window.start().first, First::Sites));
    let page = window.list_sites().expect("a list");
    assert_eq!((page.sites.len(), page.read_only, page.person.as_str()), (0, None, "Invented Anna"));
    assert_eq!(page.device, "a tablet");
    let added = window.add_demo_site().expect("added");
    let first = added.site.expect("an id");
    let opened = window.open_site(&first).expect("opened");
    assert_eq!((opened.read_only, opened.undo), (None, None));
    assert!(opened.page.rails.iter().any(|rail| !rail.luminaires.is_empty()), "it is planned");
    assert!(window.explain(&Asked::RailLength { rail: opened.page.rails[0].id.clone() }).is_ok());
    // Once more beside it, under an id of its own.
    let second = window.add_demo_site().expect("added again").site.expect("an id");
    assert_ne!(first, second);
    assert_eq!(window.list_sites().expect("a list").sites.len(), 2);
}

#[test]
fn edits_that_come_together_are_one_step_to_take_back_and_a_restart_shows_them() {
    let home = Home::of("Invented Anna");
    let (open, before) = with_demo(&home);
    let [first, second] = [0, 1].map(|n| before.page.rails[n].id.clone());
    let edited =
        open.edit(&json!([set_label(&first, "North flight"), set_label(&second, "South flight")])).expect("made");
    assert_eq!(
        (edited.page.rails[0].label.as_str(), edited.page.rails[1].label.as_str()),
        ("North flight", "South flight")
    );
    assert_eq!(edited.said, edited.undo);
    assert_eq!(open.history().expect("history").changes.len(), 2, "the site, and one change");
    drop(open);

    let again = window(&home);
    let id = again.list_sites().expect("a list").sites[0].id.clone();
    let opened = again.open_site(&id).expect("opened");
    assert_eq!(wire(&opened), wire(&edited));
    assert_eq!(opened.undo, edited.undo);
    let back = again.undo().expect("taken back");
    assert_eq!(wire(&back), wire(&before));
    assert_eq!((back.undo.as_deref(), back.redo), (None, edited.undo.clone()));
    assert_eq!(wire(&again.redo().expect("made again")), wire(&edited));
    let history = again.history().expect("history");
    assert_eq!(history.changes.len(), 4);
    assert!(history.changes[0].sentence.starts_with("made again: "), "the last comes first");
    assert!(history.changes.iter().all(|change| change.person == "Invented Anna" && change.here));
    assert_eq!(history.changes[0].device, "a tablet");
}

#[test]
fn lengths_are_taken_as_people_type_them_and_faults_are_named() {
    let home = Home::of("Invented Anna");
    let (window, opened) = with_demo(&home);
    let survey = wire(&opened);
    let rail = &survey["rails"][0];
    let post = rail["features"].as_array().expect("features").iter().find(|f| f["kind"] == "post").expect("a post");
    let move_to = |to: Value| json!([{"kind": "move_feature", "rail": rail["id"], "feature": post["id"], "to_mm": to}]);
    let moved = wire(&window.edit(&move_to(json!("1.25 m"))).expect("moved"));
    let there = moved["rails"][0]["features"].as_array().expect("features").iter().find(|f| f["id"] == post["id"]);
    assert_eq!(there.expect("the post")["chainage_mm"]["value_mm"], 1250);
    let refused = window.edit(&move_to(json!("9 furlongs"))).expect_err("refused");
    assert_eq!(refused.faults.len(), 1);
    assert!(refused.faults[0].contains("furlongs") && refused.faults[0].contains("accepted: "), "{refused:?}");
    assert!(window.edit(&json!({"kind": "remove"})).is_err(), "one edit is no list");
    let gone = window.edit(&json!([set_label("nowhere", "x")])).expect_err("refused");
    assert!(gone.message.contains("no rail nowhere"), "{gone:?}");
    assert_eq!(window.history().expect("history").changes.len(), 2);
}

#[test]
fn what_is_used_is_not_removed_unless_its_users_go_with_it() {
    let home = Home::of("Invented Anna");
    let window = window(&home);
    let path = home.0.join("yard.json");
    std::fs::write(&path, common::SURVEY).expect("written");
    let id = window.import_site(&path.to_string_lossy()).expect("taken in").site.expect("an id");
    window.open_site(&id).expect("opened");
    let remove = |kind: &str, id: &str| json!({"kind": "remove", "thing": {"kind": kind, "id": id}});
    let place = remove("driver_place", "d1");
    let why = window.edit(&json!([place])).expect_err("the route leads to it");
    assert!(why.message.contains("route t1 refer to it"), "{why:?}");
    let both = window.edit(&json!([place, remove("route", "t1")])).expect("removed together");
    assert!(wire(&both)["driver_places"].as_array().is_none_or(Vec::is_empty));
    let back = window.undo().expect("taken back at once");
    assert_eq!(wire(&back)["routes"].as_array().map(Vec::len), Some(1));
}

#[test]
fn edits_are_tried_without_being_kept() {
    let home = Home::of("Invented Anna");
    let (window, before) = with_demo(&home);
    let wish = wire(&before)["brief"]["rails"]
        .as_array()
        .expect("briefs")
        .iter()
        .find(|wish| wish["target"]["kind"] == "spacing")
        .expect("a rail lit by spacing")
        .clone();
    let closer = json!([{"kind": "set_rail_brief", "rail": wish["rail"],
        "change": {"kind": "target", "value": {"kind": "spacing", "spacing_mm": 200}}}]);
    let tried = window.try_edits(&closer, before.page_number).expect("tried");
    assert_ne!(tried.page.plan_id, before.page.plan_id);
    assert!(tried.cost.value > tried.cost_now.value, "{tried:?}");
    assert_eq!(window.history().expect("history").changes.len(), 1);
    let now = window.open_site(&before.id).expect("opened");
    assert_eq!(now.page.plan_id, before.page.plan_id);
    // What was tried is what comes of it once it is made.
    let made = window.edit(&closer).expect("made").page;
    assert_eq!(made.plan_id, tried.page.plan_id);
    assert_eq!(whole(&tried.page.rails, &before.page.rails), made.rails.iter().collect::<Vec<_>>());
    let sent = tried.page.rails.iter().filter(|rail| matches!(rail, Beside::New(_))).count();
    assert!(sent < made.rails.len(), "{sent} rails are sent");
    let findings = whole(&tried.page.findings, &before.page.findings);
    let words =
        |line: &FindingLine| (line.rule.clone(), line.subject.clone(), line.message.clone(), line.figures.clone());
    assert_eq!(
        findings.into_iter().map(words).collect::<Vec<_>>(),
        made.findings.iter().map(words).collect::<Vec<_>>()
    );
    // Whoever has another page is sent everything.
    let other = window.try_edits(&closer, before.page_number).expect("tried").page;
    assert!(other.rails.iter().all(|rail| matches!(rail, Beside::New(_))));
    assert!(other.findings.iter().all(|line| matches!(line, Beside::New(_))));
}

#[test]
fn what_is_tried_beside_a_page_that_is_out_of_date_is_sent_whole() {
    let home = Home::of("Invented Anna");
    let (window, before) = with_demo(&home);
    let nothing = json!([set_label(&before.page.rails[0].id, &before.page.rails[0].label)]);
    let is_whole = |number: u32| {
        let tried = window.try_edits(&nothing, number).expect("tried").page;
        tried.rails.iter().all(|rail| matches!(rail, Beside::New(_)))
    };
    assert!(!is_whole(before.page_number) && is_whole(0));
    // The site's name changes no plan, and all the same the page is another.
    let name = json!([{"kind": "set_site", "change": {"kind": "label", "value": "Another name (invented)"}}]);
    let renamed = window.edit(&name).expect("made");
    assert_ne!(renamed.page.title, before.page.title);
    assert_eq!(renamed.page.plan_id, before.page.plan_id);
    assert!(is_whole(before.page_number) && !is_whole(renamed.page_number));
    // Back where it was it is a page of its own, and so is one that is opened anew.
    let back = window.undo().expect("taken back");
    let again = window.open_site(&before.id).expect("opened");
    assert_eq!(again.page.rails, before.page.rails);
    for old in [&before, &renamed, &back] {
        assert!(is_whole(old.page_number), "{}", old.page_number);
    }
    assert!(!is_whole(again.page_number));
}

/// A list that was sent beside a known one.
fn whole<'a, T>(sent: &'a [Beside<T>], known: &'a [T]) -> Vec<&'a T> {
    let one = |entry: &'a Beside<T>| match entry {
        Beside::Same(place) => &known[*place as usize],
        Beside::New(own) => own,
    };
    sent.iter().map(one).collect()
}

#[test]
fn a_second_window_reads_only_and_says_why_until_the_first_has_gone() {
    let home = Home::of("Invented Anna");
    let (first, opened) = with_demo(&home);
    let second = window(&home);
    let page = second.list_sites().expect("a list");
    let why = page.read_only.expect("a reason");
    assert!(why.starts_with("Another Newel has these sites open"), "{why}");
    let seen = second.open_site(&opened.id).expect("opened");
    assert_eq!(seen.read_only.as_deref(), Some(why.as_str()));
    let edit = json!([set_label(&opened.page.rails[0].id, "North flight")]);
    assert_eq!(second.edit(&edit).expect_err("read only").message, why);
    assert_eq!(second.new_site("Quay", "").expect_err("read only").message, why);
    assert!(second.try_edits(&edit, 0).is_ok(), "trying keeps nothing");
    // A reader sees what the writer has written since.
    first.edit(&edit).expect("made");
    assert_eq!(second.open_site(&opened.id).expect("opened").page.rails[0].label, "North flight");
    // Settings of a reader hold for its own window.
    let dark = Settings { theme: ThemeChoice::Dark, units: Units::Imperial };
    assert_eq!(second.set_settings(dark).expect("set"), dark);
    drop(first);
    assert_eq!(second.reopen_store().expect("opened").read_only, None);
    second.open_site(&opened.id).expect("opened");
    second.edit(&json!([set_label(&opened.page.rails[0].id, "Middle flight")])).expect("made");
}

#[test]
fn script_fragments_come_back_as_typed() {
    const FRAGMENT: &str = "<img src=x onerror=\"alert(1)\"><b>Stair</b> & 'quay' \u{202e}";
    let home = Home::of("Invented Anna");
    let open = window(&home);
    let id = open.new_site(FRAGMENT, FRAGMENT).expect("made").site.expect("an id");
    open.open_site(&id).expect("opened");
    open.edit(&json!([{"kind": "set_site", "change": {"kind": "note", "value": FRAGMENT}}])).expect("made");
    drop(open);
    let again = window(&home);
    let line = again.list_sites().expect("a list").sites[0].clone();
    assert_eq!((line.label.as_str(), line.address.as_str()), (FRAGMENT, FRAGMENT));
    let opened = again.open_site(&id).expect("opened");
    assert_eq!(wire(&opened)["site"]["note"], FRAGMENT);
    assert_eq!(opened.page.title, FRAGMENT);
    let hits = again.search("stair quay").expect("found").hits;
    assert_eq!(hits.len(), 3, "label, address and note");
    assert!(hits.iter().all(|hit| hit.text == FRAGMENT));
}

#[test]
fn the_past_is_looked_at_and_not_changed() {
    let home = Home::of("Invented Anna");
    let (window, before) = with_demo(&home);
    let rail = before.page.rails[0].id.clone();
    window.edit(&json!([set_label(&rail, "North flight")])).expect("made");
    let first = window.history().expect("history").changes.pop().expect("the first change");
    let past = window.view_at(&first.change).expect("shown");
    assert_eq!(past.page.rails[0].label, before.page.rails[0].label);
    let why = past.read_only.expect("a reason");
    assert!(why.starts_with("This is the site as it was after a change by Invented Anna: "), "{why}");
    assert_eq!((past.way_on, past.as_of.as_deref()), (WayOn::ToNow, Some(first.when.as_str())));
    assert!(window.edit(&json!([set_label(&rail, "x")])).expect_err("refused").message.contains("go back to now"));
    assert!(window.undo().is_err());
    assert!(window.view_at("no change").is_err());
    assert_eq!(window.open_site(&before.id).expect("opened").page.rails[0].label, "North flight");
    window.undo().expect("taken back");
}

#[test]
fn a_colleague_disagrees_and_is_heard() {
    let (here, there) = (Home::of("Invented Anna"), Home::of("Invented Ben"));
    let (window, opened) = with_demo(&here);
    let file = here.outside("demo.newel").to_string_lossy().into_owned();
    window.export_site(&opened.id, &file, ExportForm::Site).expect("written");
    let mut at_ben = there.open();
    let came = at_ben.receive(&mut std::fs::File::open(&file).expect("read")).expect("taken in");
    at_ben.know(&came.unknown_devices[0].id).expect("known");
    let rail = opened.page.rails[0].id.clone();
    at_ben.edit(&opened.id, set_label(&rail, "Ben's flight").to_string().as_bytes(), "edit").expect("made");
    let back = there.outside("back.newel");
    at_ben.send_file(&opened.id, &back).expect("written");

    window.edit(&json!([set_label(&rail, "Anna's flight")])).expect("made");
    let taken_in = window.import_site(&back.to_string_lossy()).expect("taken in");
    let unknown: Vec<&str> = taken_in.unknown_devices.iter().map(|line| line.person.as_str()).collect();
    assert_eq!(unknown, ["Invented Ben"], "{:?}", taken_in.said);
    let known: SitesPage = window.know_device(&taken_in.unknown_devices[0].id).expect("known");
    assert!(known.unknown_devices.is_empty());
    window.open_site(&opened.id).expect("opened");
    let heard = window.history().expect("history").disagreements;
    assert_eq!(heard.len(), 1);
    let mut values: Vec<(&str, &str)> =
        heard[0].positions.iter().map(|p| (p.person.as_str(), p.value.as_str())).collect();
    values.sort_unstable();
    assert_eq!(values, [("Invented Anna", "“Anna's flight”"), ("Invented Ben", "“Ben's flight”")]);
    let number = heard[0].positions.iter().find(|p| p.person == "Invented Ben").expect("his").number;
    let settled = window.settle(&heard[0].name, number).expect("settled");
    assert_eq!(settled.page.rails[0].label, "Ben's flight");
    assert!(window.history().expect("history").disagreements.is_empty());
}

#[test]
fn sites_are_made_copied_archived_exported_and_taken_in_again() {
    let home = Home::of("Invented Anna");
    let open = window(&home);
    let id = open.new_site("Quay steps", "Invented Quay 3").expect("made").site.expect("an id");
    assert!(open.new_site("  ", "somewhere").is_err());
    let copy = open.duplicate_site(&id, "Quay steps, as built").expect("copied").site.expect("an id");
    let archived = open.archive_site(&copy).expect("archived");
    assert!(archived.sites.iter().any(|line| line.id == copy && line.archived));
    assert!(open.restore_site(&copy).expect("taken out").sites.iter().all(|line| !line.archived));
    assert_eq!(open.put_stage(&id, "price").expect("put").sites[0].stage, "price");
    assert!(open.put_stage(&id, "party").is_err());
    let survey = home.outside("quay.json").to_string_lossy().into_owned();
    open.export_site(&id, &survey, ExportForm::Survey).expect("written");
    let beside = open.import_site(&survey).expect("taken in").site.expect("an id");
    assert_ne!(beside, id, "nothing that is here is overwritten");
    assert!(open.import_site(&home.0.join("nothing.json").to_string_lossy()).is_err());
    let broken = home.0.join("broken.json").to_string_lossy().into_owned();
    std::fs::write(&broken, common::SURVEY.replace("\"isolator\"", "\"lighthouse\"")).expect("written");
    let refused = open.import_site(&broken).expect_err("refused");
    assert!(refused.message.contains("broken.json") && refused.faults[0].contains("lighthouse"), "{refused:?}");
    // The command's own way to the store says the same.
    drop(open);
    let mut sites: Sites = home.open();
    assert_eq!(sites.list().expect("a list").sites.len(), 3);
    assert_eq!(sites.survey(&id, None).expect("a survey").site.address, "Invented Quay 3");
}

#[test]
fn whoever_works_here_can_say_so_and_later_changes_carry_it() {
    let home = Home::of("somebody");
    let (window, opened) = with_demo(&home);
    assert!(window.name_device(" ", "tablet").expect_err("refused").message.contains("accepted: "));
    let named = window.name_device("Invented Cleo", "van tablet").expect("named");
    assert_eq!((named.person.as_str(), named.device.as_str(), named.read_only), ("Invented Cleo", "van tablet", None));
    window.open_site(&opened.id).expect("opened");
    window.edit(&json!([set_label(&opened.page.rails[0].id, "North flight")])).expect("made");
    let who: Vec<String> = window.history().expect("history").changes.into_iter().map(|line| line.person).collect();
    assert_eq!(who, ["Invented Cleo", "somebody"]);
}

#[test]
fn settings_are_kept_in_the_store() {
    let home = Home::of("Invented Anna");
    let open = window(&home);
    assert_eq!(open.start().settings, Settings { theme: ThemeChoice::Desktop, units: Units::Metric });
    let kept = Settings { theme: ThemeChoice::Dark, units: Units::Imperial };
    open.set_settings(kept).expect("kept");
    drop(open);
    assert_eq!(window(&home).start().settings, kept);
    // A window on a file asks for them without holding the store.
    let file = home.0.join("yard.json");
    std::fs::write(&file, common::SURVEY).expect("written");
    let looking = Window::new(Some(file.to_string_lossy().into_owned()), Some(home.0.clone()));
    let start = looking.start();
    assert_eq!(start.settings, kept);
    let First::Site { opened } = start.first else { panic!("the file is shown") };
    assert_eq!(opened.way_on, WayOn::TakeIn);
    assert!(opened.read_only.is_some());
    assert_eq!(window(&home).list_sites().expect("a list").read_only, None, "the store is free");
    let day = Settings { theme: ThemeChoice::Day, ..kept };
    looking.set_settings(day).expect("kept");
    let other = window(&home);
    assert_eq!(other.list_sites().expect("a list").read_only, None, "and free again");
    assert_eq!(other.start().settings, day);
}

#[test]
fn a_store_that_cannot_be_used_is_named_and_files_still_open() {
    let home = Home::of("Invented Anna");
    std::fs::write(home.0.join("device.json"), "not JSON").expect("written");
    let open = window(&home);
    assert_eq!(open.start().settings, Settings::default());
    let why = open.list_sites().expect_err("refused").message;
    assert!(why.contains("device.json") && why.contains("accepted: "), "{why}");
    let file = home.0.join("yard.json");
    std::fs::write(&file, common::SURVEY).expect("written");
    assert!(open.open_file(&file.to_string_lossy()).is_ok());
}

#[test]
fn a_site_is_planned_with_the_catalogue_in_force_and_says_where_the_demo_stands_in() {
    let home = Home::of("Invented Anna");
    let (window, before) = with_demo(&home);
    assert!(before.catalogue.stands_in.as_deref().is_some_and(|why| why.contains("demo")), "{:?}", before.catalogue);
    drop(window);
    // The same parts, every price that is one with a digit more.
    let demo = String::from_utf8(std::fs::read("../../fixtures/demo/catalogue.toml").expect("a file")).expect("text");
    let dear: String = demo
        .lines()
        .map(|line| match line.strip_prefix("price = ").filter(|price| !price.starts_with('0')) {
            Some(rest) => format!("price = 1{rest}\n"),
            None => format!("{line}\n"),
        })
        .collect();
    let mut sites = home.open();
    sites.add_catalogue(dear.as_bytes(), "dear.toml", "dear").expect("kept");
    sites.put_in_force("dear").expect("in force");
    drop(sites);
    let window = self::window(&home);
    let opened = window.open_site(&before.id).expect("opened");
    assert_eq!(opened.catalogue.stands_in, None);
    assert!(opened.cost.value > before.cost.value, "{:?} {:?}", opened.cost, before.cost);
    assert!(opened.bound.value <= opened.cost.value);
}
