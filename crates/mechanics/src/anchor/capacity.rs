//! What an anchor of the case holds, whatever it is.

use super::boulder::boulder;
use super::deadman::deadman;
use super::picket::pickets;
use super::plate::plates_in;
use super::rock_bolt::rock_bolts;
use super::signs::{Signs, sign_words};
use super::stump::stump_strength;
use super::tree::tree_strength;
use crate::error::{MechanicsError, between};
use crate::standing::Warning;
use unmire_model::anchor::{Anchor, AnchorKind};
use unmire_model::trail::{Recorder, Step};
use unmire_model::{Angle, Force, Range};

/// How an anchor is pulled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pulled {
    /// Whether the ground is saturated.
    pub saturated: bool,
    /// Rise of the line above the level at the anchor, positive upwards.
    pub rise: Angle,
}
impl Pulled {
    /// By a level line.
    ///
    /// # Source
    /// None: a constructor.
    #[must_use]
    pub const fn level(saturated: bool) -> Self {
        Self { saturated, rise: Angle::ZERO }
    }
}

/// In which way it gives.
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
    /// The stump splits under the strap.
    StumpSplits,
    /// The tyres slide.
    TyresSlide,
    /// It slides on the ground.
    Sliding,
    /// It tips about its front edge.
    Tipping,
    /// The earth in front of it gives, by the table of holding power.
    HoldingPower,
    /// The earth in front of it gives, by earth pressure.
    EarthFails,
    /// The pickets lean and draw.
    PicketsDraw,
    /// The grout lets go of the rock.
    Bond,
    /// The bar or its eye breaks.
    Bar,
    /// What is buried breaks itself.
    OwnStrength,
    /// Nothing was shown to hold beyond the proof pull.
    Proof,
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
            Self::StumpSplits => "the stump splits",
            Self::TyresSlide => "the tyres slide",
            Self::Sliding => "it slides",
            Self::Tipping => "it tips",
            Self::HoldingPower => "the earth gives, by the field table",
            Self::EarthFails => "the earth gives, by earth pressure",
            Self::PicketsDraw => "the pickets lean and draw",
            Self::Bond => "the grout lets go of the rock",
            Self::Bar => "the bar or its eye breaks",
            Self::OwnStrength => "what is buried breaks",
            Self::Proof => "it passes what the proof pull showed",
            Self::Unknown => "not known",
        }
    }
}

/// One way in which an anchor can give.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Way {
    /// How.
    pub mode: AnchorMode,
    /// What it holds against that.
    pub holds: Range<Force>,
}

/// What an anchor holds.
#[derive(Clone, Debug, PartialEq)]
pub struct AnchorCapacity {
    /// Its ultimate holding force along the line: low, likely, high. None if it is not known or ruled out.
    pub ultimate: Option<Range<Force>>,
    /// What gives first at the low end.
    pub mode: AnchorMode,
    /// Every way in which it can give, least first at the low end; also where the whole is not known.
    pub ways: Vec<Way>,
    /// Whether the case stated it.
    pub stated: bool,
    /// Whether a sign rules it out altogether.
    pub ruled_out: bool,
    /// Why there is no capacity, if there is none.
    pub reason: Option<String>,
    /// What must be told beside it.
    pub warnings: Vec<Warning>,
}
impl AnchorCapacity {
    /// Of an anchor of which nothing passes, with the reason; the ways that were reckoned are kept for the reader.
    ///
    /// # Source
    /// None: a constructor.
    #[must_use]
    pub fn unknown(reason: impl Into<String>, ways: Vec<Way>, warnings: Vec<Warning>) -> Self {
        Self {
            ultimate: None,
            mode: AnchorMode::Unknown,
            ways: least_first(ways),
            stated: false,
            ruled_out: false,
            reason: Some(reason.into()),
            warnings,
        }
    }
    /// Of an anchor that must not be used, with the reason.
    ///
    /// # Source
    /// None: a constructor.
    #[must_use]
    pub fn ruled_out(reason: impl Into<String>, warnings: Vec<Warning>) -> Self {
        Self { ruled_out: true, ..Self::unknown(reason, Vec::new(), warnings) }
    }
    /// Of an anchor that gives in the weakest of these ways, at each end. Without a way it is unknown.
    ///
    /// # Source
    /// `statics`: the weakest link.
    #[must_use]
    pub fn weakest(ways: Vec<Way>, warnings: Vec<Warning>) -> Self {
        let ways = least_first(ways);
        let Some(first) = ways.first() else {
            return Self::unknown("no way in which it gives is known", ways, warnings);
        };
        let mode = first.mode;
        let ultimate = ways.iter().map(|w| w.holds).reduce(|a, b| a.combine(&b, Force::min));
        Self { ultimate, mode, ways, stated: false, ruled_out: false, reason: None, warnings }
    }
}

/// Least first at the low end; what is not a number comes first.
fn least_first(mut ways: Vec<Way>) -> Vec<Way> {
    unmire_model::order::sort_by(&mut ways, |a, b| {
        let (x, y) = (a.holds.low().as_n(), b.holds.low().as_n());
        y.is_nan().cmp(&x.is_nan()).then(x.total_cmp(&y))
    });
    ways
}

/// What an anchor holds. A sign that rules it out, or that nobody looked for, comes before everything: a number that was stated
/// sees no rot. Then a stated capacity, then the model.
///
/// # Source
/// The case; trees: [`tree_strength`]; stumps: [`stump_strength`]. Signs: [`Signs`], `fm-5-125`.
///
/// # Errors
/// If a key is in no table or a measure is not in order.
pub fn capacity(anchor: &Anchor, pulled: &Pulled, rec: &mut impl Recorder) -> Result<AnchorCapacity, MechanicsError> {
    let upright = core::f64::consts::FRAC_PI_2;
    between("the rise of the line", pulled.rise.as_rad(), -upright, upright, "between straight down and straight up")?;
    let mut warnings = Vec::new();
    match Signs::of(&anchor.kind) {
        Signs::RulesOut(found) => {
            return Ok(AnchorCapacity::ruled_out(format!("not to be used: {}", in_words(&found)), warnings));
        }
        Signs::NotLookedAt(open) => {
            let reason = format!("nobody looked for this yet: {}", in_words(&open));
            return Ok(AnchorCapacity::unknown(reason, Vec::new(), warnings));
        }
        Signs::Clear => {}
    }
    if let Some(stated) = &anchor.stated_capacity {
        rec.record(|| {
            Step::range("what the anchor holds, as stated", "F", "stated", &stated.value, "statics").given("F", stated)
        });
        // What no model of it reaches is told; the statement counts all the same, for it may come from a proof pull.
        let unstated = Anchor { stated_capacity: None, ..anchor.clone() };
        if let Some(model) = capacity(&unstated, pulled, &mut unmire_model::Silent)?.ultimate
            && stated.value.low() > model.high()
        {
            warnings.push(Warning::new(
                "stated-above-model",
                format!(
                    "stated to hold at least {:.0} kN; by its measures it holds {:.0} kN at the very most: was it pulled on proof?",
                    stated.value.low().as_kn().floor(),
                    model.high().as_kn().ceil()
                ),
            ));
        }
        let way = Way { mode: AnchorMode::Stated, holds: stated.value };
        return Ok(AnchorCapacity { stated: true, ..AnchorCapacity::weakest(vec![way], warnings) });
    }
    let unknown = |what: &str, warnings: Vec<Warning>| {
        AnchorCapacity::unknown(
            format!(
                "{what} has no stated capacity and there is no model with test backing for it: pull it on proof first and state what it held"
            ),
            Vec::new(),
            warnings,
        )
    };
    match &anchor.kind {
        AnchorKind::Tree(tree) => {
            let t = tree_strength(tree, anchor.attach_height.value, pulled.saturated, pulled.rise, rec)?;
            warnings.extend(t.warnings);
            warnings.push(Warning::new(
                "tree-model",
                "a model of pulls high on the stem, carried over to a low strap: watch the base, stop at the first movement",
            ));
            let way = |mode, holds| Way { mode, holds };
            let ways = vec![
                way(AnchorMode::RootPlate, t.root),
                way(AnchorMode::StemBending, t.bending),
                way(AnchorMode::StemShear, t.shear),
            ];
            Ok(AnchorCapacity { ultimate: Some(t.ultimate), mode: t.mode, ..AnchorCapacity::weakest(ways, warnings) })
        }
        AnchorKind::Stump(stump) => {
            let s = stump_strength(stump, anchor.attach_height.value, pulled.saturated, pulled.rise, rec)?;
            warnings.extend(s.warnings);
            let way = |mode, holds| Way { mode, holds };
            let ways = vec![
                way(AnchorMode::RootPlate, s.root),
                way(AnchorMode::StemBending, s.bending),
                way(AnchorMode::StumpSplits, s.split),
            ];
            Ok(match s.unknown_because {
                Some(reason) => AnchorCapacity::unknown(reason, ways, warnings),
                None => AnchorCapacity::weakest(ways, warnings),
            })
        }
        AnchorKind::Boulder(b) => boulder(b, anchor.attach_height.value, pulled, rec),
        AnchorKind::RockBolts(b) => rock_bolts(b, rec),
        AnchorKind::Pickets(p) => pickets(p, anchor.attach_height.value, pulled, rec),
        AnchorKind::Deadman(d) => deadman(d, pulled, rec),
        AnchorKind::Plates(p) => plates_in(p, pulled.saturated, rec),
        AnchorKind::Made { what } | AnchorKind::Other { what, .. } => Ok(unknown(what, warnings)),
    }
}

fn in_words(signs: &[&'static str]) -> String {
    signs.iter().map(|s| sign_words(s)).collect::<Vec<_>>().join(", ")
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
        let c = capacity(&a, &Pulled::level(false), &mut Silent).unwrap();
        assert!(c.ruled_out && c.ultimate.is_none());
        assert!(c.reason.unwrap().contains("a cavity or decay"));
    }

    #[test]
    fn closed_form_one_sign_that_nobody_looked_for_leaves_a_tree_unknown_even_with_a_stated_capacity() {
        let mut a = oak(TreeSigns { frozen_top: None, ..TreeSigns::all(false) });
        for stated in [None, Some(Input::assumed(Range::exact(Force::from_kn(50.0)).unwrap(), "test"))] {
            a.stated_capacity = stated;
            let c = capacity(&a, &Pulled::level(false), &mut Silent).unwrap();
            assert!(!c.ruled_out && c.ultimate.is_none() && !c.stated);
            assert_eq!(c.reason.unwrap(), "nobody looked for this yet: a frozen crust over wet soil");
        }
    }

    #[test]
    fn closed_form_oak_uses_the_fallback() {
        let c = capacity(&oak(TreeSigns::all(false)), &Pulled::level(false), &mut Silent).unwrap();
        assert!(c.warnings.iter().any(|w| w.code == "tree-no-pull-tests"));
        // 110 N·m/kg · 1049 kg / 1.5 m = 76.9 kN likely.
        let likely = c.ultimate.unwrap().likely().as_kn();
        assert!((likely - 76.9).abs() < 0.1, "{likely}");
    }

    #[test]
    fn closed_form_what_has_no_capacity_is_unknown() {
        let mut a = oak(TreeSigns::default());
        a.kind = AnchorKind::Other { what: "a wall".into(), radius: Some(Length::from_m(0.6)) };
        let c = capacity(&a, &Pulled::level(false), &mut Silent).unwrap();
        assert!(c.ultimate.is_none() && c.reason.is_some() && !c.ruled_out);
    }
}
