//! Who may open a store, and how: one writer, any number of readers, and databases of newer releases.

mod common;

use common::folder::Folder;
use common::post::{SITE, chainage, device, fresh, move_to, one_post, open};
use record::store::{PhotoRow, Store, StoreError};
use rusqlite::Connection;
use units::Length;

#[test]
fn a_second_writer_is_told_who_has_the_store_and_may_read() {
    let folder = Folder::new();
    let mut store = open(&folder, 1, 1);
    let mut site = store.create(&one_post(), 1).expect("created");
    let refused = Store::open(&folder.0, device(1), [9; 16]).err().expect("in use").to_string();
    assert!(refused.contains("is in use by another Newel"), "{refused}");
    assert!(refused.contains(&format!("process {}", std::process::id())), "{refused}");
    assert!(refused.contains("reading only"), "{refused}");

    let mut reader = Store::open_read_only(&folder.0, device(2)).expect("beside the writer");
    assert!(reader.read_only().is_some());
    let mut seen = reader.site(SITE).expect("read");
    assert_eq!(chainage(&seen.reading().survey), Length::mm(4310));
    // What the writer does meanwhile is there after catching up, and in the lists.
    site.edit(&mut store, &move_to(4325), 2).expect("moved");
    seen.catch_up(&reader).expect("read again");
    assert_eq!(chainage(&seen.reading().survey), Length::mm(4325));
    assert_eq!(reader.sites().expect("list"), store.sites().expect("list"));
    // Whatever would write is refused in words, and changes nothing.
    let row = PhotoRow {
        file: "ab".into(),
        name: "n".into(),
        kind: "jpeg".into(),
        bytes: 1,
        added_ms: 1,
        facts: "{}".into(),
    };
    let file = store.export(SITE).expect("file");
    for refused in [
        seen.edit(&mut reader, &move_to(4400), 3).map(|_| ()),
        seen.undo(&mut reader, 3).map(|_| ()),
        reader.create(&one_post(), 3).map(|_| ()),
        reader.rebuild(),
        reader.import(&file).map(|_| ()),
        reader.set_setting("theme", "dark"),
        reader.know(device(1).id()),
        reader.keep_photos(&[row]),
    ] {
        let said = refused.expect_err("refused").to_string();
        assert!(
            said.contains("reading only") || said.contains("is there already") || said.contains("nothing of this"),
            "{said}"
        );
    }
    assert_eq!(chainage(&seen.reading().survey), Length::mm(4325));
    drop(store);
    assert!(Store::open(&folder.0, device(1), [9; 16]).is_ok());
}

#[test]
fn nothing_to_read_is_said_so() {
    let folder = Folder::new();
    let said = Store::open_read_only(&folder.0, device(1)).err().expect("empty").to_string();
    assert!(said.contains("newel.sqlite cannot be used"), "{said}");
}

/// Makes the database say that a release `steps` ahead wrote it, readable from `reader` on.
fn from_the_future(folder: &Folder, reader: &str) -> i64 {
    let db = Connection::open(folder.0.join("newel.sqlite")).expect("opened");
    let now: i64 = db.query_row("PRAGMA user_version", [], |row| row.get(0)).expect("read");
    db.execute_batch("ALTER TABLE changes ADD COLUMN mood TEXT; CREATE TABLE robots (name TEXT);").expect("altered");
    db.execute("UPDATE settings SET value = ?1 WHERE name = 'least reader'", [reader]).expect("set");
    db.pragma_update(None, "user_version", now + 3).expect("set");
    now + 3
}

#[test]
fn a_newer_database_is_read_without_harm_and_says_so() {
    let folder = Folder::new();
    open(&folder, 1, 1).create(&one_post(), 1).expect("created");
    let version = from_the_future(&folder, "1");
    let before = std::fs::read(folder.0.join("newel.sqlite")).expect("bytes");
    let refused = Store::open(&folder.0, device(1), fresh(1, 2)).err().expect("newer");
    assert!(matches!(refused, StoreError::Newer { found, .. } if found == version), "{refused}");
    assert!(refused.to_string().contains("update Newel"), "{refused}");
    {
        let mut store = Store::open_read_only(&folder.0, device(1)).expect("read");
        assert_eq!(store.newer(), Some(version));
        assert!(store.read_only().is_some_and(|why| why.contains("newer release")));
        let mut site = store.site(SITE).expect("read");
        assert_eq!(chainage(&site.reading().survey), Length::mm(4310));
        assert!(matches!(site.edit(&mut store, &move_to(4400), 3), Err(StoreError::ReadOnly(_))));
    }
    assert!(std::fs::read(folder.0.join("newel.sqlite")).expect("bytes") == before, "the file is as it was");
}

#[test]
fn a_newer_database_that_this_release_would_misread_is_refused() {
    let folder = Folder::new();
    open(&folder, 1, 1).create(&one_post(), 1).expect("created");
    from_the_future(&folder, "99");
    assert!(matches!(Store::open_read_only(&folder.0, device(1)), Err(StoreError::Newer { .. })));
}

#[test]
fn rows_of_the_photo_index_are_kept_all_or_none() {
    let folder = Folder::new();
    let row = |file: &str, facts: &str| PhotoRow {
        file: file.into(),
        name: format!("{file}.jpg"),
        kind: "jpeg".into(),
        bytes: 7,
        added_ms: 5,
        facts: facts.into(),
    };
    {
        let mut store = open(&folder, 1, 1);
        store.keep_photos(&[row("aa", "{}"), row("bb", "{}")]).expect("kept");
        store.keep_photos(&[PhotoRow { name: "again".into(), ..row("aa", "{\"width\":9}") }]).expect("kept");
        store.forget_photo("bb").expect("forgotten");
    }
    let store = open(&folder, 1, 2);
    assert_eq!(store.photos().expect("all"), [row("aa", "{\"width\":9}")]);
    assert_eq!(store.photo("aa").expect("one"), Some(row("aa", "{\"width\":9}")));
    assert_eq!(store.photo("bb").expect("none"), None);
}
