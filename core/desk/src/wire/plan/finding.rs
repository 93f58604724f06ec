//! Findings on the wire.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// What one rule says about one thing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct Finding {
    /// Name of the rule.
    pub rule: String,
    /// What it is about.
    pub subject: Subject,
    /// `stop`, `not_evaluated`, `caution` or `pass`.
    pub verdict: Verdict,
    /// What was found; null where it is no single figure.
    pub measured: Option<Figure>,
    /// What it was held against.
    pub limit: Option<Figure>,
    /// Unit of both; empty where there is none.
    pub unit: String,
    /// Standard with clause, or "common practice, no source".
    pub source: String,
    /// What is the matter, in a sentence.
    pub message: String,
    /// What to do next; empty for a pass.
    pub advice: String,
}

impl From<&survey::Finding> for Finding {
    fn from(from: &survey::Finding) -> Self {
        Self {
            rule: from.rule.to_owned(),
            subject: (&from.subject).into(),
            verdict: from.verdict.into(),
            measured: from.measured.as_ref().map(Figure::from),
            limit: from.limit.as_ref().map(Figure::from),
            unit: from.unit.to_owned(),
            source: from.source.to_owned(),
            message: from.message.clone(),
            advice: from.advice.clone(),
        }
    }
}

/// A judgement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Must be mended before the job goes on.
    Stop,
    /// Something needed for the judgement is missing.
    NotEvaluated,
    /// Look at it; the job may go on.
    Caution,
    /// Within the limit.
    Pass,
}

impl From<survey::Verdict> for Verdict {
    fn from(from: survey::Verdict) -> Self {
        match from {
            survey::Verdict::Stop => Self::Stop,
            survey::Verdict::NotEvaluated => Self::NotEvaluated,
            survey::Verdict::Caution => Self::Caution,
            survey::Verdict::Pass => Self::Pass,
        }
    }
}

/// A number, or words where there is no number.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(untagged)]
pub enum Figure {
    /// A number in the finding's unit.
    Number(f64),
    /// Words.
    Words(String),
}

impl From<&survey::Figure> for Figure {
    fn from(from: &survey::Figure) -> Self {
        match from {
            survey::Figure::Number(number) => Self::Number(*number),
            survey::Figure::Words(words) => Self::Words(words.clone()),
        }
    }
}

/// What a finding is about.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Subject {
    /// The site as a whole.
    Site {},
    /// A rail.
    Rail {
        /// Its id.
        rail: String,
    },
    /// A feature or piece of a rail.
    Feature {
        /// The rail's id.
        rail: String,
        /// Its id.
        feature: String,
    },
    /// A mains point.
    MainsPoint {
        /// Its id.
        id: String,
    },
    /// A driver place.
    DriverPlace {
        /// Its id.
        id: String,
    },
    /// A route.
    Route {
        /// Its id.
        id: String,
    },
    /// A luminaire of the plan.
    Luminaire {
        /// The rail's id.
        rail: String,
        /// Its reference.
        luminaire: String,
    },
    /// A driver of the plan.
    Driver {
        /// Its reference.
        id: String,
    },
    /// A circuit of the plan.
    Circuit {
        /// Its reference.
        id: String,
    },
    /// A cable of the plan.
    Cable {
        /// Its reference.
        id: String,
    },
    /// A zone of the brief.
    Zone {
        /// Its id.
        id: String,
    },
    /// A part of the catalogue.
    Part {
        /// Its reference.
        part: String,
    },
}

impl From<&survey::Subject> for Subject {
    fn from(from: &survey::Subject) -> Self {
        use survey::Subject as Plain;
        match from {
            Plain::Site => Self::Site {},
            Plain::Rail(id) => Self::Rail { rail: id.to_string() },
            Plain::Feature { rail, feature } => Self::Feature { rail: rail.to_string(), feature: feature.to_string() },
            Plain::MainsPoint(id) => Self::MainsPoint { id: id.to_string() },
            Plain::DriverPlace(id) => Self::DriverPlace { id: id.to_string() },
            Plain::Route(id) => Self::Route { id: id.to_string() },
            Plain::Luminaire { rail, luminaire } => {
                Self::Luminaire { rail: rail.to_string(), luminaire: luminaire.clone() }
            }
            Plain::Driver(id) => Self::Driver { id: id.clone() },
            Plain::Circuit(id) => Self::Circuit { id: id.clone() },
            Plain::Cable(id) => Self::Cable { id: id.clone() },
            Plain::Zone(id) => Self::Zone { id: id.to_string() },
            Plain::Part(part) => Self::Part { part: part.clone() },
        }
    }
}
