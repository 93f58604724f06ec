//! Which make of modules a rail gets: the part that the brief names, else the make that lights most.

use catalogue::{Catalogue, LinearModule, Luminaire, LuminaireKind};
use survey::{Exposure, Finding, Profile, Rail, RailBrief, Subject, Tube, Verdict};
use units::{Length, Money};

use crate::build::ingress;
use crate::build::say::{list, say};
use crate::build::selection::misfits_light;
use crate::layout::modules::{Kind, Room, lay_modules, lit_length};

/// Modules of one make, the longest first. Modules of a make differ in length and what goes with it (load, resistance,
/// flux, price) and plug into each other.
#[derive(Clone)]
pub(crate) struct ChosenModules<'a> {
    members: Vec<(&'a Luminaire, &'a LinearModule)>,
}

impl<'a> ChosenModules<'a> {
    /// The luminaire of a length, by position.
    pub(crate) fn luminaire(&self, kind: usize) -> &'a Luminaire {
        self.members[kind].0
    }

    /// The module of a length, by position.
    pub(crate) fn module(&self, kind: usize) -> &'a LinearModule {
        self.members[kind].1
    }

    /// Lengths and prices for the layout.
    pub(crate) fn kinds(&self) -> Vec<Kind> {
        self.members
            .iter()
            .map(|(luminaire, module)| Kind { length: module.length, price: luminaire.item.price })
            .collect()
    }

    /// The maker's longest chain: the least over the lengths.
    pub(crate) fn longest_chain(&self) -> Length {
        self.members.iter().map(|(_, module)| module.longest_chain).min().unwrap_or(Length::ZERO)
    }

    fn names(&self) -> String {
        let names: Vec<String> = self.members.iter().map(|(luminaire, _)| luminaire.item.part.clone()).collect();
        list(&names)
    }
}

/// Chooses the modules of a rail, and says why where there are none or where the part that was named misfits.
///
/// Of the makes that fit light and tube, those that suit weather and heat go first, then the one that lights most of this
/// rail, then the one with the cheaper modules, then the lower part reference.
pub(crate) fn choose_modules<'a>(
    rail: &Rail,
    brief: &RailBrief,
    exposure: &Exposure,
    catalogue: &'a Catalogue,
    rooms: &[Room],
) -> (Option<ChosenModules<'a>>, Vec<Finding>) {
    let stop = |message: String, advice: &str| {
        say(Verdict::Stop, "part-fits", Subject::Rail(rail.id.clone()), message, advice.to_owned())
    };
    if let Some(part) = &brief.part {
        let Some(luminaire) = catalogue.luminaire(part) else {
            let message =
                format!("the brief asks for the part {part}, and the catalogue has no luminaire of that reference");
            return (None, vec![stop(message, "correct the part in the brief, or add it to the catalogue")]);
        };
        let LuminaireKind::Linear(module) = &luminaire.kind else {
            let message = format!("the brief asks for modules and names the part {part}, which is a point luminaire");
            return (None, vec![stop(message, "name a linear module, or leave the part open")]);
        };
        let mut reasons = misfits_tube(module, &rail.tube);
        reasons.extend(misfits_light(luminaire, &brief.light));
        let findings = if reasons.is_empty() {
            vec![]
        } else {
            let message = format!("the part {part} that the brief names does not fit: {}", list(&reasons));
            vec![stop(message, "name a part that fits, or leave the part open and the make that lights most is taken")]
        };
        return (Some(ChosenModules { members: vec![(luminaire, module)] }), findings);
    }
    let mut reasons = Vec::new();
    let mut makes: Vec<ChosenModules<'a>> = Vec::new();
    for luminaire in &catalogue.luminaires {
        let LuminaireKind::Linear(module) = &luminaire.kind else { continue };
        let mut against = misfits_light(luminaire, &brief.light);
        against.extend(misfits_tube(module, &rail.tube));
        if !against.is_empty() {
            reasons.push(format!("{}: {}", luminaire.item.part, list(&against)));
        } else if let Some(make) = makes.iter_mut().find(|make| same_make(make.members[0], (luminaire, module))) {
            make.members.push((luminaire, module));
        } else {
            makes.push(ChosenModules { members: vec![(luminaire, module)] });
        }
    }
    for make in &mut makes {
        make.members.sort_by(|a, b| b.1.length.cmp(&a.1.length).then_with(|| a.0.item.part.cmp(&b.0.item.part)));
    }
    let suits = |make: &ChosenModules<'_>| {
        let luminaire = make.luminaire(0);
        ingress::suits(&luminaire.ingress, exposure.setting)
            && luminaire.greatest_ambient >= exposure.greatest_temperature
    };
    let worth = |make: &ChosenModules<'_>| -> (Length, Money) {
        let kinds = make.kinds();
        let laid = lay_modules(rooms, &kinds, make.module(0).joint_allowance);
        let price = laid.iter().flatten().map(|piece| kinds[piece.kind].price).sum();
        (lit_length(&laid), price)
    };
    let best = makes.into_iter().min_by_key(|make| {
        let (lit, price) = worth(make);
        (!suits(make), Length::ZERO - lit, price, make.names())
    });
    if best.is_some() {
        return (best, vec![]);
    }
    let message = if reasons.is_empty() {
        "the catalogue has no linear module".to_owned()
    } else {
        format!("no linear module of the catalogue fits this rail ({})", reasons.join("; "))
    };
    let advice = "add a module that fits to the catalogue, ask for points, or change the light that the brief asks for";
    (None, vec![stop(message, advice)])
}

/// Whether two modules plug into each other and may share a chain.
fn same_make(a: (&Luminaire, &LinearModule), b: (&Luminaire, &LinearModule)) -> bool {
    let of_luminaire = |l: &Luminaire| {
        (l.nominal, l.least, l.greatest, l.colour.clone(), l.cores, l.ingress.clone(), l.impact, l.greatest_ambient)
    };
    let of_module = |m: &LinearModule| (m.joint_allowance, m.slot, m.depth, m.longest_chain, m.connector.clone());
    of_luminaire(a.0) == of_luminaire(b.0)
        && of_module(a.1) == of_module(b.1)
        && std::mem::discriminant(&a.0.load) == std::mem::discriminant(&b.0.load)
}

/// Why a module does not fit a tube. An unmeasured wall is left to a trial on site.
fn misfits_tube(module: &LinearModule, tube: &Tube) -> Vec<String> {
    let mut reasons = Vec::new();
    match &tube.profile {
        Profile::RoundSlotted { slot_width } if *slot_width < module.slot => {
            reasons.push(format!("it needs a slot of {} and this one is {slot_width}", module.slot));
        }
        Profile::RoundSlotted { .. } => {}
        Profile::Round | Profile::Flat { .. } | Profile::Other(_) => reasons.push("the tube has no slot".to_owned()),
    }
    let walls = tube.wall.as_ref().map_or(Length::ZERO, |wall| wall.value * 2);
    let bore = tube.outside_diameter.value - walls;
    if module.depth > bore {
        reasons.push(format!("it reaches {} into the tube, which is {bore} inside", module.depth));
    }
    if module.length <= Length::ZERO {
        reasons.push("it has no length".to_owned());
    }
    reasons
}
