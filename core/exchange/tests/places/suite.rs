//! What every place must do. Nothing in it knows which place it is.

use std::thread;

use exchange::place::{Entry, Place, Span, Trouble};

const ALL: Span = Span { from: 0, most: u64::MAX };

/// Every behaviour, on a place that holds nothing yet.
pub fn all(place: &dyn Place) {
    an_empty_place_lists_nothing(place);
    what_is_written_is_read_and_listed(place);
    a_span_is_read_and_no_more(place);
    a_missing_file_is_said_to_be_missing(place);
    writing_twice_does_no_harm(place);
    a_file_of_another_length_is_replaced(place);
    deleting_is_final_and_may_be_repeated(place);
    folders_are_made_on_the_way(place);
    many_write_and_read_at_once(place);
    a_block_of_four_mebibytes_and_an_empty_file_pass(place);
    no_path_leads_out(place);
}

fn names(place: &dyn Place, folder: &str) -> Vec<String> {
    let mut names: Vec<String> = place.list(folder).expect("a list").into_iter().map(|entry| entry.name).collect();
    names.sort();
    names
}

fn an_empty_place_lists_nothing(place: &dyn Place) {
    assert_eq!(place.list("heads").expect("a list"), []);
}

fn what_is_written_is_read_and_listed(place: &dyn Place) {
    place.write_new("heads/a.1", b"one").expect("written");
    place.write_new("heads/b.22", b"twenty-two").expect("written");
    assert_eq!(place.read("heads/a.1", ALL).expect("read"), b"one");
    let mut listed = place.list("heads").expect("a list");
    listed.sort();
    let plain = |name: &str, bytes| Entry { name: name.to_owned(), bytes, plain: true };
    assert_eq!(listed, [plain("a.1", 3), plain("b.22", 10)]);
}

fn a_span_is_read_and_no_more(place: &dyn Place) {
    place.write_new("span/x", b"0123456789").expect("written");
    for (from, most, expected) in [(0, 4, "0123"), (4, 3, "456"), (8, 9, "89"), (10, 5, ""), (99, 5, ""), (3, 0, "")] {
        let found = place.read("span/x", Span { from, most }).expect("read");
        assert_eq!(found, expected.as_bytes(), "{most} bytes from {from}");
    }
}

fn a_missing_file_is_said_to_be_missing(place: &dyn Place) {
    for path in ["heads/c.1", "nowhere/c.1", "nowhere/at/all"] {
        assert_eq!(place.read(path, ALL).expect_err("not there").trouble, Trouble::Missing, "{path}");
    }
}

fn writing_twice_does_no_harm(place: &dyn Place) {
    for _ in 0..3 {
        place.write_new("twice/x", b"the same").expect("written");
        assert_eq!(place.read("twice/x", ALL).expect("read"), b"the same");
    }
    assert_eq!(names(place, "twice"), ["x"]);
}

fn a_file_of_another_length_is_replaced(place: &dyn Place) {
    place.write_new("cut/x", b"cut sh").expect("written");
    place.write_new("cut/x", b"cut short no more").expect("written");
    assert_eq!(place.read("cut/x", ALL).expect("read"), b"cut short no more");
}

fn deleting_is_final_and_may_be_repeated(place: &dyn Place) {
    place.write_new("gone/x", b"x").expect("written");
    place.write_new("gone/y", b"y").expect("written");
    for _ in 0..2 {
        place.delete("gone/x").expect("deleted");
        assert_eq!(place.read("gone/x", ALL).expect_err("gone").trouble, Trouble::Missing);
        assert_eq!(names(place, "gone"), ["y"]);
    }
    place.delete("nowhere/x").expect("nothing to delete");
}

fn folders_are_made_on_the_way(place: &dyn Place) {
    place.write_new("objects/ab/abcd", b"deep").expect("written");
    assert_eq!(place.read("objects/ab/abcd", ALL).expect("read"), b"deep");
    let plain: Vec<Entry> = place.list("objects").expect("a list").into_iter().filter(|entry| entry.plain).collect();
    assert_eq!(plain, [], "a folder is no plain file, where it is listed at all");
}

fn many_write_and_read_at_once(place: &dyn Place) {
    thread::scope(|scope| {
        for n in 0..8 {
            scope.spawn(move || {
                for k in 0..8 {
                    // Every second file is written by two at once.
                    let path = format!("many/{}", if k % 2 == 0 { k.to_string() } else { format!("{n}-{k}") });
                    let bytes = path.repeat(1000);
                    place.write_new(&path, bytes.as_bytes()).expect("written");
                    assert_eq!(place.read(&path, ALL).expect("read"), bytes.as_bytes(), "{path}");
                }
            });
        }
    });
    assert_eq!(names(place, "many").len(), 4 + 8 * 4);
}

fn a_block_of_four_mebibytes_and_an_empty_file_pass(place: &dyn Place) {
    let block: Vec<u8> = (0..4 << 20).map(|n: u32| n.wrapping_mul(2_654_435_761).to_be_bytes()[0]).collect();
    place.write_new("large/block", &block).expect("written");
    assert!(place.read("large/block", ALL).expect("read") == block);
    place.write_new("large/none", b"").expect("written");
    assert_eq!(place.read("large/none", ALL).expect("read"), b"");
}

fn no_path_leads_out(place: &dyn Place) {
    for path in ["../x", "heads/../../x", "/etc/x", "heads//x", "heads/.x", "", "heads\\x", "c:x"] {
        assert_eq!(place.write_new(path, b"x").expect_err(path).trouble, Trouble::Wrong, "{path}");
        assert_eq!(place.read(path, ALL).expect_err(path).trouble, Trouble::Wrong, "{path}");
        assert_eq!(place.delete(path).expect_err(path).trouble, Trouble::Wrong, "{path}");
    }
}
