//! Findings: what a rule says about one thing.

use crate::Id;

/// How a rule judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
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

/// What a finding is about.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Subject {
    /// The site as a whole.
    Site,
    /// A rail.
    Rail(Id),
    /// A feature or bend of a rail, by its id.
    Feature {
        /// The rail.
        rail: Id,
        /// The feature.
        feature: Id,
    },
    /// A mains point.
    MainsPoint(Id),
    /// A driver place.
    DriverPlace(Id),
    /// A route.
    Route(Id),
    /// A luminaire of the plan, by its reference.
    Luminaire {
        /// The rail.
        rail: Id,
        /// Reference of the luminaire in the plan.
        luminaire: String,
    },
    /// A driver of the plan, by its reference.
    Driver(String),
    /// A circuit of the plan, by its reference.
    Circuit(String),
    /// A cable of the plan, by its reference.
    Cable(String),
    /// A zone of the brief.
    Zone(Id),
    /// A part of the catalogue.
    Part(String),
}

/// A number a rule compared, or words where there is no number.
#[derive(Clone, Debug, PartialEq)]
pub enum Figure {
    /// A number in the finding's unit.
    Number(f64),
    /// Words, such as "unknown".
    Words(String),
}

/// What one rule says about one thing.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// Name of the rule, in lower case with hyphens, such as `least-voltage`.
    pub rule: &'static str,
    /// What it is about.
    pub subject: Subject,
    /// The judgement.
    pub verdict: Verdict,
    /// What was found, if it can be said in one figure.
    pub measured: Option<Figure>,
    /// What it was held against.
    pub limit: Option<Figure>,
    /// Unit of both; empty where there is none.
    pub unit: &'static str,
    /// Standard with clause, or "common practice, no source".
    pub source: &'static str,
    /// One plain sentence: what is the matter.
    pub message: String,
    /// What to do next; empty only for a pass.
    pub advice: String,
}

impl Finding {
    /// A finding without figures yet; the words follow with [`Self::says`] and the like.
    #[must_use]
    pub fn new(rule: &'static str, subject: Subject, verdict: Verdict, source: &'static str) -> Self {
        Self {
            rule,
            subject,
            verdict,
            measured: None,
            limit: None,
            unit: "",
            source,
            message: String::new(),
            advice: String::new(),
        }
    }

    /// With what was measured and what it was held against, both in one unit.
    #[must_use]
    pub fn compared(mut self, measured: f64, limit: f64, unit: &'static str) -> Self {
        self.measured = Some(Figure::Number(measured));
        self.limit = Some(Figure::Number(limit));
        self.unit = unit;
        self
    }

    /// With what was found, in words.
    #[must_use]
    pub fn found(mut self, words: impl Into<String>) -> Self {
        self.measured = Some(Figure::Words(words.into()));
        self
    }

    /// With one plain sentence on what is the matter.
    #[must_use]
    pub fn says(mut self, message: impl Into<String>) -> Self {
        self.message = message.into();
        self
    }

    /// With what to do next.
    #[must_use]
    pub fn advises(mut self, advice: impl Into<String>) -> Self {
        self.advice = advice.into();
        self
    }

    /// The order in which findings are listed everywhere: worst first, then by rule and subject.
    #[must_use]
    pub fn order(&self, other: &Self) -> std::cmp::Ordering {
        (self.verdict, self.rule, &self.subject, &self.message).cmp(&(
            other.verdict,
            other.rule,
            &other.subject,
            &other.message,
        ))
    }
}
