//! Answers kept from one plan to the next: where a person changes the brief of one rail, the feeds of the others need not be
//! chosen again.
//!
//! An answer follows from its problems alone, so that a plan is the same with any memory.

use std::sync::{Mutex, MutexGuard, PoisonError};

use crate::feeds::Together;
use crate::feeds::together::{PATIENCE, RailProblem, together};
use crate::{feeds, series};

/// Plans after which an answer that none of them asked for is forgotten. What is typed key by key, and taken back, lies
/// fewer plans apart.
const PLANS: u64 = 12;

/// What plans of one site, or of several, have worked out.
#[derive(Default)]
pub struct Memory {
    points: Answers<feeds::Problem>,
    modules: Answers<series::Problem>,
}

impl Memory {
    /// Answers for rails of points.
    pub(crate) fn points(&self) -> &Answers<feeds::Problem> {
        &self.points
    }

    /// Answers for rails of modules.
    pub(crate) fn modules(&self) -> &Answers<series::Problem> {
        &self.modules
    }

    /// Another plan begins: what the last ones did not ask for is forgotten.
    pub(crate) fn begin(&self) {
        self.points.begin();
        self.modules.begin();
    }
}

impl std::fmt::Debug for Memory {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "Memory({} groups of points, {} of modules)",
            self.points.lock().known.len(),
            self.modules.lock().known.len()
        )
    }
}

/// Answers for groups of rails of one kind.
pub(crate) struct Answers<P: RailProblem>(Mutex<Kept<P>>);

struct Kept<P: RailProblem> {
    /// Number of the plan that is made.
    plan: u64,
    known: Vec<Known<P>>,
}

struct Known<P: RailProblem> {
    problems: Vec<P>,
    answer: Together<P::Outcome>,
    /// Number of the last plan that asked for it.
    asked: u64,
}

impl<P: RailProblem> Default for Answers<P> {
    fn default() -> Self {
        Self(Mutex::new(Kept { plan: 0, known: Vec::new() }))
    }
}

impl<P: RailProblem> Answers<P> {
    /// The cheapest feeds of rails that may share drivers.
    pub(crate) fn cheapest(&self, problems: &[&P]) -> Together<P::Outcome> {
        if let Some(answer) = self.lock().recall(problems) {
            return answer;
        }
        // Nobody waits for the lock meanwhile. Two that ask the same at once both work it out, and keep it once.
        let answer = together(problems, PATIENCE);
        let mut kept = self.lock();
        if kept.recall(problems).is_none() {
            let problems = problems.iter().map(|problem| (*problem).clone()).collect();
            let asked = kept.plan;
            kept.known.push(Known { problems, answer: answer.clone(), asked });
        }
        answer
    }

    fn begin(&self) {
        let mut kept = self.lock();
        kept.plan += 1;
        let plan = kept.plan;
        kept.known.retain(|known| known.asked + PLANS >= plan);
    }

    /// Whoever panicked while it was held left no answer half written.
    fn lock(&self) -> MutexGuard<'_, Kept<P>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl<P: RailProblem> Kept<P> {
    fn recall(&mut self, problems: &[&P]) -> Option<Together<P::Outcome>> {
        let is_same = |known: &&mut Known<P>| {
            known.problems.len() == problems.len()
                && known.problems.iter().zip(problems).all(|(own, asked)| own == *asked)
        };
        let known = self.known.iter_mut().find(is_same)?;
        known.asked = self.plan;
        Some(known.answer.clone())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::feeds::Outcome;

    /// A rail that nothing feeds.
    fn problem(drop_permille: u16) -> feeds::Problem {
        feeds::Problem {
            nominal: units::Volts::new(24.0),
            drop_permille,
            luminaires: vec![],
            blocked: vec![],
            ways_in: vec![],
            places: vec![],
            paths: vec![],
            drivers: vec![],
            leads: vec![],
            runs: vec![],
            loop_per_hole: units::Length::ZERO,
            costs: feeds::Costs::default(),
            wish: survey::FeedWish::Cheapest,
            passing: feeds::Passing::Allowed,
            locks: vec![],
        }
    }

    /// Marks an answer, so that it is known again.
    fn mark(memory: &Memory, bound: units::Money) {
        let mut kept = memory.points().lock();
        let known = kept.known.first_mut().expect("an answer");
        known.answer = Together { lower_bound: bound, ..known.answer.clone() };
    }

    #[test]
    fn an_answer_is_given_again_to_the_same_question_alone() {
        let memory = Memory::default();
        let (one, other) = (problem(100), problem(101));
        let first: Together<Outcome> = memory.points().cheapest(&[&one]);
        let marked = first.lower_bound + units::Money::ten_thousandths(1);
        mark(&memory, marked);
        assert_eq!(memory.points().cheapest(&[&one]).lower_bound, marked);
        assert_eq!(memory.points().cheapest(&[&other]).lower_bound, first.lower_bound);
        assert_eq!(memory.points().cheapest(&[&one, &one]).outcomes.len(), 2);
    }

    #[test]
    fn an_answer_is_kept_while_plans_ask_for_it_and_forgotten_after() {
        let memory = Memory::default();
        let (one, other) = (problem(100), problem(101));
        memory.points().cheapest(&[&one]);
        memory.points().cheapest(&[&other]);
        for _ in 0..PLANS {
            memory.begin();
            memory.points().cheapest(&[&one]);
        }
        assert_eq!(format!("{memory:?}"), "Memory(2 groups of points, 0 of modules)");
        memory.begin();
        assert_eq!(format!("{memory:?}"), "Memory(1 groups of points, 0 of modules)");
    }
}
