//! The survey as a whole, and the site.

use super::{Brief, DriverPlace, Exposure, MainsPoint, Photo, Rail, Route};
use crate::wire::mirror::{Mirror, record};
use crate::wire::scalar::{Day, Deg, Id, Latitude, Longitude, Mm, MmSigned};

/// A survey file: one site with the brief for it. Lengths are numbers in millimetres or texts with a unit ("2.45 m",
/// "8' 3 1/2\"").
#[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema, ts_rs::TS)]
#[schemars(rename = "SurveyFile")]
pub struct Survey {
    /// Version of this shape: 1.
    #[schemars(range(min = 1, max = 1))]
    pub schema_version: u32,
    /// The site itself.
    pub site: Site,
    /// Rails.
    #[schemars(length(max = 1000))]
    pub rails: Vec<Rail>,
    /// Where mains can be had.
    #[serde(default)]
    #[schemars(length(max = 1000))]
    pub mains_points: Vec<MainsPoint>,
    /// Where a driver can stand.
    #[serde(default)]
    #[schemars(length(max = 1000))]
    pub driver_places: Vec<DriverPlace>,
    /// Measured ways for cables.
    #[serde(default)]
    #[schemars(length(max = 10000))]
    pub routes: Vec<Route>,
    /// Photographs.
    #[serde(default)]
    #[schemars(length(max = 100_000))]
    pub photos: Vec<Photo>,
    /// What the client wants; nothing is lit where it is absent.
    #[serde(default)]
    pub brief: Brief,
}

impl Mirror for Survey {
    type Plain = survey::Survey;
    fn from_plain(plain: &Self::Plain) -> Self {
        Self {
            schema_version: survey::SCHEMA_VERSION,
            site: Mirror::from_plain(&plain.site),
            rails: Mirror::from_plain(&plain.rails),
            mains_points: Mirror::from_plain(&plain.mains_points),
            driver_places: Mirror::from_plain(&plain.driver_places),
            routes: Mirror::from_plain(&plain.routes),
            photos: Mirror::from_plain(&plain.photos),
            brief: Mirror::from_plain(&plain.brief),
        }
    }
    fn into_plain(self) -> Self::Plain {
        survey::Survey {
            site: self.site.into_plain(),
            rails: self.rails.into_plain(),
            mains_points: self.mains_points.into_plain(),
            driver_places: self.driver_places.into_plain(),
            routes: self.routes.into_plain(),
            photos: self.photos.into_plain(),
            brief: self.brief.into_plain(),
        }
    }
}

record!(
    /// The site, its frame and what holds for all of it.
    Site = survey::Site {
        /// Its id.
        id: Id = id,
        /// What people call it.
        label: String = label,
        /// Where it is, in words.
        #[serde(default)]
        address: String = address,
        /// Whether the whole site is made up, for teaching or trying out; every paper then says so.
        #[serde(default)]
        invented: bool = invented,
        /// The day of the survey.
        #[serde(default)]
        surveyed_on: Option<Day> = surveyed_on,
        /// Who surveyed.
        #[serde(default)]
        surveyor: Option<String> = surveyor,
        /// The origin of the site frame, if a position was taken.
        #[serde(default)]
        origin: Option<Origin> = origin,
        /// Exposure of everything that states none of its own.
        exposure: Exposure = exposure,
        /// Notes.
        #[serde(default)]
        note: String = note,
    }
);

record!(
    /// A WGS 84 position with its stated accuracy, and how the site frame lies there.
    Origin = survey::Origin {
        /// Latitude, degrees north.
        latitude_deg: Latitude = latitude,
        /// Longitude, degrees east.
        longitude_deg: Longitude = longitude,
        /// Radius within which the position is believed.
        #[serde(default)]
        accuracy_mm: Option<Mm> = accuracy,
        /// Bearing of the frame's y axis, degrees clockwise from true north; 0 where absent.
        #[serde(default)]
        bearing_deg: Deg = bearing,
        /// Height of the frame's zero above the level that the surveyor used.
        #[serde(default)]
        level_mm: Option<MmSigned> = level,
    }
);
