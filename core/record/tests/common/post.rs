//! A site with one rail R1 and its post P7, and the devices that edit it.

use record::edit::Edit;
use record::sign::Device;
use record::store::Store;
use survey::{Answer, FeatureKind, Measurement, Passage, PostKind, Survey};
use units::Length;

use super::{dice::Dice, folder::Folder, things};

pub const SITE: &str = "invented-site";

pub fn device(n: u8) -> Device {
    Device::new(&format!("Invented Person {n}"), &format!("tablet {n}"), [n; 32])
}

/// Sixteen bytes that no other opening of a test has.
pub fn fresh(n: u8, opening: u8) -> [u8; 16] {
    [n, opening, 7, 7, 7, 7, 7, 7, 7, 7, 7, 7, 7, 7, 7, 7]
}

pub fn open(folder: &Folder, n: u8, opening: u8) -> Store {
    Store::open(&folder.0, device(n), fresh(n, opening)).expect("a store")
}

/// A survey with one rail R1 and its post P7 at 4,310 mm.
pub fn one_post() -> Survey {
    let mut d = Dice(41);
    let mut survey = things::survey(&mut d);
    let mut rail = things::rail(&mut d, "R1");
    let mut post = things::feature(&mut d, "f7");
    post.label = "P7".to_owned();
    post.chainage = Measurement::taped(Length::mm(4310));
    post.kind = FeatureKind::Post { width: Length::mm(48), kind: PostKind::Saddle, into_post: Passage::Unknown };
    post.bore = Passage::Unknown;
    rail.label = "stair".to_owned();
    rail.bonding.bonded = Answer::Unknown;
    rail.features = vec![post];
    survey.rails = vec![rail];
    survey
}

pub fn move_to(mm: i64) -> Edit {
    Edit::Move { rail: "R1".into(), feature: "f7".into(), to: Measurement::taped(Length::mm(mm)) }
}

pub fn chainage(survey: &Option<Survey>) -> Length {
    survey.as_ref().expect("readable").rails[0].features[0].chainage.value
}
