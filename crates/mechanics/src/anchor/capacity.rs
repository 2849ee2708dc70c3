//! What an anchor of the case holds, whatever it is.

use super::signs::{Signs, sign_words};
use super::tree::tree_strength;
use crate::error::MechanicsError;
use crate::standing::Warning;
use unmire_model::anchor::{Anchor, AnchorKind};
use unmire_model::trail::{Recorder, Step};
use unmire_model::{Force, Range};

/// What gives first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AnchorMode {
    /// The case states the capacity; how it gives is not known.
    Stated,
    /// The root plate tips out of the ground.
    RootPlate,
    /// The stem breaks in bending.
    StemBending,
    /// The stem shears along the grain.
    StemShear,
    /// The tyres slide.
    Sliding,
    /// Nothing is known.
    Unknown,
}
impl AnchorMode {
    /// In words.
    ///
    /// # Source
    /// None: naming.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Stated => "stated by the case",
            Self::RootPlate => "the root plate tips",
            Self::StemBending => "the stem breaks",
            Self::StemShear => "the stem shears",
            Self::Sliding => "the tyres slide",
            Self::Unknown => "not known",
        }
    }
}

/// What an anchor holds.
#[derive(Clone, Debug, PartialEq)]
pub struct AnchorCapacity {
    /// Its ultimate holding force in a level pull at the attachment: low, likely, high. None if it is not known or ruled out.
    pub ultimate: Option<Range<Force>>,
    /// What gives first at the low end.
    pub mode: AnchorMode,
    /// Whether the case stated it.
    pub stated: bool,
    /// Whether a sign rules it out altogether.
    pub ruled_out: bool,
    /// Why there is no capacity, if there is none.
    pub reason: Option<String>,
    /// What must be told beside it.
    pub warnings: Vec<Warning>,
}

/// What an anchor holds. A sign that rules it out, or that nobody looked for, comes before everything: a number that was stated
/// sees no rot. Then a stated capacity, then the model.
///
/// # Source
/// The case; trees: [`tree_strength`]. Signs: [`Signs`], `fm-5-125`.
///
/// # Errors
/// If the species is in no table or a measure is not greater than zero.
pub fn capacity(anchor: &Anchor, saturated: bool, rec: &mut impl Recorder) -> Result<AnchorCapacity, MechanicsError> {
    let mut warnings = Vec::new();
    match Signs::of(&anchor.kind) {
        Signs::RulesOut(found) => {
            return Ok(refused(true, format!("not to be used: {}", in_words(&found))));
        }
        Signs::NotLookedAt(open) => {
            return Ok(refused(false, format!("nobody looked for this yet: {}", in_words(&open))));
        }
        Signs::Clear => {}
    }
    if let Some(stated) = &anchor.stated_capacity {
        rec.record(|| {
            Step::range("what the anchor holds, as stated", "F", "stated", &stated.value, "statics").given("F", stated)
        });
        return Ok(AnchorCapacity {
            ultimate: Some(stated.value),
            mode: AnchorMode::Stated,
            stated: true,
            ruled_out: false,
            reason: None,
            warnings,
        });
    }
    let unknown = |what: &str, warnings: Vec<Warning>| AnchorCapacity {
        ultimate: None,
        mode: AnchorMode::Unknown,
        stated: false,
        ruled_out: false,
        reason: Some(format!(
            "{what} has no stated capacity and there is no model with test backing for it: pull it on proof first and state what it held"
        )),
        warnings,
    };
    match &anchor.kind {
        AnchorKind::Tree(tree) => {
            let t = tree_strength(tree, anchor.attach_height.value, saturated, rec)?;
            warnings.extend(t.warnings);
            warnings.push(Warning::new(
                "tree-model",
                "a model of pulls high on the stem, carried over to a low strap: watch the base, stop at the first movement",
            ));
            Ok(AnchorCapacity {
                ultimate: Some(t.ultimate),
                mode: t.mode,
                stated: false,
                ruled_out: false,
                reason: None,
                warnings,
            })
        }
        AnchorKind::Stump(_) => Ok(unknown("a stump", warnings)),
        AnchorKind::Boulder(_) => Ok(unknown("a boulder", warnings)),
        AnchorKind::RockBolts(_) => Ok(unknown("a rock bolt", warnings)),
        AnchorKind::Pickets(_) => Ok(unknown("a picket holdfast", warnings)),
        AnchorKind::Deadman(_) => Ok(unknown("a deadman", warnings)),
        AnchorKind::Plates(_) => Ok(unknown("a plate anchor", warnings)),
        AnchorKind::Made { what } | AnchorKind::Other { what, .. } => Ok(unknown(what, warnings)),
    }
}

fn in_words(signs: &[&'static str]) -> String {
    signs.iter().map(|s| sign_words(s)).collect::<Vec<_>>().join(", ")
}

/// An anchor that a sign rules out, or of which a sign is not answered.
fn refused(ruled_out: bool, reason: String) -> AnchorCapacity {
    AnchorCapacity {
        ultimate: None,
        mode: AnchorMode::Unknown,
        stated: false,
        ruled_out,
        reason: Some(reason),
        warnings: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::anchor::{Rooting, SoilGroup, Tree, TreeSigns};
    use unmire_model::trail::Input;
    use unmire_model::{Length, Silent, Vec3};

    fn oak(signs: TreeSigns) -> Anchor {
        Anchor {
            id: "A1".into(),
            kind: AnchorKind::Tree(Tree {
                species: Some("oak".into()),
                conifer: None,
                diameter: Input::assumed(Range::exact(Length::from_cm(40.0)).unwrap(), "test"),
                height: Some(Input::assumed(Range::exact(Length::from_m(20.0)).unwrap(), "test")),
                soil: SoilGroup::FreelyDraining,
                rooting: Rooting::Medium,
                signs,
            }),
            position: Vec3::ZERO,
            uncertainty: Length::ZERO,
            attach_height: Input::assumed(Length::from_m(0.5), "test"),
            stated_capacity: None,
            tied_back: None,
            line: 0,
        }
    }

    #[test]
    fn closed_form_one_bad_sign_rules_a_tree_out_even_with_a_stated_capacity() {
        let mut a = oak(TreeSigns { cavity: Some(true), ..TreeSigns::default() });
        a.stated_capacity = Some(Input::assumed(Range::exact(Force::from_kn(50.0)).unwrap(), "test"));
        let c = capacity(&a, false, &mut Silent).unwrap();
        assert!(c.ruled_out && c.ultimate.is_none());
        assert!(c.reason.unwrap().contains("a cavity or decay"));
    }

    #[test]
    fn closed_form_one_sign_that_nobody_looked_for_leaves_a_tree_unknown_even_with_a_stated_capacity() {
        let mut a = oak(TreeSigns { frozen_top: None, ..TreeSigns::all(false) });
        for stated in [None, Some(Input::assumed(Range::exact(Force::from_kn(50.0)).unwrap(), "test"))] {
            a.stated_capacity = stated;
            let c = capacity(&a, false, &mut Silent).unwrap();
            assert!(!c.ruled_out && c.ultimate.is_none() && !c.stated);
            assert_eq!(c.reason.unwrap(), "nobody looked for this yet: a frozen crust over wet soil");
        }
    }

    #[test]
    fn closed_form_oak_uses_the_fallback() {
        let c = capacity(&oak(TreeSigns::all(false)), false, &mut Silent).unwrap();
        assert!(c.warnings.iter().any(|w| w.code == "tree-no-pull-tests"));
        // 110 N·m/kg · 1049 kg / 1.5 m = 76.9 kN likely.
        let likely = c.ultimate.unwrap().likely().as_kn();
        assert!((likely - 76.9).abs() < 0.1, "{likely}");
    }

    #[test]
    fn closed_form_what_has_no_capacity_is_unknown() {
        let mut a = oak(TreeSigns::default());
        a.kind = AnchorKind::Other { what: "a wall".into(), radius: Some(Length::from_m(0.6)) };
        let c = capacity(&a, false, &mut Silent).unwrap();
        assert!(c.ultimate.is_none() && c.reason.is_some() && !c.ruled_out);
    }
}
