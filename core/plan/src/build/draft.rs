//! A rail on its way through the planning, with what later steps need beside the finished plan.

use survey::{Exposure, Finding, Id, Rail, RailBrief};
use units::Length;

use super::modules::ModulesDraft;
use super::selection::ChosenPoint;
use super::stretches::DrilledHole;
use crate::document::RailPlan;

/// A rail while it is planned.
pub(crate) struct RailDraft<'a> {
    /// The rail.
    pub rail: &'a Rail,
    /// What is wished for it.
    pub brief: &'a RailBrief,
    /// Exposure in force.
    pub exposure: &'a Exposure,
    /// The point luminaire, where one is planned.
    pub chosen: Option<ChosenPoint<'a>>,
    /// The modules, where they are planned.
    pub modules: Option<ModulesDraft<'a>>,
    /// The finished part.
    pub plan: RailPlan,
    /// One hole for each luminaire, in the same order.
    pub holes: Vec<HoleDraft>,
    /// What there is to say about it.
    pub findings: Vec<Finding>,
}

/// What the drilling schedule needs to know of a hole.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct HoleDraft {
    /// The straight it is in.
    pub straight: Id,
    /// Running dimension from the straight's own mark.
    pub from_mark: Length,
    /// Distance to the hole before it on the same straight.
    pub spacing: Option<Length>,
    /// The hole that is there already.
    pub drilled: Option<DrilledHole>,
}
