//! An object store, by its stand-in.

use places::open;

use crate::servers::store::Store;
use crate::suite;

#[test]
fn an_object_store_does_what_every_place_does() {
    let store = Store::start();
    let opened = open(&store.settings("work/rails"), [1; 8]).expect("a place");
    suite::all(opened.place());
}
