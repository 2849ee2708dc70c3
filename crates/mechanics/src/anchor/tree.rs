//! A standing tree: stem and root plate together, with the range that ignorance makes.

use super::bark::strap_friction;
use super::capacity::AnchorMode;
use super::kind::{Kind, constant};
use super::mass::stem_mass;
use super::root::{RootPlate, lever_at_strap, root_plate};
use super::stem::{bending_height, stem_ways};
use crate::error::{MechanicsError, positive};
use crate::standing::Warning;
use unmire_model::anchor::{Rooting, SoilGroup, Tree};
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Angle, Force, Length, Mass, Range};

/// What a tree holds.
#[derive(Clone, Debug, PartialEq)]
pub struct TreeStrength {
    /// Pull along the line at the strap that overcomes it: low, likely, high.
    pub ultimate: Range<Force>,
    /// What gives first at the low end.
    pub mode: AnchorMode,
    /// Pull that tips the root plate.
    pub root: Range<Force>,
    /// Pull that breaks the stem in bending.
    pub bending: Range<Force>,
    /// Pull that shears the stem.
    pub shear: Range<Force>,
    /// Green mass of the stem.
    pub stem_mass: Range<Mass>,
    /// What must be told beside it.
    pub warnings: Vec<Warning>,
}

/// What a tree holds in a pull at strap height h along a line that rises by some angle: the least of root plate, stem in bending
/// and stem in shear, at each end.
///
/// Root plate: `C · SW / lever` ([`lever_at_strap`]). The low end carries the scatter between trees (`1 − 1.645 · 0.30`), what is
/// not known of soil, rooting, diameter and height, another study's lower coefficient, and beyond the tested stem mass
/// a slower growth ([`super::beyond_tests`]). Stem: `(π/32) f MOR d³ / h` and `(3/4) τ π d² / 4`; the low end takes the fifth
/// percentile of the wood and the diameter inside the bark. Saturated ground multiplies the root plate by 3/4, the
/// ratio of this model's divisors for known and for doubtful soil.
///
/// Under 0.10 m the low end is taken in proportion to the diameter, over 1.2 m it counts 1.2 m: no tests come near.
///
/// # Source
/// `fgr-vignette`, `norforestgales` (read) for model, coefficients and tested masses; second opinions: `byrne-2005` (read);
/// `astm-d2555` (read) for the wood's scatter; bark: `own-judgement` on `goudie-1993` (read); scatter of the root plate, lever,
/// saturated factor and what lies beyond the tests: `own-judgement` (table `tree_constant`).
///
/// # Errors
/// If the species is in no table or a measure is not in order.
///
/// # Assumes
/// A sound, upright tree. Tests pulled high on the stem: a low strap lies outside of them.
pub fn tree_strength(
    tree: &Tree,
    height: Length,
    saturated: bool,
    rise: Angle,
    rec: &mut impl Recorder,
) -> Result<TreeStrength, MechanicsError> {
    let mut warnings = Vec::new();
    let kind = Kind::of(tree.species.as_deref(), tree.conifer, &mut warnings)?;
    positive("the tree's diameter", tree.diameter.value.low().as_m(), "greater than zero, for example 30 cm")?;
    let (d, thin) = within_the_model(&tree.diameter.value, &mut warnings)?;
    let h = bending_height(height, &mut warnings)?;

    let heights = tree.height.as_ref().map(|i| i.value);
    let stem = stem_mass(kind.volume, kind.density, kind.biomass, &d, heights.as_ref(), rec)?;
    if stem.by_diameter_alone {
        warnings.push(Warning::new(
            "tree-height-unknown",
            "the tree's height is not known: its mass comes from the diameter alone, 30 % either way",
        ));
    }

    let plate = root_plate(&kind, tree.soil, tree.rooting, &stem.mass)?;
    let lever = lever_at_strap(height, rise)?;
    let scatter = 1.645 * constant("cov_moment")?;
    let soft = wet(saturated, &mut warnings)?;
    let at = |m: unmire_model::Moment, k: f64| Force::from_n(m.as_nm() * k * soft / lever.as_m());
    let root = Range::hull(
        at(plate.moment.low(), (1.0 - scatter) * thin),
        at(plate.moment.likely(), 1.0),
        at(plate.moment.high(), 1.0 + scatter),
    );
    tell_doubts(&kind, tree.soil, tree.rooting, &plate, &stem.mass, &mut warnings);
    tell_rise(rise, &mut warnings)?;

    let bark = constant("inside_bark")?;
    let inside = Range::hull(d.low() * bark, d.likely(), d.high());
    let wood = stem_ways(&kind, &inside, h, thin, rec)?;

    let least = |f: fn(&Range<Force>) -> Force| f(&root).min(f(&wood.bending)).min(f(&wood.shear));
    let ultimate = Range::hull(least(Range::low), least(Range::likely), least(Range::high));
    let mode = if root.low() <= wood.bending.low() && root.low() <= wood.shear.low() {
        AnchorMode::RootPlate
    } else if wood.bending.low() <= wood.shear.low() {
        AnchorMode::StemBending
    } else {
        AnchorMode::StemShear
    };
    record_root(&kind, &plate, &stem.mass, lever, scatter, soft, &root, rec);
    rec.record(|| {
        Step::range(
            "what the tree holds",
            "F",
            "least of root plate, stem in bending, stem in shear",
            &ultimate,
            "statics",
        )
        .given("d", &tree.diameter)
        .input_range("F_root", &root, Origin::Earlier)
        .input_range("F_stem", &wood.bending, Origin::Earlier)
        .input_range("F_shear", &wood.shear, Origin::Earlier)
        .note("a low strap lies outside of the tests; watch the base and stop at the first movement")
    });
    Ok(TreeStrength { ultimate, mode, root, bending: wood.bending, shear: wood.shear, stem_mass: stem.mass, warnings })
}

/// The diameter that the low end is reckoned with, and the factor on it: trees that are far too thin or too thick.
pub(super) fn within_the_model(
    d: &Range<Length>,
    warnings: &mut Vec<Warning>,
) -> Result<(Range<Length>, f64), MechanicsError> {
    let (least, most) = (Length::from_m(constant("least_diameter")?), Length::from_m(constant("most_diameter")?));
    let mut low = d.low();
    let mut factor = 1.0;
    if low < least {
        factor = low / least;
        warnings.push(Warning::new(
            "tree-too-thin",
            format!(
                "a stem of {:.0} cm is no anchor: no test was made with one under {:.0} cm",
                low.as_cm(),
                least.as_cm()
            ),
        ));
    }
    if d.high() > most {
        if low > most {
            low = most;
        }
        warnings.push(Warning::new(
            "tree-too-thick",
            format!(
                "thicker than {:.1} m lies far outside of every test: the low end counts no more than that",
                most.as_m()
            ),
        ));
    }
    Ok((Range::hull(low, d.likely(), d.high()), factor))
}

/// What saturated ground leaves of a root plate.
pub(super) fn wet(saturated: bool, warnings: &mut Vec<Warning>) -> Result<f64, MechanicsError> {
    if !saturated {
        return Ok(1.0);
    }
    warnings.push(Warning::new("tree-saturated", "the ground is saturated: the root plate counts with three quarters"));
    Ok(constant("root_factor")? / constant("root_factor_unknown_soil")?)
}

/// The rise beyond which a strap slides up a stem: `atan(μ π / 2)`, a band pressed on half of the way round.
pub(super) fn steepest_rise() -> Result<Angle, MechanicsError> {
    Ok(Angle::from_rad(libm::atan(strap_friction()? * core::f64::consts::FRAC_PI_2)))
}

fn tell_rise(rise: Angle, warnings: &mut Vec<Warning>) -> Result<(), MechanicsError> {
    let steepest = steepest_rise()?;
    if rise > steepest {
        warnings.push(Warning::new(
            "strap-may-climb",
            format!(
                "the line rises by {:.0}°: over {:.0}° the strap may slide up the stem, and its lever grows",
                rise.as_deg(),
                steepest.as_deg()
            ),
        ));
    }
    Ok(())
}

/// The step of the root plate, for a tree and for a stump.
#[allow(clippy::too_many_arguments)]
pub(super) fn record_root(
    kind: &Kind,
    plate: &RootPlate,
    mass: &Range<Mass>,
    lever: Length,
    scatter: f64,
    soft: f64,
    root: &Range<Force>,
    rec: &mut impl Recorder,
) {
    rec.record(|| {
        let table = if plate.single { "creg_single" } else { "creg" };
        let from = Origin::Table { table, row: kind.coefficient.to_owned(), source: "norforestgales" };
        let mut step = Step::range(
            "pull that tips the root plate",
            "F_root",
            "F = C · SW / (h + e), ∓ scatter",
            root,
            "fgr-vignette",
        )
        .input_range("C", &plate.coefficient, from)
        .input_range("SW", mass, Origin::Earlier)
        .input("h + e", lever.as_m(), Dimension::Length, Origin::Constant("own-judgement"))
        .input("scatter", scatter, Dimension::Ratio, Origin::Constant("own-judgement"))
        .input("saturated", soft, Dimension::Ratio, Origin::Constant("own-judgement"))
        .note("e, what a low strap turns about, is our own judgement and not published");
        if let Some(second) = plate.second {
            step = step.note(format!(
                "another study found {second:.0} N·m/kg where this one has {:.0}: the lower counts at the low end",
                plate.by_tests
            ));
        }
        if plate.beyond < 1.0 {
            step = step.note(format!(
                "beyond the tested {:.0} kg the low end counts {:.0} % of the straight line (own judgement)",
                plate.tested.as_kg(),
                (plate.beyond * 100.0).floor()
            ));
        }
        step
    });
}

/// What is not known of a root plate, and what lies outside of its tests.
pub(super) fn tell_doubts(
    kind: &Kind,
    soil: SoilGroup,
    rooting: Rooting,
    plate: &RootPlate,
    mass: &Range<Mass>,
    warnings: &mut Vec<Warning>,
) {
    let mut tell = |code, text: String| warnings.push(Warning::new(code, text));
    if soil == SoilGroup::Unknown && !plate.single {
        tell("tree-soil-unknown", "the soil is not known: the poorest soil counts at the low end".to_owned());
    } else if soil == SoilGroup::Unknown {
        tell(
            "tree-soil-unknown",
            "the soil is not known, and the coefficient used does not tell soils apart: on poor soil it may hold less"
                .to_owned(),
        );
    }
    if plate.single && !kind.fallback && soil != SoilGroup::FreelyDraining {
        tell(
            "tree-soil-not-distinguished",
            "the tests of this species do not tell soils apart; on poor soil it may hold less".to_owned(),
        );
    }
    if rooting == Rooting::Medium {
        tell("tree-rooting-medium", "rooting depth medium or not known: shallow counts at the low end".to_owned());
    }
    if let Some(second) = plate.second {
        tell(
            "tree-second-opinion",
            format!(
                "two studies disagree on this species: {:.0} and {second:.0} N·m per kg of stem; the lower counts at the low end",
                plate.by_tests
            ),
        );
    }
    let (likely, limit) = (mass.likely().as_kg(), plate.tested.as_kg());
    if !plate.listed && (kind.species.is_some() || likely > limit) {
        tell(
            "tree-extrapolated",
            format!(
                "no tested stem mass is listed for such a tree on this soil: beyond {limit:.0} kg the low end grows more slowly"
            ),
        );
    } else if plate.listed && likely > limit {
        tell(
            "tree-extrapolated",
            format!(
                "the stem weighs about {likely:.0} kg, the tested ones up to {limit:.0} kg: beyond them the low end grows more slowly"
            ),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::anchor::TreeSigns;
    use unmire_model::trail::{Input, Trail};
    use unmire_model::{Force, Silent};

    fn tree(species: Option<&str>, cm: f64, m: Option<f64>) -> Tree {
        let exact = |l: Length| Input::assumed(Range::exact(l).unwrap(), "test");
        Tree {
            species: species.map(str::to_owned),
            conifer: None,
            diameter: exact(Length::from_cm(cm)),
            height: m.map(|m| exact(Length::from_m(m))),
            soil: SoilGroup::FreelyDraining,
            rooting: Rooting::Shallow,
            signs: TreeSigns::default(),
        }
    }

    #[test]
    fn closed_form_likely_root_plate_is_moment_over_lever() {
        // Sitka spruce 25 cm, 16 m, freely draining and shallow: Mc = 153.2 N·m/kg times its stem mass, at 0.5 m + 1 m.
        let t = tree_strength(
            &tree(Some("sitka_spruce"), 25.0, Some(16.0)),
            Length::from_m(0.5),
            false,
            Angle::ZERO,
            &mut Silent,
        )
        .unwrap();
        let mass = 6.8e-5 * libm::pow(25.0, 1.827_421) * libm::pow(16.0, 0.981_362) * 850.0;
        assert!((t.root.likely().as_n() - 153.2 * mass / 1.5).abs() < 1e-6);
        assert_eq!(t.mode, AnchorMode::RootPlate);
        assert!((t.root.low().as_n() / t.root.likely().as_n() - (1.0 - 1.645 * 0.3)).abs() < 1e-12);
    }

    #[test]
    fn closed_form_a_stout_low_strap_shears_the_stem_first() {
        // Very low on a thin, tall stem the shear limit is below bending.
        let t = tree_strength(
            &tree(Some("douglas_fir"), 20.0, Some(14.0)),
            Length::from_m(0.1),
            false,
            Angle::ZERO,
            &mut Silent,
        )
        .unwrap();
        assert!(t.shear.likely() < t.bending.likely());
        assert!(t.ultimate.low() > Force::ZERO);
    }

    #[test]
    fn balance_recording_changes_no_bit_of_the_tree() {
        let mut trail = Trail::default();
        let of = tree(None, 30.0, None);
        let a = tree_strength(&of, Length::from_m(0.4), true, Angle::ZERO, &mut Silent).unwrap();
        let b = tree_strength(&of, Length::from_m(0.4), true, Angle::ZERO, &mut trail).unwrap();
        assert_eq!(a, b);
        assert!(trail.steps.len() >= 4);
        let codes: Vec<_> = a.warnings.iter().map(|w| w.code).collect();
        assert!(codes.contains(&"tree-species-unknown") && codes.contains(&"tree-height-unknown"));
    }

    #[test]
    fn closed_form_an_unknown_species_key_is_an_error_with_the_list() {
        let err =
            tree_strength(&tree(Some("sprucey"), 30.0, None), Length::from_m(0.4), false, Angle::ZERO, &mut Silent)
                .unwrap_err();
        assert!(err.to_string().contains("sitka_spruce"));
    }

    fn codes(t: &TreeStrength) -> Vec<&'static str> {
        t.warnings.iter().map(|w| w.code).collect()
    }
    fn of(species: Option<&str>, cm: f64, m: f64) -> TreeStrength {
        tree_strength(&tree(species, cm, Some(m)), Length::from_m(0.5), false, Angle::ZERO, &mut Silent).unwrap()
    }

    #[test]
    fn published_two_studies_of_western_hemlock_disagree_and_the_lower_counts_at_the_low_end() {
        // 15 cm and 10 m: 86 kg, within the tests of either. 150.2 N·m/kg against 77.4.
        let t = of(Some("western_hemlock"), 15.0, 10.0);
        let kg = t.stem_mass.likely().as_kg();
        assert!(codes(&t).contains(&"tree-second-opinion") && kg < 274.0);
        assert!((t.root.low().as_n() - 77.4 * kg * (1.0 - 1.645 * 0.3) / 1.5).abs() < 1e-6);
        assert!((t.root.likely().as_n() - 150.2 * kg / 1.5).abs() < 1e-6);
        // Lodgepole pine has more in the other study than on this soil: nothing to tell.
        assert!(!codes(&of(Some("lodgepole_pine"), 15.0, 10.0)).contains(&"tree-second-opinion"));
    }

    #[test]
    fn closed_form_beyond_the_tested_mass_the_low_end_alone_grows_more_slowly() {
        // Scots pine 35 cm and 22 m on freely draining soil: 686 kg, tested to 469 with shallow roots.
        let t = of(Some("scots_pine"), 35.0, 22.0);
        let kg = t.stem_mass.likely().as_kg();
        let k = libm::pow(469.0 / kg, 0.25);
        assert!(codes(&t).contains(&"tree-extrapolated") && (0.90..0.92).contains(&k));
        assert!((t.root.low().as_n() - 140.1 * k * kg * (1.0 - 1.645 * 0.3) / 1.5).abs() < 1e-6);
        assert!((t.root.likely().as_n() - 140.1 * kg / 1.5).abs() < 1e-6);
        // No mass is listed for peat: the least of the species counts, as tested on other soil.
        let mut on_peat = tree(Some("scots_pine"), 15.0, Some(10.0));
        on_peat.soil = SoilGroup::Peaty;
        let t = tree_strength(&on_peat, Length::from_m(0.5), false, Angle::ZERO, &mut Silent).unwrap();
        assert!(codes(&t).contains(&"tree-extrapolated"));
    }

    #[test]
    fn closed_form_too_thin_and_too_thick_are_told_and_the_low_end_is_held_down() {
        let (thin, just) = (of(Some("sitka_spruce"), 5.0, 5.0), of(Some("sitka_spruce"), 10.0, 5.0));
        assert!(codes(&thin).contains(&"tree-too-thin") && !codes(&just).contains(&"tree-too-thin"));
        // Half as thick: half of what the model says.
        assert!((thin.root.low() / thin.root.likely() - 0.5 * (1.0 - 1.645 * 0.3)).abs() < 1e-12);
        let (thick, most) = (of(Some("sitka_spruce"), 180.0, 40.0), of(Some("sitka_spruce"), 120.0, 40.0));
        assert!(codes(&thick).contains(&"tree-too-thick") && !codes(&most).contains(&"tree-too-thick"));
        assert_eq!(thick.ultimate.low(), most.ultimate.low());
        assert!(thick.ultimate.likely() > most.ultimate.likely());
    }

    #[test]
    fn closed_form_wood_that_is_recalled_counts_less_at_the_low_end() {
        // Redcedar: 35.9 MPa recalled, knots 0.85; low end 0.74 · 0.85 on 0.88 of the diameter.
        let t = of(Some("western_redcedar"), 30.0, 18.0);
        assert!(codes(&t).contains(&"tree-from-memory"));
        let share = t.bending.low() / t.bending.likely();
        assert!((share - 0.74 * 0.85 * 0.88 * 0.88 * 0.88).abs() < 1e-12, "{share}");
        // Read wood: 0.74 on 0.88 of the diameter.
        let t = of(Some("douglas_fir"), 30.0, 20.0);
        assert!((t.bending.low() / t.bending.likely() - 0.74 * 0.88 * 0.88 * 0.88).abs() < 1e-12);
        assert!((t.bending.likely().as_kn() - 281.0).abs() < 0.5);
    }

    #[test]
    fn closed_form_a_steep_line_is_told() {
        let t = tree(Some("sitka_spruce"), 30.0, Some(18.0));
        let at = |d| {
            tree_strength(&t, Length::from_m(0.5), false, Angle::from_deg(d), &mut Silent).map(|t| codes(&t)).unwrap()
        };
        // atan(0.3 π / 2) = 25.2°.
        assert!(!at(25.0).contains(&"strap-may-climb") && at(26.0).contains(&"strap-may-climb"));
    }
}
