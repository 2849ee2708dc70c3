//! What stretches and what flies: stiffness and mass of a metre of line, mass of fittings that nobody weighed.

use crate::error::{MechanicsError, positive};
use crate::{lookup, rope};
use unmire_model::gear::{Material, PieceKind, StrapUse};
use unmire_model::{Force, Length, Mass, Range, Recorder};

/// Share of a strap's or a rope's weighed mass that stretches at least; the rest may be sleeve, stitching and doubled eyes.
/// Our own judgement.
const STRETCHING_SHARE: f64 = 0.6;

/// What is known of a line, a rope or a strap.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Known {
    /// Of what.
    pub material: Option<Material>,
    /// What a strap is made for; none for a line or a rope.
    pub made_for: Option<StrapUse>,
    /// Diameter of a line or a rope.
    pub diameter: Option<Length>,
    /// Least breaking strength in a straight pull, new and dry.
    pub breaking: Option<Force>,
    /// Rating with the stretch at it as a fraction, as printed.
    pub printed_stretch: Option<(Force, f64)>,
    /// Its mass and its length, if it was weighed.
    pub weighed: Option<(Mass, Length)>,
}

/// Stiffness and mass of what stretches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretchy {
    /// Stiffness EA.
    pub ea: Range<Force>,
    /// Mass of one metre.
    pub mass_per_metre: Range<Mass>,
    /// Whether its mass is a band of our own judgement, by its strength.
    pub mass_assumed: bool,
    /// Whether nobody said of what it is.
    pub material_assumed: bool,
}

/// Stiffness and mass of a metre of a line, a rope or a strap.
///
/// Stiffness: the printed stretch, else steel wire and chain by diameter, else by material and strength. Mass: weighed, else by
/// diameter, else by strength.
///
/// # Source
/// Tables `rope_stiffness`, `strap_stretch`, `fibre_fit`, `chain_fit`, `line_mass` and those of wire rope; each row has its own. The
/// least share of a weighed mass that stretches: `own-judgement`.
///
/// # Errors
/// Says what is missing: a strength, a diameter, or a row for the material.
pub fn stretchy(k: &Known, rec: &mut impl Recorder) -> Result<Stretchy, MechanicsError> {
    let material = k.material.unwrap_or(Material::Unknown);
    let no_strength = MechanicsError::Missing {
        what: "the strength of a part that stretches",
        help: "give its label; without one neither its energy nor its recoil is known",
    };
    let no_diameter =
        MechanicsError::Missing { what: "the diameter of a wire or a chain", help: "measure it, for example 10 mm" };
    let ea = match (material, k.printed_stretch) {
        (_, Some((rating, stretch))) => {
            rope::stiffness(material, k.made_for, Force::ZERO, Some((rating, stretch)), rec)?
        }
        (Material::SteelWire, None) => rope::wire_stiffness(k.diameter.ok_or(no_diameter.clone())?)?,
        (Material::Chain, None) => {
            let d = positive("the diameter", k.diameter.ok_or(no_diameter.clone())?.as_m(), "greater than zero")?;
            lookup::chain_fit().1.increasing(|c| Force::from_n(c * d * d))
        }
        // Where nobody said of what it is, the softest of the straps counts.
        (Material::Unknown, None) => {
            let use_of = k.made_for.or(Some(StrapUse::Extension));
            rope::stiffness(material, use_of, k.breaking.ok_or(no_strength.clone())?, None, rec)?
        }
        (_, None) => rope::stiffness(material, k.made_for, k.breaking.ok_or(no_strength.clone())?, None, rec)?,
    };
    let (mass_per_metre, mass_assumed) = match (k.weighed, k.diameter) {
        (Some((mass, length)), _) => {
            let m = positive("the mass of a piece", mass.as_kg(), "greater than zero, for example 2 kg")?;
            let l = positive("the length of a piece", length.as_m(), "greater than zero, for example 3 m")?;
            (Range::hull(Mass::from_kg(STRETCHING_SHARE * m / l), Mass::from_kg(m / l), Mass::from_kg(m / l)), false)
        }
        (None, Some(d)) if material == Material::Chain => {
            let d = positive("the diameter", d.as_m(), "greater than zero")?;
            (lookup::chain_fit().0.increasing(|c| Mass::from_kg(c * d * d)), false)
        }
        (None, Some(d)) if lookup::mass_coefficient(material).is_some() => (rope::mass_per_metre(material, d)?, false),
        _ => {
            let strength =
                positive("the strength", k.breaking.ok_or(no_strength)?.as_n(), "a force greater than zero")?;
            let per = lookup::line_mass(material).ok_or(MechanicsError::Missing {
                what: "the mass of this material",
                help: "weigh the piece and give its mass",
            })?;
            (per.increasing(|c| Mass::from_kg(c * strength * 1e-6)), true)
        }
    };
    Ok(Stretchy { ea, mass_per_metre, mass_assumed, material_assumed: material == Material::Unknown })
}

/// What may fly.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flying {
    /// The end of a line: a thimble or a hook.
    LineEnd,
    /// A steel shackle.
    Shackle,
    /// A soft shackle.
    SoftShackle,
    /// A hook.
    Hook,
    /// A snatch block.
    Block,
    /// A ring.
    Ring,
    /// A load cell.
    LoadCell,
    /// A hand winch.
    HandWinch,
    /// A winch torn off its mount.
    Winch,
    /// What the hook was on, torn off its vehicle.
    Point,
    /// A picket, a plate, a bolt.
    MadeAnchor,
    /// A piece broken off a fitting.
    BrokenPiece,
    /// Anything else.
    Other,
}
impl Flying {
    /// What kind of thing a piece is; nothing for what stretches.
    #[must_use]
    pub const fn of_piece(kind: &PieceKind) -> Option<Self> {
        Some(match kind {
            PieceKind::Strap(_) | PieceKind::Rope(_) => return None,
            PieceKind::Shackle { .. } => Self::Shackle,
            PieceKind::SoftShackle => Self::SoftShackle,
            PieceKind::Hook { .. } => Self::Hook,
            PieceKind::Block { .. } => Self::Block,
            PieceKind::Ring { .. } => Self::Ring,
            PieceKind::LoadCell => Self::LoadCell,
            PieceKind::HandWinch { .. } => Self::HandWinch,
            _ => Self::Other,
        })
    }
    const fn key(self) -> &'static str {
        match self {
            Self::LineEnd => "line_end",
            Self::Shackle => "shackle",
            Self::SoftShackle => "soft_shackle",
            Self::Hook => "hook",
            Self::Block => "block",
            Self::Ring => "ring",
            Self::LoadCell => "load_cell",
            Self::HandWinch => "hand_winch",
            Self::Winch => "winch",
            Self::Point => "point",
            Self::MadeAnchor => "made_anchor",
            Self::BrokenPiece => "broken_piece",
            Self::Other => "other",
        }
    }
}

/// Mass of what flies, and whether it is a band because nobody weighed it.
///
/// A shackle of a known working load limit is taken between the next smaller and the next larger size: alloy ones are lighter, and
/// the digits are tonnes on one sheet and short tons on another.
///
/// # Source
/// Tables `shackle_mass` (secondary) and `flying_mass` (`own-judgement`).
///
/// # Errors
/// If the stated mass is not greater than zero, or a shackle is larger than the table.
pub fn flying_mass(
    what: Flying,
    weighed: Option<Mass>,
    working: Option<Force>,
) -> Result<(Range<Mass>, bool), MechanicsError> {
    if let Some(m) = weighed {
        positive("the mass of a piece", m.as_kg(), "greater than zero, for example 1.1 kg")?;
        return Ok((Range::hull(m, m, m), false));
    }
    match (what, working) {
        (Flying::Shackle, Some(limit)) => Ok((lookup::shackle_mass(limit)?, true)),
        _ => Ok((lookup::flying_mass(what.key())?, true)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::Silent;

    fn line(material: Material) -> Known {
        Known {
            material: Some(material),
            diameter: Some(Length::from_mm(10.0)),
            breaking: Some(Force::from_kn(58.651)),
            ..Known::default()
        }
    }

    #[test]
    fn published_shackle_mass_lies_between_its_neighbours() {
        let (m, assumed) = flying_mass(Flying::Shackle, None, Some(Force::from_tonnef(4.75))).unwrap();
        assert_eq!((m.low().as_kg(), m.likely().as_kg(), m.high().as_kg(), assumed), (0.63, 1.10, 1.70, true));
        // The same digits in short tons are the same shackle.
        let (short, _) = flying_mass(Flying::Shackle, None, Some(Force::from_short_tonf(4.75))).unwrap();
        assert_eq!(short, m);
        assert!(flying_mass(Flying::Shackle, None, Some(Force::from_tonnef(90.0))).is_err());
        assert!(flying_mass(Flying::Shackle, None, Some(Force::from_n(f64::NAN))).is_err());
    }

    #[test]
    fn closed_form_what_was_weighed_is_taken_as_it_is() {
        let m = Mass::from_kg(3.2);
        assert_eq!(flying_mass(Flying::Block, Some(m), None).unwrap(), (Range::hull(m, m, m), false));
        assert!(flying_mass(Flying::Block, Some(Mass::ZERO), None).is_err());
        let strap = Known {
            material: Some(Material::Polyester),
            made_for: Some(StrapUse::TreeStrap),
            breaking: Some(Force::from_kn(100.0)),
            weighed: Some((Mass::from_kg(1.5), Length::from_m(3.0))),
            ..Known::default()
        };
        let s = stretchy(&strap, &mut Silent).unwrap();
        assert!((s.mass_per_metre.high().as_kg() - 0.5).abs() < 1e-12 && !s.mass_assumed);
        assert!((s.mass_per_metre.low().as_kg() - 0.3).abs() < 1e-12);
    }

    #[test]
    fn published_fits_give_line_and_chain() {
        let s = stretchy(&line(Material::Hmpe), &mut Silent).unwrap();
        assert!((s.mass_per_metre.low().as_kg() - 0.049_572).abs() < 1e-9);
        assert!((s.ea.low().as_n() - 37.5 * 58_651.0).abs() < 1e-6);
        let c = stretchy(&line(Material::Chain), &mut Silent).unwrap();
        assert!((c.mass_per_metre.low().as_kg() - 2.001).abs() < 1e-9);
        assert!((c.ea.high().as_n() - 8_797_000.0).abs() < 1e-3);
        let w = stretchy(&line(Material::SteelWire), &mut Silent).unwrap();
        assert!((w.ea.low().as_n() - 3.8e6).abs() < 1e-3);
    }

    #[test]
    fn closed_form_what_is_missing_is_said() {
        let bare = Known { breaking: None, ..line(Material::Hmpe) };
        assert!(stretchy(&bare, &mut Silent).is_err());
        assert!(stretchy(&Known { diameter: None, ..line(Material::SteelWire) }, &mut Silent).is_err());
        assert!(stretchy(&line(Material::Polypropylene), &mut Silent).is_err());
        let unknown = stretchy(&Known { diameter: None, ..line(Material::Unknown) }, &mut Silent).unwrap();
        assert!(unknown.material_assumed && unknown.mass_assumed);
    }
}
