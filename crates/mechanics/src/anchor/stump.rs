//! A stump: the foot of a felled tree. What holds it is the root plate of the tree that stood on it, without that tree's
//! weight, with roots that rot since it was felled.
//!
//! Stump pulls are the right tests for low anchors, and the constants of the one large series (`pyles-1991`) could not be read.
//! So the root-plate model is carried over, and every step of that is our own judgement, wide on purpose. Where no honest
//! number can be given the stump is unknown, with the reason.

use super::capacity::AnchorMode;
use super::kind::{Kind, constant};
use super::mass::stem_mass;
use super::root::{lever_at_strap, root_plate};
use super::stem::{bending_height, stem_ways};
use super::tree::{record_root, steepest_rise, tell_doubts, wet, within_the_model};
use crate::error::{MechanicsError, not_negative, positive};
use crate::standing::Warning;
use unmire_model::anchor::Stump;
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Angle, Force, Length, Mass, Moment, Range};

/// Seconds of a year.
const YEAR_S: f64 = 365.25 * 86_400.0;

/// What a stump holds.
#[derive(Clone, Debug, PartialEq)]
pub struct StumpStrength {
    /// Pull along the line at the strap that overcomes it: low, likely, high. What was reckoned, also where it must not be used.
    pub ultimate: Range<Force>,
    /// What gives first at the low end.
    pub mode: AnchorMode,
    /// Why it counts as unknown all the same, if it does.
    pub unknown_because: Option<String>,
    /// Pull that tips the root plate.
    pub root: Range<Force>,
    /// Pull that breaks the wood in bending.
    pub bending: Range<Force>,
    /// Pull that shears or splits it along the grain.
    pub split: Range<Force>,
    /// Diameter at breast height of the tree that stood there.
    pub breast_diameter: Range<Length>,
    /// Green mass of its stem.
    pub stem_mass: Range<Mass>,
    /// Share of a standing tree's root-plate moment that is left.
    pub left: Range<f64>,
    /// What must be told beside it.
    pub warnings: Vec<Warning>,
}

/// Diameter at breast height of the tree that stood on a stump of this diameter: 0.70, 0.82, 0.95 of it.
///
/// # Source
/// `own-judgement` (table `tree_constant`): a stump is thicker than the stem at breast height, by flare and height of the cut.
///
/// # Errors
/// If the diameter is not greater than zero.
pub fn breast_diameter_of_stump(stump: &Range<Length>) -> Result<Range<Length>, MechanicsError> {
    positive("the stump's diameter", stump.low().as_m(), "greater than zero, for example 40 cm")?;
    Ok(Range::hull(
        stump.low() * constant("stump_breast_low")?,
        stump.likely() * constant("stump_breast_likely")?,
        stump.high() * constant("stump_breast_high")?,
    ))
}

/// Share of a standing tree's root-plate moment that a stump has left after some years since it was felled:
/// `weight · (plate · wood + (1 − plate) exp(−λ t))`. Weight: 0.58, 0.8, 1, without stem and crown. Plate: 0.33, what needs no
/// roots beyond its edge; at the low end its wood goes from 1 to 0.5 in ten years. λ per year: 0.80, 0.42, 0.10.
/// Nobody knows the years: ten at the low end and for the likely value, none at the high end.
///
/// # Source
/// Weight: `lundstrom-2007`; plate: `osullivan-ritchie-1993`; λ: `burroughs-thomas-1977`, `ziemer-swanston-1977` (abstracts, read);
/// carrying them over: `own-judgement` (table `tree_constant`).
///
/// # Errors
/// If a time is negative.
pub fn left_of_stump(years: Option<&Range<f64>>) -> Result<Range<f64>, MechanicsError> {
    let most = constant("stump_years")?;
    let years = years.copied().unwrap_or_else(|| Range::hull(0.0, most, most));
    let (young, likely, old) = (years.low(), years.likely(), years.high());
    for t in [young, likely, old] {
        not_negative("the time since the tree was felled", t, "zero or more, for example 2 years")?;
    }
    let plate = constant("stump_without_roots")?;
    let roots = |rate: f64, t: f64| (1.0 - plate) * libm::exp(-rate * t);
    let low = constant("stump_weight_low")? * (plate * wood_left(old)? + roots(constant("stump_root_loss_fast")?, old));
    let mid = constant("stump_weight_likely")? * (plate + roots(constant("stump_root_loss_slow")?, likely));
    let high = plate + roots(constant("stump_root_loss_least")?, young);
    Ok(Range::hull(low, mid, high))
}

/// What is left of the stump's own wood at the low end.
fn wood_left(years: f64) -> Result<f64, MechanicsError> {
    let (after, most) = (constant("stump_wood_after")?, constant("stump_years")?);
    Ok(1.0 - (1.0 - after) * (years / most).min(1.0))
}

/// What a stump holds in a pull at strap height h along a line that rises by some angle: the least of root plate, bending and
/// splitting, at each end.
///
/// The root plate is that of the tree that stood there ([`breast_diameter_of_stump`], mass by the diameter alone) times
/// [`left_of_stump`]. The wood is checked as a stem with the stump's own diameter.
///
/// Unknown, with the reason: nobody said how high the cut is; less than 15 cm of wood between the strap and the cut; felled
/// longer ago than ten years; a line that rises so steeply that the strap slides up and off.
///
/// # Source
/// As [`super::tree_strength`] and [`left_of_stump`]; repeated pulls: `marchi-2024` (abstract, read).
///
/// # Errors
/// If the species is in no table or a measure is not in order.
///
/// # Assumes
/// No sign rules it out. It carries no weight above it; a pull or a few, not hours of work.
pub fn stump_strength(
    stump: &Stump,
    height: Length,
    saturated: bool,
    rise: Angle,
    rec: &mut impl Recorder,
) -> Result<StumpStrength, MechanicsError> {
    let mut warnings = Vec::new();
    let kind = Kind::of(stump.species.as_deref(), stump.conifer, &mut warnings)?;
    let across = stump.diameter.value;
    let (d, thin) = within_the_model(&breast_diameter_of_stump(&across)?, &mut warnings)?;
    let h = bending_height(height, &mut warnings)?;
    let years = stump.felled_ago.as_ref().map(|t| t.value.increasing(|t| t.as_s() / YEAR_S));
    let left = left_of_stump(years.as_ref())?;
    let unknown_because = unusable(stump, height, rise, years.as_ref())?;

    let stem = stem_mass(kind.volume, kind.density, kind.biomass, &d, None, rec)?;
    let plate = root_plate(&kind, stump.soil, stump.rooting, &stem.mass)?;
    let lever = lever_at_strap(height, rise)?;
    let scatter = 1.645 * constant("cov_moment")?;
    let soft = wet(saturated, &mut warnings)?;
    let at = |m: Moment, k: f64| Force::from_n(m.as_nm() * k * soft / lever.as_m());
    let root = Range::hull(
        at(plate.moment.low(), (1.0 - scatter) * thin * left.low()),
        at(plate.moment.likely(), left.likely()),
        at(plate.moment.high(), (1.0 + scatter) * left.high()),
    );
    tell_doubts(&kind, stump.soil, stump.rooting, &plate, &stem.mass, &mut warnings);
    tell_stump(years.is_none(), &mut warnings);

    let oldest = years.map_or(constant("stump_years")?, |y| y.high());
    let wood = stem_ways(&kind, &across, h, thin * wood_left(oldest)?, rec)?;
    let least = |f: fn(&Range<Force>) -> Force| f(&root).min(f(&wood.bending)).min(f(&wood.shear));
    let ultimate = Range::hull(least(Range::low), least(Range::likely), least(Range::high));
    let mode = if root.low() <= wood.bending.low() && root.low() <= wood.shear.low() {
        AnchorMode::RootPlate
    } else if wood.bending.low() <= wood.shear.low() {
        AnchorMode::StemBending
    } else {
        AnchorMode::StumpSplits
    };
    rec.record(|| {
        Step::range(
            "what is left of a standing tree's root plate",
            "k",
            "k = weight · (plate · wood + (1 − plate) exp(−λ t))",
            &left,
            "burroughs-thomas-1977",
        )
        .input_range("t, years", &years.unwrap_or_else(|| Range::hull(0.0, oldest, oldest)), Origin::Earlier)
        .note("how a stump's roots rot is carried over from tests of roots; the weights are our own judgement")
    });
    record_root(&kind, &plate, &stem.mass, lever, scatter, soft, &root, rec);
    rec.record(|| {
        Step::range("what the stump holds", "F", "least of root plate · k, bending, splitting", &ultimate, "statics")
            .given("d", &stump.diameter)
            .input_range("DBH", &d, Origin::Earlier)
            .input_range("F_root", &root, Origin::Earlier)
            .input_range("F_stem", &wood.bending, Origin::Earlier)
            .input_range("F_shear", &wood.shear, Origin::Earlier)
            .input("h", height.as_m(), Dimension::Length, Origin::Earlier)
            .note("no pull test of a stump was read: every step from tree to stump is our own judgement")
    });
    Ok(StumpStrength {
        ultimate,
        mode,
        unknown_because,
        root,
        bending: wood.bending,
        split: wood.shear,
        breast_diameter: d,
        stem_mass: stem.mass,
        left,
        warnings,
    })
}

/// Why no number may be given, if none may.
fn unusable(
    stump: &Stump,
    height: Length,
    rise: Angle,
    years: Option<&Range<f64>>,
) -> Result<Option<String>, MechanicsError> {
    let (room, most) = (constant("stump_room")?, constant("stump_years")?);
    let steepest = steepest_rise()?;
    let Some(cut) = stump.height.as_ref().map(|c| c.value.as_m()) else {
        return Ok(Some(format!(
            "nobody said how high the cut is: a strap needs {:.0} cm of wood above it, or it slips off",
            room * 100.0
        )));
    };
    let cut = positive("the height of the cut", cut, "greater than zero, for example 0.6 m")?;
    let above = cut - height.as_m();
    // A millimetre is forgiven: heights are told in centimetres.
    if above < room - 0.001 {
        return Ok(Some(if above <= 0.0 {
            "the strap would lie above the cut".to_owned()
        } else {
            format!(
                "only {:.0} cm of wood lie between the strap and the cut: with less than {:.0} cm it may slip off",
                (above * 100.0).floor(),
                room * 100.0
            )
        }));
    }
    if rise > steepest {
        return Ok(Some(format!(
            "the line rises by {:.0}°: over {:.0}° the strap slides up the stump and off",
            rise.as_deg(),
            steepest.as_deg()
        )));
    }
    if years.is_some_and(|y| y.high() > most) {
        return Ok(Some(format!(
            "it was felled up to {:.0} years ago: after {most:.0} years even the largest roots have lost much of their strength, and how much is not known",
            years.map_or(most, |y| y.high().ceil())
        )));
    }
    Ok(None)
}

fn tell_stump(age_unknown: bool, warnings: &mut Vec<Warning>) {
    let mut tell = |code, text: &str| warnings.push(Warning::new(code, text));
    tell(
        "stump-model",
        "a model of standing trees, carried over to a stump by our own judgement: no pull test of a stump was read",
    );
    tell(
        "stump-tree-estimated",
        "the tree that stood there is estimated from the stump: 70 to 95 % of its diameter at breast height, height not known",
    );
    if age_unknown {
        tell(
            "stump-age-unknown",
            "nobody said when it was felled: the roots of ten years ago count at the low end and for the likely value",
        );
    }
    tell("stump-repeated-pulls", "pulling again and again weakens a stump within hours: watch its base at every pull");
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::anchor::{Rooting, SoilGroup, StumpSigns};
    use unmire_model::trail::Input;
    use unmire_model::{Silent, Time};

    fn years(low: f64, high: f64) -> Input<Range<Time>> {
        let t = |y: f64| Time::from_s(y * YEAR_S);
        Input::assumed(Range::between(t(low), t(high)).unwrap(), "test")
    }
    fn stump(cut_m: Option<f64>, felled: Option<(f64, f64)>) -> Stump {
        Stump {
            species: Some("sitka_spruce".into()),
            conifer: None,
            diameter: Input::assumed(Range::exact(Length::from_cm(40.0)).unwrap(), "test"),
            height: cut_m.map(|m| Input::assumed(Length::from_m(m), "test")),
            felled_ago: felled.map(|(l, h)| years(l, h)),
            soil: SoilGroup::FreelyDraining,
            rooting: Rooting::Shallow,
            signs: StumpSigns::all(false),
        }
    }
    fn at(s: &Stump, strap_m: f64, rise: f64) -> StumpStrength {
        stump_strength(s, Length::from_m(strap_m), false, Angle::from_deg(rise), &mut Silent).unwrap()
    }

    #[test]
    fn closed_form_roots_rot_as_the_measured_ones_did() {
        // Felled today: only the weight is gone. After 2.5 years 230 / 1700 of the fast roots are left, 300 / 850 of the slow.
        let fresh = left_of_stump(Some(&Range::hull(0.0, 0.0, 0.0))).unwrap();
        assert!((fresh.low() - 0.58).abs() < 1e-12 && (fresh.likely() - 0.8).abs() < 1e-12);
        assert!((fresh.high() - 1.0).abs() < 1e-12);
        let later = left_of_stump(Some(&Range::hull(2.5, 2.5, 2.5))).unwrap();
        let wood = 1.0 - 0.5 * 0.25;
        assert!((later.low() - 0.58 * (0.33 * wood + 0.67 * 230.0 / 1700.0)).abs() < 2e-3, "{later:?}");
        assert!((later.likely() - 0.8 * (0.33 + 0.67 * 300.0 / 850.0)).abs() < 2e-3);
    }

    #[test]
    fn closed_form_an_unknown_age_counts_as_ten_years() {
        let (unknown, ten) =
            (at(&stump(Some(0.6), None), 0.3, 0.0), at(&stump(Some(0.6), Some((10.0, 10.0))), 0.3, 0.0));
        assert_eq!((unknown.ultimate.low(), unknown.root.likely()), (ten.ultimate.low(), ten.root.likely()));
        assert!(unknown.root.high() > ten.root.high());
        assert!(unknown.warnings.iter().any(|w| w.code == "stump-age-unknown"));
        assert!(unknown.unknown_because.is_none());
    }

    #[test]
    fn closed_form_the_likely_root_plate_is_that_of_the_tree_with_what_is_left() {
        let s = at(&stump(Some(0.6), Some((0.0, 0.0))), 0.3, 0.0);
        // 40 cm across: 32.8 cm at breast height; its mass by the diameter alone.
        let d = Length::from_cm(32.8);
        let mass = super::super::mass::stem_mass_by_diameter("spruce", d).unwrap();
        assert!((s.root.likely().as_n() - 153.2 * mass.as_kg() * 0.8 / 1.3).abs() < 1e-6);
        // The wood is checked with its own diameter: (3/4) τ π d² / 4.
        let tau = 760.0 * 6894.757;
        assert!((s.split.likely().as_n() - 0.75 * tau * core::f64::consts::PI * 0.16 / 4.0).abs() < 1.0);
        assert_eq!(s.mode, AnchorMode::RootPlate);
    }

    #[test]
    fn closed_form_no_number_where_the_strap_may_slip_off_or_the_roots_are_gone() {
        let says = |s: &Stump, h: f64, rise: f64, words: &str| {
            let because = at(s, h, rise).unknown_because;
            assert!(because.as_ref().is_some_and(|b| b.contains(words)), "{because:?}");
        };
        says(&stump(None, Some((0.0, 1.0))), 0.3, 0.0, "how high the cut is");
        says(&stump(Some(0.40), Some((0.0, 1.0))), 0.3, 0.0, "slip off");
        says(&stump(Some(0.25), Some((0.0, 1.0))), 0.3, 0.0, "above the cut");
        says(&stump(Some(0.60), Some((0.0, 1.0))), 0.3, 30.0, "slides up");
        says(&stump(Some(0.60), Some((5.0, 11.0))), 0.3, 0.0, "largest roots");
        assert_eq!(at(&stump(Some(0.45), Some((5.0, 10.0))), 0.3, 20.0).unknown_because, None);
    }
}
