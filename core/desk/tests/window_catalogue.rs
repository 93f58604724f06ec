//! The catalogue page on a store: parts are changed one by one or from a file, each change is a revision that can be taken
//! back and that a restart shows, and the demo stays as it is.

mod common;

use std::collections::BTreeMap;

use common::home::Home;
use desk::parts::{CsvStyle, Sheet};
use desk::view::{CatalogueForm, CataloguePage, Window};

fn window(home: &Home) -> Window {
    Window::new(None, Some(home.0.clone()))
}

/// A copy of the demo, to be changed.
fn with_copy(home: &Home) -> (Window, CataloguePage) {
    let window = window(home);
    let page = window.copy_catalogue("demo", "Ours").expect("copied");
    (window, page)
}

fn cells(page: &CataloguePage, part: &str) -> BTreeMap<String, String> {
    page.open.parts.iter().find(|line| line.part == part).expect("there").cells.clone()
}

fn price(page: &CataloguePage, part: &str) -> String {
    cells(page, part)["price"].clone()
}

fn changed(page: &CataloguePage, part: &str, field: &str, text: &str) -> BTreeMap<String, String> {
    let mut cells = cells(page, part);
    cells.insert(field.to_owned(), text.to_owned());
    cells
}

fn write(home: &Home, name: &str, text: &str) -> String {
    let path = home.0.join(name);
    std::fs::write(&path, text).expect("written");
    path.to_string_lossy().into_owned()
}

#[test]
fn the_demo_stays_as_it_is_and_a_copy_is_ones_own() {
    let home = Home::of("Invented Anna");
    let window = window(&home);
    let page = window.catalogues(None).expect("a page");
    assert_eq!((page.open.id.as_str(), page.open.built_in), ("demo", true));
    assert!(page.stands_in.is_some());
    let dearer = changed(&page, "PT-18-W30", "price", "99");
    for refused in [
        window.save_part("demo", Sheet::Luminaires, Some("PT-18-W30"), &dearer),
        window.delete_part("demo", "PT-18-W30"),
        window.put_in_force("demo"),
    ] {
        assert!(refused.expect_err("built in").message.contains("make a copy of it"));
    }
    let copy = window.copy_catalogue("demo", "Ours").expect("copied");
    assert_eq!(
        (copy.open.name.as_str(), copy.open.built_in, copy.open.parts.len()),
        ("Ours", false, page.open.parts.len())
    );
    assert!(copy.catalogues.iter().any(|entry| entry.name == "Ours" && entry.invented), "its parts are invented still");
    assert!(window.copy_catalogue("demo", "Ours").expect_err("taken").message.contains("no other catalogue"));
}

#[test]
fn each_change_is_a_revision_that_is_taken_back_and_made_again_and_that_a_restart_shows() {
    let home = Home::of("Invented Anna");
    let (open, page) = with_copy(&home);
    let id = page.open.id.clone();
    let dearer = changed(&page, "PT-18-W30", "price", "18,2");
    let page = open.save_part(&id, Sheet::Luminaires, Some("PT-18-W30"), &dearer).expect("kept");
    assert_eq!(price(&page, "PT-18-W30"), "18.20");
    assert_eq!(page.undo.as_deref(), Some("catalogue Ours: part PT-18-W30 changed"));
    let mut new = changed(&page, "DR-12-20", "part", "DR-NEW");
    new.insert("description".to_owned(), "<b>bold</b>".to_owned());
    let page = open.save_part(&id, Sheet::Drivers, None, &new).expect("added");
    assert_eq!(cells(&page, "DR-NEW")["description"], "<b>bold</b>");
    let page = open.delete_part(&id, "PT-22-W50").expect("taken out");
    assert!(page.open.parts.iter().all(|line| line.part != "PT-22-W50"));
    drop(open);
    let open = window(&home);
    let page = open.undo_catalogue(Some(&id)).expect("taken back");
    assert_eq!(price(&page, "PT-22-W50"), "24.90");
    open.undo_catalogue(Some(&id)).expect("taken back");
    let page = open.undo_catalogue(Some(&id)).expect("taken back");
    assert_eq!(price(&page, "PT-18-W30"), "17.40");
    assert!(page.open.parts.iter().all(|line| line.part != "DR-NEW"));
    let page = open.redo_catalogue(Some(&id)).expect("made again");
    assert_eq!(price(&page, "PT-18-W30"), "18.20");
    // The comments of the file that it was copied from are there still.
    let file = home.outside("ours.toml");
    open.export_catalogue(&id, &file.to_string_lossy(), CatalogueForm::Toml).expect("written");
    let text = std::fs::read_to_string(&file).expect("text");
    assert!(text.contains("price = 18.20") && text.contains("# the retainer grips walls between these two"), "{text}");
}

#[test]
fn a_catalogue_is_called_by_what_it_says_of_itself_once_somebody_changes_that() {
    let home = Home::of("Invented Anna");
    let demo = std::fs::read("../../fixtures/demo/catalogue.toml").expect("a file");
    home.open().add_catalogue(&demo, "demo.toml", "spring").expect("kept");
    let window = window(&home);
    let mut head = window.catalogues(Some("spring")).expect("a page").open.head;
    head.insert("priced_on".to_owned(), "2030-02-01".to_owned());
    let page = window.save_part("spring", Sheet::Catalogue, None, &head).expect("kept");
    assert_eq!((page.open.name.as_str(), page.catalogues[0].priced_on.as_str()), ("spring", "2030-02-01"));
    head.insert("label".to_owned(), "Summer".to_owned());
    let page = window.save_part(&page.open.id, Sheet::Catalogue, None, &head).expect("kept");
    assert_eq!(page.open.name, "Summer");
    head.insert("currency".to_owned(), "coins".to_owned());
    let faults = window.check_part(&page.open.id, Sheet::Catalogue, None, &head).expect("checked");
    assert_eq!(
        (faults[0].field.as_str(), faults[0].accepted.as_str()),
        ("currency", "an ISO 4217 code such as \"EUR\"")
    );
}

#[test]
fn a_form_with_faults_is_refused_beside_its_fields_and_changes_nothing() {
    let home = Home::of("Invented Anna");
    let (window, page) = with_copy(&home);
    let wrong = changed(&page, "PT-18-W30", "shape.hole_mm", "400");
    let faults = window.check_part(&page.open.id, Sheet::Luminaires, Some("PT-18-W30"), &wrong).expect("checked");
    assert_eq!(faults.iter().map(|fault| fault.field.as_str()).collect::<Vec<_>>(), ["shape.hole_mm"]);
    let refusal = window.save_part(&page.open.id, Sheet::Luminaires, Some("PT-18-W30"), &wrong).expect_err("refused");
    assert_eq!(refusal.faults.len(), 1);
    let after = window.catalogues(Some(&page.open.id)).expect("a page");
    assert_eq!((after.open, after.undo), (page.open, page.undo));
}

#[test]
fn a_form_is_checked_against_the_catalogue_as_it_is_now() {
    let home = Home::of("Invented Anna");
    let (window, page) = with_copy(&home);
    let new = changed(&page, "PT-18-W30", "part", "PT-18-NEW");
    let check = |id: &str, was| window.check_part(id, Sheet::Luminaires, was, &new).expect("checked");
    let taken = |faults: Vec<desk::parts::FieldFault>| faults.iter().any(|fault| fault.field == "part");
    let id = page.open.id.as_str();
    assert!(!taken(check(id, None)));
    // What was read for the last check does not outlast a change, nor stand for another catalogue.
    window.save_part(id, Sheet::Luminaires, None, &new).expect("kept");
    assert!(taken(check(id, None)) && !taken(check(id, Some("PT-18-NEW"))));
    assert!(!taken(check("demo", None)));
    window.undo_catalogue(Some(id)).expect("taken back");
    assert!(!taken(check(id, None)));
}

#[test]
fn sites_are_planned_with_the_catalogue_in_force_as_it_is_now() {
    let home = Home::of("Invented Anna");
    let (window, page) = with_copy(&home);
    let site = window.add_demo_site().expect("added").site.expect("an id");
    let before = window.open_site(&site).expect("opened");
    let put = window.put_in_force(&page.open.id).expect("in force");
    assert!(put.replanned && put.stands_in.is_none() && put.catalogues[0].in_force);
    assert_eq!(put.sites.len(), 1);
    let dearer = changed(&page, "PT-18-W30", "price", "900");
    assert!(window.save_part(&page.open.id, Sheet::Luminaires, Some("PT-18-W30"), &dearer).expect("kept").replanned);
    let driver = changed(&page, "DR-12-60", "price", "7900");
    window.save_part(&page.open.id, Sheet::Drivers, Some("DR-12-60"), &driver).expect("kept");
    let after = window.open_site(&site).expect("opened");
    assert!(after.cost.value > before.cost.value, "{:?} {:?}", after.cost, before.cost);
    assert_eq!(after.catalogue.stands_in, None);
}

#[test]
fn a_file_is_looked_at_before_anything_is_taken_and_is_one_step() {
    let home = Home::of("Invented Anna");
    let (window, page) = with_copy(&home);
    let id = page.open.id.clone();
    let path = write(&home, "prices.csv", "part;price\r\nPT-18-W30;18,2\r\nPT-22-W50;dear\r\nDR-12-20;38\r\n");
    let seen = window.preview_import(Some(&id), &path).expect("looked at");
    assert_eq!((seen.added.len(), seen.changed.len(), seen.unchanged, seen.refused.len()), (0, 1, 1, 1));
    assert_eq!((seen.refused[0].line, seen.refused[0].column, seen.refused[0].value.as_str()), (3, 2, "dear"));
    assert_eq!(window.catalogues(Some(&id)).expect("a page").open, page.open, "looking changes nothing");
    // What was looked at is what is taken, or nothing.
    write(&home, "prices.csv", "part;price\r\nPT-18-W30;1800\r\n");
    let stale =
        window.take_import(Some(&id), &path, &seen.file_sha256, &seen.content_sha256).expect_err("another file");
    assert!(stale.message.contains("is not as it was"), "{}", stale.message);
    write(&home, "prices.csv", "part;price\r\nPT-18-W30;18,2\r\nPT-22-W50;dear\r\nDR-12-20;38\r\n");
    let taken = window.take_import(Some(&id), &path, &seen.file_sha256, &seen.content_sha256).expect("taken");
    assert_eq!((price(&taken, "PT-18-W30").as_str(), price(&taken, "PT-22-W50").as_str()), ("18.20", "24.90"));
    let back = window.undo_catalogue(Some(&id)).expect("one step");
    assert_eq!(back.open, page.open);
}

#[test]
fn what_is_exported_comes_in_again_as_no_change_and_as_a_catalogue_of_its_own() {
    let home = Home::of("Invented Anna");
    let (window, page) = with_copy(&home);
    let id = page.open.id.clone();
    let file = |name: &str| home.outside(name).to_string_lossy().into_owned();
    let toml = file("ours.toml");
    window.export_catalogue(&id, &toml, CatalogueForm::Toml).expect("written");
    let seen = window.preview_import(Some(&id), &toml).expect("looked at");
    assert_eq!((seen.added, seen.changed, seen.refused), (vec![], vec![], vec![]));
    assert_eq!(seen.unchanged as usize, page.open.parts.len());
    for sheet in Sheet::PARTS {
        for style in [CsvStyle::Points, CsvStyle::Commas] {
            let csv = file(&format!("{}.csv", sheet.name()));
            window.export_catalogue(&id, &csv, CatalogueForm::Csv { sheet, style }).expect("written");
            let seen = window.preview_import(Some(&id), &csv).expect("looked at");
            assert_eq!((seen.added, seen.changed, seen.refused), (vec![], vec![], vec![]), "{sheet:?} {style:?}");
        }
    }
    let seen = window.preview_import(None, &toml).expect("looked at");
    assert_eq!((seen.added.len(), seen.catalogue.as_str()), (page.open.parts.len(), "Ours 2"));
    // A list of parts alone is no catalogue.
    let alone = window.preview_import(None, &file("leads.csv")).expect_err("no catalogue");
    assert!(alone.faults.join("\n").contains("parts alone"), "{alone:?}");
}

#[test]
fn a_catalogue_file_of_which_a_part_is_wrong_comes_in_without_it() {
    let home = Home::of("Invented Anna");
    let window = window(&home);
    let demo = String::from_utf8(std::fs::read("../../fixtures/demo/catalogue.toml").expect("a file")).expect("text");
    let path = write(&home, "new.toml", &demo.replace("flux_lm = 34.0", "flux_lm = \"much\""));
    let seen = window.preview_import(None, &path).expect("looked at");
    assert_eq!(seen.refused.len(), 1);
    assert_eq!((seen.refused[0].part.as_str(), seen.refused[0].field.as_str()), ("PT-22-W50", "flux_lm"));
    let taken = window.take_import(None, &path, &seen.file_sha256, &seen.content_sha256).expect("taken");
    assert_eq!(taken.open.parts.len(), seen.added.len());
    assert!(taken.open.parts.iter().all(|line| line.part != "PT-22-W50"));
    // Prices in another currency do not go among these.
    let pounds = write(&home, "pounds.toml", &demo.replace("currency = \"EUR\"", "currency = \"GBP\""));
    let refusal = window.preview_import(Some(&taken.open.id), &pounds).expect_err("another currency");
    assert!(refusal.faults[0].contains("has its prices in GBP, this catalogue in EUR"), "{refusal:?}");
}
