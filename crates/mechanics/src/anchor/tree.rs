//! A standing tree: stem and root plate together, with the range that ignorance makes.

use super::capacity::AnchorMode;
use super::mass::stem_mass;
use super::root::{force_at_strap, root_moment, slope_of_root_moment};
use super::stem::{stem_bending_force, stem_breaking_moment, stem_shear_force};
use crate::error::{MechanicsError, positive};
use crate::standing::Warning;
use unmire_model::anchor::{Rooting, SoilGroup, Tree};
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Force, Length, Mass, Moment, Pressure, Range};
use unmire_tables::generated as g;
use unmire_tables::row;

/// The least strap height that the model reckons with: a strap on the ground still has the thickness of a strap and the root
/// flare below it. Own judgement.
const LEAST_HEIGHT_M: f64 = 0.1;

/// What a tree holds.
#[derive(Clone, Debug, PartialEq)]
pub struct TreeStrength {
    /// Level pull at the strap that overcomes it: low, likely, high.
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

/// A constant of the tree model.
pub(crate) fn constant(key: &'static str) -> Result<f64, MechanicsError> {
    row(g::tree_constant::ROWS, key).map(|r| r.value).ok_or_else(|| MechanicsError::UnknownKey {
        table: "constants of the tree model",
        key: key.to_owned(),
        known: g::tree_constant::ROWS.iter().map(|r| r.key).collect(),
    })
}

/// What the tables say of a tree's kind.
struct Kind {
    rupture: Pressure,
    knot: f64,
    density: f64,
    volume: &'static str,
    biomass: &'static str,
    shear: Pressure,
    coefficient: &'static str,
    fallback: bool,
    species: Option<&'static str>,
}

/// Least green shear strength of the listed woods, for a species without one.
fn least_shear() -> Pressure {
    g::wood_green::ROWS
        .iter()
        .filter_map(|r| r.shear)
        .fold(Pressure::from_pa(f64::INFINITY), |a, b| if b < a { b } else { a })
}

fn kind_of(tree: &Tree, warnings: &mut Vec<Warning>) -> Result<Kind, MechanicsError> {
    if let Some(key) = &tree.species {
        let s = row(g::species::ROWS, key).ok_or_else(|| MechanicsError::UnknownKey {
            table: "species",
            key: key.clone(),
            known: g::species::ROWS.iter().map(|r| r.key).collect(),
        })?;
        let shear = s.wood.and_then(|w| row(g::wood_green::ROWS, w)).and_then(|w| w.shear).unwrap_or_else(least_shear);
        // A coefficient without pull tests behind it is not used.
        let pulled = |c: &str| row(g::creg::ROWS, c).is_none_or(|r| r.pulled.is_some());
        let tested = s.creg.filter(|c| pulled(c));
        let coefficient = tested.unwrap_or(if s.conifer { "conifer" } else { "broadleaf" });
        if tested.is_none() {
            warnings.push(Warning::new(
                "tree-no-pull-tests",
                format!(
                    "no pull tests stand behind the root plate of {key}: the cautious coefficient for its kind is used"
                ),
            ));
        }
        return Ok(Kind {
            rupture: s.mor,
            knot: s.knot_factor,
            density: s.green_density,
            volume: s.volume,
            biomass: s.biomass,
            shear,
            coefficient,
            fallback: tested.is_none(),
            species: Some(s.key),
        });
    }
    let conifer = tree.conifer;
    warnings.push(Warning::new(
        "tree-species-unknown",
        match conifer {
            Some(true) => "species not known: the lowest measured values of conifers are used",
            Some(false) => "species not known: the lowest values of broadleaves are used",
            None => "neither species nor kind is known: the lower of conifer and broadleaf is used",
        },
    ));
    let as_conifer = conifer != Some(false);
    let (mor, knot, density) = if as_conifer {
        ("mor_conifer_mpa", "knot_conifer", "density_conifer")
    } else {
        ("mor_broadleaf_mpa", "knot_broadleaf", "density_broadleaf")
    };
    Ok(Kind {
        rupture: Pressure::from_mpa(constant(mor)?),
        knot: constant(knot)?,
        density: constant(density)?,
        volume: "general",
        biomass: if as_conifer { "true_fir_hemlock" } else { "mixed_hardwood" },
        shear: least_shear(),
        coefficient: if as_conifer { "conifer" } else { "broadleaf" },
        fallback: true,
        species: None,
    })
}

/// What a tree holds in a level pull at strap height h: the least of root plate, stem in bending and stem in shear, at each end.
///
/// Root plate: `C · SW / (h + e)`; low and high ends carry the scatter between trees (`1 ∓ 1.645 · 0.30`) besides what is not
/// known of soil, rooting, diameter and height. Stem: `(π/32) f MOR d³ / h`, low end times 0.74 (fifth percentile of the wood).
/// Saturated ground multiplies the root plate by 3/4, the ratio of this model's divisors for known and for doubtful soil.
///
/// # Source
/// `fgr-vignette`, `norforestgales` (read) for model and coefficients; `astm-d2555` (read) for the wood's scatter; scatter of the
/// root plate, e and the saturated factor: `own-judgement` (table `tree_constant`).
///
/// # Errors
/// If the species is in no table or a measure is not greater than zero.
///
/// # Assumes
/// A sound, upright tree; a pull about level. Tests pulled high on the stem: a low strap lies outside of them.
pub fn tree_strength(
    tree: &Tree,
    height: Length,
    saturated: bool,
    rec: &mut impl Recorder,
) -> Result<TreeStrength, MechanicsError> {
    let mut warnings = Vec::new();
    let kind = kind_of(tree, &mut warnings)?;
    let d = tree.diameter.value;
    positive("the tree's diameter", d.low().as_m(), "greater than zero, for example 30 cm")?;
    let asked =
        crate::error::not_negative("the height of the strap", height.as_m(), "zero or more, for example 0.4 m")?;
    let h = if asked < LEAST_HEIGHT_M {
        warnings.push(Warning::new(
            "strap-height-raised",
            format!("a strap at {asked:.2} m is reckoned as at {LEAST_HEIGHT_M:.1} m for the stem"),
        ));
        Length::from_m(LEAST_HEIGHT_M)
    } else {
        height
    };

    // The stem's mass.
    let heights = tree.height.as_ref().map(|i| i.value);
    let stem = stem_mass(kind.volume, kind.density, kind.biomass, &d, heights.as_ref(), rec)?;
    if stem.by_diameter_alone {
        warnings.push(Warning::new(
            "tree-height-unknown",
            "the tree's height is not known: its mass comes from the diameter alone, 30 % either way",
        ));
    }

    // The root plate.
    let (c, single) = slope_of_root_moment(kind.coefficient, tree.soil, tree.rooting)?;
    let e = Length::from_m(constant("lever_offset")?);
    let scatter = 1.645 * constant("cov_moment")?;
    let soft = if saturated { constant("root_factor")? / constant("root_factor_unknown_soil")? } else { 1.0 };
    let root_at = |c: f64, m: Mass, k: f64| -> Result<Force, MechanicsError> {
        let moment = Moment::from_nm(root_moment(c, m)?.as_nm() * k * soft);
        force_at_strap(moment, height, e)
    };
    let root = Range::hull(
        root_at(c.low(), stem.mass.low(), 1.0 - scatter)?,
        root_at(c.likely(), stem.mass.likely(), 1.0)?,
        root_at(c.high(), stem.mass.high(), 1.0 + scatter)?,
    );
    tell_doubts(tree, &kind, &stem.mass, single, saturated, &mut warnings);

    // The stem.
    let fifth = constant("mor_fifth_percentile")?;
    let bend_at = |d: Length, k: f64| -> Result<Force, MechanicsError> {
        stem_bending_force(Moment::from_nm(stem_breaking_moment(d, kind.rupture, kind.knot)?.as_nm() * k), h)
    };
    let bending = Range::hull(bend_at(d.low(), fifth)?, bend_at(d.likely(), 1.0)?, bend_at(d.high(), 2.0 - fifth)?);
    let shear_at = |d: Length, k: f64| stem_shear_force(d, kind.shear).map(|f| f * k);
    let shear = Range::hull(shear_at(d.low(), fifth)?, shear_at(d.likely(), 1.0)?, shear_at(d.high(), 2.0 - fifth)?);

    let least = |f: fn(&Range<Force>) -> Force| f(&root).min(f(&bending)).min(f(&shear));
    let ultimate = Range::hull(least(Range::low), least(Range::likely), least(Range::high));
    let mode = if root.low() <= bending.low() && root.low() <= shear.low() {
        AnchorMode::RootPlate
    } else if bending.low() <= shear.low() {
        AnchorMode::StemBending
    } else {
        AnchorMode::StemShear
    };
    rec.record(|| {
        Step::range("pull that tips the root plate", "F_root", "F = C · SW / (h + e), ∓ scatter", &root, "fgr-vignette")
            .input_range(
                "C",
                &c,
                Origin::Table {
                    table: if single { "creg_single" } else { "creg" },
                    row: kind.coefficient.to_owned(),
                    source: "norforestgales",
                },
            )
            .input_range("SW", &stem.mass, Origin::Earlier)
            .input("h", height.as_m(), Dimension::Length, Origin::Earlier)
            .input("e", e.as_m(), Dimension::Length, Origin::Constant("own-judgement"))
            .input("scatter", scatter, Dimension::Ratio, Origin::Constant("own-judgement"))
            .input("saturated", soft, Dimension::Ratio, Origin::Constant("own-judgement"))
    });
    rec.record(|| {
        Step::range("pull that breaks the stem", "F_stem", "F = (π/32) f MOR d³ / h", &bending, "fgr-vignette")
            .given("d", &tree.diameter)
            .input("MOR", kind.rupture.as_pa(), Dimension::Pressure, Origin::Constant("norforestgales"))
            .input("f", kind.knot, Dimension::Ratio, Origin::Constant("norforestgales"))
            .input("h", h.as_m(), Dimension::Length, Origin::Earlier)
    });
    rec.record(|| {
        Step::range(
            "what the tree holds",
            "F",
            "least of root plate, stem in bending, stem in shear",
            &ultimate,
            "statics",
        )
        .input_range("F_root", &root, Origin::Earlier)
        .input_range("F_stem", &bending, Origin::Earlier)
        .input_range("F_shear", &shear, Origin::Earlier)
        .note("a low strap lies outside of the tests; watch the base and stop at the first movement")
    });
    Ok(TreeStrength { ultimate, mode, root, bending, shear, stem_mass: stem.mass, warnings })
}

fn tell_doubts(
    tree: &Tree,
    kind: &Kind,
    mass: &Range<Mass>,
    single: bool,
    saturated: bool,
    warnings: &mut Vec<Warning>,
) {
    if tree.soil == SoilGroup::Unknown && !single {
        warnings
            .push(Warning::new("tree-soil-unknown", "the soil is not known: the poorest soil counts at the low end"));
    }
    if single && !kind.fallback && tree.soil != SoilGroup::FreelyDraining {
        warnings.push(Warning::new(
            "tree-soil-not-distinguished",
            "the tests of this species do not tell soils apart; on poor soil it may hold less",
        ));
    }
    if tree.rooting == Rooting::Medium {
        warnings.push(Warning::new(
            "tree-rooting-medium",
            "rooting depth medium or not known: shallow counts at the low end",
        ));
    }
    if saturated {
        warnings
            .push(Warning::new("tree-saturated", "the ground is saturated: the root plate counts with three quarters"));
    }
    if let Some(species) = kind.species {
        let word = soil_word(tree.soil);
        // On unknown soil the least of all soils; the lower rooting class unless the rooting is known to be deep.
        let tested = g::tested_stem_mass::ROWS
            .iter()
            .filter(|r| r.species == species && word.is_none_or(|w| r.soil == w))
            .map(|r| if tree.rooting == Rooting::Deep { r.high } else { r.low })
            .reduce(|a, b| if b < a { b } else { a });
        match tested {
            Some(limit) if mass.likely() > limit => warnings.push(Warning::new(
                "tree-extrapolated",
                format!(
                    "the stem weighs about {:.0} kg, the tested ones up to {:.0} kg: this is an extrapolation",
                    mass.likely().as_kg(),
                    limit.as_kg()
                ),
            )),
            Some(_) => {}
            None if !kind.fallback => warnings.push(Warning::new(
                "tree-extrapolated",
                "no tested stem mass is listed for this species on this soil: treat it as an extrapolation",
            )),
            None => {}
        }
    }
}

const fn soil_word(soil: SoilGroup) -> Option<&'static str> {
    match soil {
        SoilGroup::FreelyDraining => Some("freely-draining"),
        SoilGroup::Gley => Some("gley"),
        SoilGroup::Peaty => Some("peaty"),
        SoilGroup::DeepPeat => Some("deep-peat"),
        SoilGroup::Unknown => None,
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
        let t = tree_strength(&tree(Some("sitka_spruce"), 25.0, Some(16.0)), Length::from_m(0.5), false, &mut Silent)
            .unwrap();
        let mass = 6.8e-5 * libm::pow(25.0, 1.827_421) * libm::pow(16.0, 0.981_362) * 850.0;
        assert!((t.root.likely().as_n() - 153.2 * mass / 1.5).abs() < 1e-6);
        assert_eq!(t.mode, AnchorMode::RootPlate);
        assert!((t.root.low().as_n() / t.root.likely().as_n() - (1.0 - 1.645 * 0.3)).abs() < 1e-12);
    }

    #[test]
    fn closed_form_a_stout_low_strap_shears_the_stem_first() {
        // Very low on a thin, tall stem the shear limit is below bending.
        let t = tree_strength(&tree(Some("douglas_fir"), 20.0, Some(14.0)), Length::from_m(0.1), false, &mut Silent)
            .unwrap();
        assert!(t.shear.likely() < t.bending.likely());
        assert!(t.ultimate.low() > Force::ZERO);
    }

    #[test]
    fn balance_recording_changes_no_bit_of_the_tree() {
        let mut trail = Trail::default();
        let of = tree(None, 30.0, None);
        let a = tree_strength(&of, Length::from_m(0.4), true, &mut Silent).unwrap();
        let b = tree_strength(&of, Length::from_m(0.4), true, &mut trail).unwrap();
        assert_eq!(a, b);
        assert!(trail.steps.len() >= 4);
        let codes: Vec<_> = a.warnings.iter().map(|w| w.code).collect();
        assert!(codes.contains(&"tree-species-unknown") && codes.contains(&"tree-height-unknown"));
    }

    #[test]
    fn closed_form_an_unknown_species_key_is_an_error_with_the_list() {
        let err =
            tree_strength(&tree(Some("sprucey"), 30.0, None), Length::from_m(0.4), false, &mut Silent).unwrap_err();
        assert!(err.to_string().contains("sitka_spruce"));
    }
}
