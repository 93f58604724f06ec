//! Edits thrown with dice: every kind, on whatever the document holds, removed things included.

use record::document::{Content, CreateError, Fields, Kind, Thing, create};
use record::edit::{Edit, NewThing};

use super::{dice::Dice, things};

/// A site full of values to write elsewhere: every field of every kind of thing.
pub fn donor(d: &mut Dice) -> Content {
    let mut survey = things::survey(d);
    survey.rails.push(things::rail(d, "R-donor"));
    survey.rails[0].pieces.push(things::piece(d, "s-donor"));
    survey.rails[0].features.push(things::feature(d, "P-donor"));
    survey.mains_points.push(things::mains_point(d, "M-donor"));
    survey.driver_places.push(things::driver_place(d, "D-donor"));
    survey.routes.push(things::route(d, "T-donor"));
    survey.photos.push(things::photo(d, "photo-donor"));
    survey.brief.rails.push(things::wish(d, "R-donor"));
    survey.brief.zones.push(things::zone(d, "Z-donor"));
    let mut doc = automerge::Automerge::new();
    doc.transact::<_, _, CreateError>(|tx| create(tx, &survey)).expect("a document");
    Content::walk(&doc)
}

/// Writes any field of any thing, whole, as another site has it.
pub fn any_field(d: &mut Dice, content: &Content, donor: &Content) -> Option<Edit> {
    let thing = d.pick(&content.things.keys().cloned().collect::<Vec<_>>());
    let kin: Vec<&Fields> = donor.things.iter().filter(|(t, _)| t.kind == thing.kind).map(|(_, f)| f).collect();
    let fields = d.pick(&kin);
    // The site's id stays what it is.
    let known = |name: &&String| name.as_str() != "id" && record::document::field(thing.kind, name).is_some();
    let names: Vec<String> = fields.cells.keys().filter(known).cloned().collect();
    if names.is_empty() {
        return None;
    }
    let field = d.pick(&names);
    let value = fields.cells[&field].value().clone();
    Some(Edit::Set { thing, field, value })
}

/// A random edit that fits the content.
pub fn edit(d: &mut Dice, content: &Content) -> Edit {
    let all: Vec<Thing> = content.things.keys().cloned().collect();
    let of = |kind: Kind| all.iter().filter(|t| t.kind == kind).cloned().collect::<Vec<_>>();
    let (features, rails, wishes) = (of(Kind::Feature), of(Kind::Rail), of(Kind::Wish));
    match d.below(9) {
        0 if !features.is_empty() => {
            let f = d.pick(&features);
            Edit::Move { rail: f.rail, feature: f.id, to: things::measurement(d) }
        }
        1 if !features.is_empty() => {
            let f = d.pick(&features);
            Edit::ChangeKind { rail: f.rail, feature: f.id, to: things::feature_kind(d) }
        }
        2 if !wishes.is_empty() => Edit::Lock { rail: d.pick(&wishes).id, locks: things::locks(d) },
        3 => add(d, &all, &rails),
        4 | 5 => {
            let several: Vec<Thing> = all.iter().filter(|t| !t.kind.is_single()).cloned().collect();
            if several.is_empty() {
                return note(d, Thing::site());
            }
            let thing = d.pick(&several);
            if d.one_in(2) { Edit::Remove(thing) } else { Edit::Restore(thing) }
        }
        6 if rails.len() > 1 => Edit::Reorder { thing: d.pick(&rails), after: d.maybe(|_| rails[0].clone()) },
        7 if !features.is_empty() => {
            let f = d.pick(&features);
            Edit::set(f, "bore", &things::passage(d))
        }
        _ => {
            let noted: Vec<Thing> =
                all.iter().filter(|t| record::document::field(t.kind, "note").is_some()).cloned().collect();
            let thing = d.pick(&noted);
            note(d, thing)
        }
    }
}

fn note(d: &mut Dice, thing: Thing) -> Edit {
    let text = format!("note {}", d.next());
    Edit::set(thing, "note", &text)
}

fn add(d: &mut Dice, all: &[Thing], rails: &[Thing]) -> Edit {
    // Few ids, so that two devices often add one id at once.
    let own = format!("new-{}", d.below(6));
    let rail = if rails.is_empty() { "R0".to_owned() } else { d.pick(rails).id };
    let new = match d.below(9) {
        0 => NewThing::Rail(things::rail(d, &own)),
        1 if !rails.is_empty() => NewThing::Piece { piece: things::piece(d, &own), rail },
        2 | 3 if !rails.is_empty() => NewThing::Feature { feature: things::feature(d, &own), rail },
        4 => NewThing::MainsPoint(things::mains_point(d, &own)),
        5 => NewThing::DriverPlace(things::driver_place(d, &own)),
        6 => NewThing::Route(things::route(d, &own)),
        7 => NewThing::Photo(things::photo(d, &own)),
        8 => NewThing::Wish(things::wish(d, &rail)),
        _ => NewThing::Zone(things::zone(d, &own)),
    };
    if all.contains(&new.thing()) { note(d, new.thing_with_note()) } else { Edit::Add(Box::new(new)) }
}

trait WithNote {
    fn thing_with_note(&self) -> Thing;
}

impl WithNote for NewThing {
    /// The thing itself where it has notes, else the site.
    fn thing_with_note(&self) -> Thing {
        let thing = self.thing();
        if record::document::field(thing.kind, "note").is_some() { thing } else { Thing::site() }
    }
}
