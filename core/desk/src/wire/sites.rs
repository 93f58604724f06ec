//! Lists of sites, history, disagreements, places found and devices, as `newel site … --json` prints them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A document for programs: text keys, its own version, derived schema.
macro_rules! document {
    ($(#[$meta:meta])* $name:ident { $($(#[$field_meta:meta])* $field:ident: $kind:ty),* $(,)? }) => {
        #[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
        $(#[$meta])*
        pub struct $name {
            $($(#[$field_meta])* pub $field: $kind),*
        }
    };
}

document!(
    /// The sites of a store, last changed first.
    SiteList {
        /// Version of this shape: 1.
        schema_version: u32,
        /// The sites.
        sites: Vec<SiteLine>,
    }
);

document!(
    /// A site in the list.
    SiteLine {
        /// Its id.
        id: String,
        /// What people call it.
        label: String,
        /// Where it is, in words.
        address: String,
        /// How far the job has come: survey, scheme, price or fit.
        stage: String,
        /// How many rails it has.
        rails: u32,
        /// How many features its rails have.
        features: u32,
        /// How many photos it has.
        photos: u32,
        /// Findings of the survey and of the record alone. Those of the plan and its rules are not among them: they hang
        /// on the catalogue, and `newel site show` counts them all.
        findings: SurveyFindings,
        /// Fields over which people disagree.
        disagreements: u32,
        /// Values that this release cannot read.
        unreadable: u32,
        /// Changes that do not count, since their device is not known here or they are damaged.
        set_aside: u32,
        /// Whether it is in the archive.
        archived: bool,
        /// When it was last changed, in UTC (RFC 3339).
        last_change: String,
    }
);

document!(
    /// Findings of a survey, counted.
    SurveyFindings {
        /// Those that stop the job.
        stop: u32,
        /// Those to look at: not evaluated, or a caution.
        open: u32,
    }
);

document!(
    /// Every change of a site, each after what it builds on.
    SiteHistory {
        /// Version of this shape: 1.
        schema_version: u32,
        /// The site's id.
        id: String,
        /// The changes.
        changes: Vec<ChangeLine>,
        /// Changes that do not count, and why.
        set_aside: Vec<SetAsideLine>,
    }
);

document!(
    /// One change.
    ChangeLine {
        /// Its name: the beginning of it, or the whole, shows the site as it was with it.
        change: String,
        /// When, in UTC (RFC 3339).
        when: String,
        /// Who, by its own word.
        person: String,
        /// The device, by its public key.
        device: String,
        /// What, in words.
        sentence: String,
    }
);

document!(
    /// A change that does not count.
    SetAsideLine {
        /// Who, by its own word.
        person: String,
        /// The device, by its public key.
        device: String,
        /// Why it does not count.
        why: String,
    }
);

document!(
    /// Fields over which people disagree.
    SiteDisagreements {
        /// Version of this shape: 1.
        schema_version: u32,
        /// The site's id.
        id: String,
        /// The disagreements.
        disagreements: Vec<DisagreementLine>,
    }
);

document!(
    /// One field that people changed at once to different values.
    DisagreementLine {
        /// Its name, by which it is settled.
        name: String,
        /// What it is about, in words.
        about: String,
        /// Whether it is an answer about safety, which counts as stop until it is settled.
        stops: bool,
        /// The values, the one shown meanwhile first.
        positions: Vec<PositionLine>,
    }
);

document!(
    /// One of the values.
    PositionLine {
        /// Its number, from 1.
        number: u32,
        /// The value in words.
        value: String,
        /// Who wrote it.
        person: String,
        /// When, in UTC (RFC 3339).
        when: String,
    }
);

document!(
    /// Places where the words were found.
    SiteHits {
        /// Version of this shape: 1.
        schema_version: u32,
        /// What was looked for.
        words: String,
        /// The places, best first.
        hits: Vec<HitLine>,
    }
);

document!(
    /// One place.
    HitLine {
        /// The site's id.
        id: String,
        /// What people call the site.
        label: String,
        /// The thing, in words.
        thing: String,
        /// The field.
        field: String,
        /// The text.
        text: String,
    }
);

document!(
    /// What a site file brought.
    SiteArrival {
        /// Version of this shape: 1.
        schema_version: u32,
        /// The sites in it, by id.
        sites: Vec<String>,
        /// Changes that were not here before.
        new_changes: u32,
        /// Devices whose changes wait until somebody here says that they count.
        unknown_devices: Vec<DeviceLine>,
        /// Photos whose originals are here now.
        photos: u32,
        /// Photos whose originals were not taken in.
        photos_set_aside: Vec<PhotoAside>,
    }
);

document!(
    /// A photo that did not travel, or was not taken in.
    PhotoAside {
        /// The name of its file.
        file: String,
        /// Why.
        why: String,
    }
);

document!(
    /// What was written into a site file.
    SiteSent {
        /// Version of this shape: 1.
        schema_version: u32,
        /// The site's id.
        id: String,
        /// Photos whose originals travel with it.
        photos: u32,
        /// Photos that do not.
        photos_left_out: Vec<PhotoAside>,
    }
);

document!(
    /// The catalogues that the firm keeps.
    CatalogueList {
        /// Version of this shape: 1.
        schema_version: u32,
        /// The catalogues, by content.
        catalogues: Vec<CatalogueLine>,
    }
);

document!(
    /// A catalogue.
    CatalogueLine {
        /// What it is known by, whatever it holds.
        id: String,
        /// SHA-256 of its bytes as they are now.
        content_sha256: String,
        /// What people call it.
        name: String,
        /// Whether it is the one in force, from which sites are planned where no other is named.
        in_force: bool,
    }
);

document!(
    /// The devices that were heard of.
    DeviceList {
        /// Version of this shape: 1.
        schema_version: u32,
        /// The devices, this one first.
        devices: Vec<DeviceLine>,
    }
);

document!(
    /// A device.
    DeviceLine {
        /// Its public key, in hexadecimal digits.
        id: String,
        /// What it is called, by its own word.
        device: String,
        /// Who works on it, by its own word.
        person: String,
        /// Whether its changes count here.
        known: bool,
        /// Whether it is this device.
        this: bool,
    }
);
