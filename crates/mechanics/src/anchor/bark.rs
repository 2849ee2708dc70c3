//! Bark: how hard a strap presses on a living stem, and what the bark stands.
//!
//! Under the bark lies the cambium, which feeds the tree. Two things kill it: the wood under the strap is crushed, or the strap
//! slips and drags the bark off the wood. No standard with a figure was found; the limits here are derived from published strengths.

use super::kind::constant;
use crate::error::{MechanicsError, between, positive};
use crate::hitch::{contact_pressure, included_angle_leg};
use unmire_model::anchor::Tree;
use unmire_model::ground::Season;
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Angle, Force, Length, Pressure};
use unmire_tables::generated as g;
use unmire_tables::{How, row};

/// How a band lies round a stem.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Around {
    /// Both ends to one connector, with this angle between them.
    Basket {
        /// Angle between the legs; zero where they are parallel.
        included: Angle,
    },
    /// One end through the other.
    Choker,
}

/// What gives first under a strap.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BarkGives {
    /// The bark peels off the wood where the strap slips.
    Peels,
    /// The wood is crushed across the grain.
    WoodCrushed,
}

/// What the bark of a tree stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BarkLimit {
    /// The lower of both.
    pub pressure: Pressure,
    /// Which of both that is.
    pub gives: BarkGives,
    /// Pressure at which a slipping strap peels the bark.
    pub peels: Pressure,
    /// Pressure that crushes the wood, low end, where its strength is listed for the species.
    pub crushes: Option<Pressure>,
    /// The season that was counted.
    pub season: Season,
    /// Whether somebody said so; nobody did, the growing season counts.
    pub season_known: bool,
}

/// A strap on a living stem.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BarkCheck {
    /// Its pressure.
    pub pressure: Pressure,
    /// What the bark stands.
    pub limit: BarkLimit,
    /// The least width that would keep to it.
    pub least_width: Length,
}
impl BarkCheck {
    /// Whether the pressure keeps to the limit.
    ///
    /// # Source
    /// None: a comparison.
    #[must_use]
    pub fn keeps(&self) -> bool {
        self.pressure <= self.limit.pressure
    }
}

/// Friction of a strap on bark or on bare wood.
///
/// # Source
/// `own-judgement`, table `bark_limit`.
///
/// # Errors
/// If the table lacks the row.
pub fn strap_friction() -> Result<f64, MechanicsError> {
    row(g::bark_limit::ROWS, "strap_on_bark").map(|r| r.friction).ok_or(MechanicsError::Missing {
        what: "the friction of a strap on bark",
        help: "the table bark_limit lacks a row",
    })
}

/// Tension of the band on the bark: of each leg of a basket `T / (2 cos(A/2))`, of a choker the whole pull; shared by the times
/// that it goes round.
fn band_tension(pull: Force, around: Around, wraps: u32) -> Result<Force, MechanicsError> {
    let f = positive("the pull on the strap", pull.as_n(), "greater than zero, for example 20 kN")?;
    let n = between("the times that the strap goes round", f64::from(wraps), 1.0, 20.0, "1 to 20, for example 1")?;
    let leg = match around {
        Around::Basket { included } => included_angle_leg(Force::from_n(f), included)?,
        Around::Choker => Force::from_n(f),
    };
    Ok(leg / n)
}

/// Pressure of a band on a stem of diameter d under a pull T: `p = t / (w r)`. A basket with parallel legs has `t = T / 2`, so
/// `T / (w d)`; with an angle A between the legs `t = T / (2 cos(A/2))`; a choker has `t = T`, so `2 T / (w d)`. A band that goes
/// round n times shares the tension by n. The width of a round rope is its diameter.
///
/// # Source
/// `statics` (membrane equilibrium), derived.
///
/// # Errors
/// If a measure is not greater than zero, the angle is half a turn or more, or it goes round no time.
///
/// # Assumes
/// The band lies flat over its whole width and its turns share evenly.
pub fn band_pressure(
    pull: Force,
    around: Around,
    width: Length,
    diameter: Length,
    wraps: u32,
    rec: &mut impl Recorder,
) -> Result<Pressure, MechanicsError> {
    let t = band_tension(pull, around, wraps)?;
    let w = positive("the width of the strap", width.as_m(), "greater than zero, for example 75 mm")?;
    let d = positive("the stem's diameter", diameter.as_m(), "greater than zero, for example 30 cm")?;
    let p = contact_pressure(t, width, diameter * 0.5);
    positive("the pressure of the strap", p.as_pa(), "an ordinary number")?;
    rec.record(|| {
        Step::new(
            "pressure of the strap on the bark",
            "p",
            "p = 2 t / (w d)",
            p.as_pa(),
            Dimension::Pressure,
            "statics",
        )
        .input("t", t.as_n(), Dimension::Force, Origin::Earlier)
        .input("w", w, Dimension::Length, Origin::Earlier)
        .input("d", d, Dimension::Length, Origin::Earlier)
    });
    Ok(p)
}

/// The least width of a band that presses with no more than a limit: [`band_pressure`] solved for w.
///
/// # Source
/// `statics`, derived.
///
/// # Errors
/// As [`band_pressure`]; if the limit is not greater than zero.
pub fn least_width(
    pull: Force,
    around: Around,
    diameter: Length,
    wraps: u32,
    limit: Pressure,
) -> Result<Length, MechanicsError> {
    let t = band_tension(pull, around, wraps)?;
    let d = positive("the stem's diameter", diameter.as_m(), "greater than zero, for example 30 cm")?;
    let p = positive("the limit of the pressure", limit.as_pa(), "greater than zero, for example 0.9 MPa")?;
    Ok(Length::from_m(2.0 * t.as_n() / (p * d)))
}

/// What the bark of a tree stands at this time of the year: the lower of peeling and crushing.
///
/// Peeling: shear strength of bark on wood over the friction of the strap, `τ / μ`. A conifer counts as spruce, a broadleaf as the
/// weaker of oak and beech, where it is neither; who does not know takes the conifer. A season that nobody told is
/// the growing one. Crushing: compression across the grain times 0.54 (fifth percentile), where the species has a row.
///
/// # Source
/// `vilkovsky-2022` (abstract, read) for the bark, means of tests; `wood-handbook` for the wood, with `astm-d2555` (read) for its
/// scatter; friction: `own-judgement`.
///
/// # Errors
/// If the species is in no table.
pub fn bark_limit(tree: &Tree, season: Option<Season>, rec: &mut impl Recorder) -> Result<BarkLimit, MechanicsError> {
    let species = match &tree.species {
        Some(key) => Some(row(g::species::ROWS, key).ok_or_else(|| MechanicsError::UnknownKey {
            table: "species",
            key: key.clone(),
            known: g::species::ROWS.iter().map(|r| r.key).collect(),
        })?),
        None => None,
    };
    let conifer = species.map_or(tree.conifer != Some(false), |s| s.conifer);
    let counted = season.unwrap_or(Season::Growing);
    let bond = |r: &g::bark::Row| if counted == Season::Dormant { r.dormant } else { r.growing };
    let own = species.and_then(|s| row(g::bark::ROWS, s.key));
    let tau = match own {
        Some(r) => bond(r),
        None => g::bark::ROWS
            .iter()
            .filter(|r| r.conifer == conifer)
            .map(bond)
            .reduce(|a, b| if b < a { b } else { a })
            .ok_or(MechanicsError::Missing {
                what: "the shear strength of bark",
                help: "the table bark lacks a row for this kind",
            })?,
    };
    let friction = strap_friction()?;
    let peels = tau * (1.0 / friction);
    let wood = species.and_then(|s| row(g::wood_green::ROWS, s.wood?));
    let crushes = match wood.and_then(|w| w.compression_across.map(|c| (c, w.how))) {
        Some((c, how)) => {
            let recalled = if how == How::Memory { constant("from_memory")? } else { 1.0 };
            Some(c * (constant("compression_across_fifth_percentile")? * recalled))
        }
        None => None,
    };
    let (pressure, gives) = match crushes {
        Some(c) if c < peels => (c, BarkGives::WoodCrushed),
        _ => (peels, BarkGives::Peels),
    };
    rec.record(|| {
        let s = Step::new(
            "pressure that the bark stands",
            "p_max",
            "p_max = least of τ / μ and 0.54 C_perp",
            pressure.as_pa(),
            Dimension::Pressure,
            "vilkovsky-2022",
        )
        .input("τ", tau.as_pa(), Dimension::Pressure, Origin::Constant("vilkovsky-2022"))
        .input("μ", friction, Dimension::Ratio, Origin::Constant("own-judgement"));
        let s = match crushes {
            Some(c) => s.input("0.54 C_perp", c.as_pa(), Dimension::Pressure, Origin::Constant("wood-handbook")),
            None => {
                s.note("the strength of this wood across the grain is not listed: only the peeling of the bark counts")
            }
        };
        if season.is_none() { s.note("the season is not known: the growing one counts") } else { s }
    });
    Ok(BarkLimit { pressure, gives, peels, crushes, season: counted, season_known: season.is_some() })
}

/// A strap on a living stem: its pressure, what the bark stands, and the least width that would do.
///
/// # Source
/// As [`band_pressure`] and [`bark_limit`]: `statics`, `vilkovsky-2022`.
///
/// # Errors
/// As those.
pub fn bark_check(
    tree: &Tree,
    season: Option<Season>,
    pull: Force,
    around: Around,
    width: Length,
    wraps: u32,
    rec: &mut impl Recorder,
) -> Result<BarkCheck, MechanicsError> {
    // Thin stems are pressed harder: the low end of the diameter counts.
    let diameter = tree.diameter.value.low();
    let limit = bark_limit(tree, season, rec)?;
    Ok(BarkCheck {
        pressure: band_pressure(pull, around, width, diameter, wraps, rec)?,
        limit,
        least_width: least_width(pull, around, diameter, wraps, limit.pressure)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::anchor::{Rooting, SoilGroup, TreeSigns};
    use unmire_model::trail::Input;
    use unmire_model::{Range, Silent, Trail};

    const PARALLEL: Around = Around::Basket { included: Angle::ZERO };

    fn tree(species: Option<&str>, conifer: Option<bool>) -> Tree {
        Tree {
            species: species.map(str::to_owned),
            conifer,
            diameter: Input::assumed(Range::exact(Length::from_cm(30.0)).unwrap(), "test"),
            height: None,
            soil: SoilGroup::Unknown,
            rooting: Rooting::Medium,
            signs: TreeSigns::all(false),
        }
    }
    fn limit(species: Option<&str>, conifer: Option<bool>, season: Option<Season>) -> BarkLimit {
        bark_limit(&tree(species, conifer), season, &mut Silent).unwrap()
    }

    #[test]
    fn closed_form_an_unknown_season_is_the_growing_one_and_an_unknown_kind_a_conifer() {
        let worst = limit(None, None, None);
        assert_eq!(worst.season, Season::Growing);
        assert!(!worst.season_known);
        assert_eq!(worst.pressure, limit(None, Some(true), Some(Season::Growing)).pressure);
        for conifer in [None, Some(true), Some(false)] {
            for season in [None, Some(Season::Growing), Some(Season::Dormant)] {
                assert!(limit(None, conifer, season).pressure >= worst.pressure);
            }
        }
        // 0.26 / 0.3 MPa.
        assert!((worst.pressure.as_mpa() - 0.26 / 0.3).abs() < 1e-12);
    }

    #[test]
    fn closed_form_soft_wood_is_crushed_before_its_bark_peels() {
        // Balsam fir: 190 psi recalled, 190 · 0.006894757 · 0.54 · 0.85 = 0.601 MPa, under the 1.2 of dormant bark.
        let fir = limit(Some("balsam_fir"), None, Some(Season::Dormant));
        assert_eq!(fir.gives, BarkGives::WoodCrushed);
        assert!((fir.pressure.as_mpa() - 190.0 * 0.006_894_757 * 0.54 * 0.85).abs() < 1e-6);
        assert_eq!(limit(Some("oak"), None, Some(Season::Growing)).gives, BarkGives::Peels);
    }

    #[test]
    fn closed_form_the_least_width_presses_with_just_the_limit() {
        let mut trail = Trail::default();
        let t = tree(Some("sitka_spruce"), None);
        for around in [PARALLEL, Around::Basket { included: Angle::from_deg(90.0) }, Around::Choker] {
            for wraps in [1, 2, 3] {
                let (pull, width) = (Force::from_kn(40.0), Length::from_mm(75.0));
                let c = bark_check(&t, None, pull, around, width, wraps, &mut trail).unwrap();
                assert_eq!(c, bark_check(&t, None, pull, around, width, wraps, &mut Silent).unwrap());
                let just =
                    band_pressure(pull, around, c.least_width, Length::from_cm(30.0), wraps, &mut Silent).unwrap();
                assert!((just / c.limit.pressure - 1.0).abs() < 1e-12);
                assert_eq!(c.keeps(), width >= c.least_width);
            }
        }
    }

    #[test]
    fn closed_form_what_is_no_measure_is_an_error() {
        let (f, w, d) = (Force::from_kn(10.0), Length::from_mm(75.0), Length::from_cm(30.0));
        for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            let l = Length::from_m(bad);
            assert!(band_pressure(Force::from_n(bad), PARALLEL, w, d, 1, &mut Silent).is_err());
            assert!(band_pressure(f, PARALLEL, l, d, 1, &mut Silent).is_err());
            assert!(band_pressure(f, PARALLEL, w, l, 1, &mut Silent).is_err());
            assert!(least_width(f, PARALLEL, d, 1, Pressure::from_pa(bad)).is_err());
        }
        assert!(band_pressure(f, PARALLEL, w, d, 0, &mut Silent).is_err());
        let straight = Around::Basket { included: Angle::from_deg(180.0) };
        assert!(band_pressure(f, straight, w, d, 1, &mut Silent).is_err());
        assert!(bark_limit(&tree(Some("sprucey"), None), None, &mut Silent).is_err());
    }
}
