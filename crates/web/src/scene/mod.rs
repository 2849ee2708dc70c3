//! The place as it is drawn and changed: where things are on the page, where an anchor goes in the document, what is still
//! assumed and how much each assumption matters. No browser here.

pub mod assumed;
pub mod draw;
pub mod lines;
pub mod place;
pub mod question;
pub mod rig;
pub mod thing;
pub mod view;

use crate::document::CaseText;
use crate::engine;
use core::ops::Deref;
use std::rc::Rc;
use thing::{Moved, Thing};
use unmire_audit::Policy;
use unmire_casefile::Document;
use unmire_model::case::Case;
use unmire_model::layout::Layout;
use unmire_planner::report::Report;
use unmire_planner::{Glance, Glancer, Options, check_layout};

/// A case that was read, shared by all who look at it. Another reading is another one.
#[derive(Clone, Debug)]
pub struct Read(Rc<Case>);
impl Read {
    /// Of a text, if it is a case.
    #[must_use]
    pub fn of(text: &str, kits: &[(String, String)]) -> Option<Self> {
        read(text, kits).map(|case| Self(Rc::new(case)))
    }
}
impl PartialEq for Read {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.0, &other.0)
    }
}
impl Deref for Read {
    type Target = Case;
    fn deref(&self) -> &Case {
        &self.0
    }
}

/// A rig beside a case: the one that is looked at.
#[derive(Clone, Debug, PartialEq)]
pub struct Rigged {
    /// The rig.
    pub layout: Layout,
    /// What is done first, in the planner's words.
    pub actions: Vec<String>,
}
impl Rigged {
    /// A rig as a report writes it. None if it does not fit the case, or the case can't be read.
    #[must_use]
    pub fn of(case: &CaseText, kits: &[(String, String)], rig: &str, actions: Vec<String>) -> Option<Self> {
        let mut case = case.clone();
        case.set_rig(rig).ok()?;
        let layout = read(&case.text(), kits)?.rig?;
        Some(Self { layout, actions })
    }
    /// Begins to judge it at a glance while something moves: where it stands, not over the whole pull.
    ///
    /// # Errors
    /// Why it can't be judged.
    pub fn watch(&self, case: &Case) -> Result<Watch, String> {
        let (actions, options) = self.asked(case)?;
        let glancer = Glancer::of(case, &actions, &options).map_err(|e| e.to_string())?;
        Ok(Watch { case: case.clone(), layout: self.layout.clone(), glancer })
    }
    /// The actions and how to judge.
    fn asked(&self, case: &Case) -> Result<(Vec<&str>, Options), String> {
        let policy = match case.policy.as_deref() {
            None => Policy::default_policy(),
            Some(name) => Policy::by_name(name).ok_or_else(|| format!("there is no policy '{name}'"))?,
        };
        Ok((self.actions.iter().map(String::as_str).collect(), Options { policy, explain: false, limit: 1 }))
    }
    /// Judges it for a case, as the command line does.
    ///
    /// # Errors
    /// Why it can't be judged there.
    pub fn judge(&self, case: &Case) -> Result<Report, String> {
        let (actions, options) = self.asked(case)?;
        check_layout(case, &self.layout, &actions, &options).map_err(|e| e.to_string())
    }
}

/// A rig while something moves: copies of the case and the rig to put that into.
pub struct Watch {
    case: Case,
    layout: Layout,
    glancer: Glancer,
}
impl Watch {
    /// Judges the rig at a glance with something elsewhere. Case and rig are those that the watch was begun with.
    ///
    /// # Errors
    /// Why it can't be judged there.
    pub fn glance(&mut self, case: &Case, rig: &Rigged, moved: &Moved) -> Result<Glance, String> {
        // Back to where all stood, without a copy of all that does not move.
        for (seen, stood) in self.case.anchors.iter_mut().zip(&case.anchors) {
            seen.position = stood.position;
        }
        for (seen, stood) in self.case.helpers.iter_mut().zip(&case.helpers) {
            seen.position = stood.position;
        }
        for (seen, stood) in self.case.obstacles.iter_mut().zip(&case.obstacles) {
            seen.outline.clone_from(&stood.outline);
        }
        if matches!(moved.thing, Thing::Block(_)) {
            self.layout.clone_from(&rig.layout);
        }
        moved.apply(&mut self.case, Some(&mut self.layout));
        self.glancer.glance(&self.case, &self.layout).map_err(|e| e.to_string())
    }
}

/// The case of a text, if it is one.
#[must_use]
pub fn read(text: &str, kits: &[(String, String)]) -> Option<Case> {
    match engine::read(text, kits) {
        Ok(Document::Case(case)) => Some(*case),
        _ => None,
    }
}
