//! Bolts grouted into rock.
//!
//! Regulation asks that they be grouted, tested and kept to the maker's data (`wac-296-54-569` (8), read). So without a proof pull
//! nothing passes, though the reader sees what the bond would give. A rock anchor of driven pickets is described by `fm-5-125` p. 4-2
//! (hole 5 in deep, drilled 1 in wide in hard rock, 3/4 in in soft; read) without a load: there is no model of it here.

use super::capacity::{AnchorCapacity, AnchorMode, Way};
use super::earth::doubt;
use super::plate::{bridled, proof_direction, together};
use crate::error::{MechanicsError, between, positive};
use crate::standing::Warning;
use unmire_model::anchor::RockBolts;
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Force, Length, Pressure, Range};
use unmire_tables::generated as g;
use unmire_tables::row;

/// Pull at which the grout lets go of the rock: `T = π d L τ`. d diameter of the hole, L length of the grout, τ bond strength.
///
/// # Source
/// `statics`: an even shear stress over the wall of the hole; real bonds peak near the mouth, so a long one holds less than this.
///
/// # Errors
/// If an input is not greater than zero.
pub fn bolt_bond(hole: Length, bond: Length, strength: Pressure) -> Result<Force, MechanicsError> {
    let d = positive("the diameter of the hole", hole.as_m(), "greater than zero, for example 25 mm")?;
    let l = positive("the bonded length", bond.as_m(), "greater than zero, for example 0.5 m")?;
    let t = positive("the bond strength", strength.as_pa(), "greater than zero, for example 1 MPa")?;
    Ok(Force::from_n(core::f64::consts::PI * d * l * t))
}

/// Bond strength of grout in a rock, with the range that memory makes.
///
/// # Source
/// Table `rock_bond`: `ground-anchor-tables` (memory); factors on what is recalled: `own-judgement`.
///
/// # Errors
/// If the rock is in no row.
pub fn bond_strength(rock: &str) -> Result<Range<Pressure>, MechanicsError> {
    let r = row(g::rock_bond::ROWS, rock).ok_or_else(|| MechanicsError::UnknownKey {
        table: "bond in rock",
        key: rock.to_owned(),
        known: g::rock_bond::ROWS.iter().map(|r| r.key).collect(),
    })?;
    let (less, more) = doubt(r.how)?;
    Ok(Range::hull(r.low * less, (r.low + r.high) * 0.5, r.high * more))
}

/// What bolts in rock hold. Each: the proof pull, and no more than the high end of the bond or the strength of its bar. Not grouted:
/// ruled out. Nobody knows whether it is grouted, or no proof pull: unknown, with the ways in which it could give beside it.
///
/// # Source
/// `wac-296-54-569` (8) (read): grouted, tested, kept to the maker's data; bond: [`bolt_bond`]; several: [`bridled`].
///
/// # Errors
/// If the rock is in no row or a measure is not in order.
pub fn rock_bolts(of: &RockBolts, rec: &mut impl Recorder) -> Result<AnchorCapacity, MechanicsError> {
    let mut warnings = Vec::new();
    bridled(of.count)?;
    let strength = bond_strength(&of.rock.value)?;
    let (hole, length) = (of.hole.value, of.bond.value);
    between("the diameter of the hole", hole.high().as_m(), 0.0, 0.2, "up to 200 mm, for example 25 mm")?;
    between("the bonded length", length.high().as_m(), 0.0, 6.0, "up to 6 m, for example 0.5 m")?;
    let bond = Range::hull(
        bolt_bond(hole.low(), length.low(), strength.low())?,
        bolt_bond(hole.likely(), length.likely(), strength.likely())?,
        bolt_bond(hole.high(), length.high(), strength.high())?,
    );
    rec.record(|| {
        let origin = Origin::Table { table: "rock_bond", row: of.rock.value.clone(), source: "ground-anchor-tables" };
        Step::range("pull at which the grout of one bolt lets go", "T_bond", "T = π d L τ", &bond, "statics")
            .given("d", &of.hole)
            .given("L", &of.bond)
            .input_range("τ", &strength, origin)
            .note("τ from memory: four fifths at the low end, five quarters at the high end")
    });
    let bar = match &of.bar {
        Some(bar) => Some(Force::from_n(positive("the strength of the bar", bar.value.as_n(), "greater than zero")?)),
        None => {
            warnings.push(Warning::new(
                "rock-bolts-bar-unknown",
                "the strength of bar and eye is not told: beyond the proof pull they may break first",
            ));
            None
        }
    };
    let shown = match &of.proof {
        Some(proof) => {
            Some(Force::from_n(positive("the proof pull", proof.value.as_n(), "greater than zero, for example 20 kN")?))
        }
        None => None,
    };
    let most = bar.map_or(bond.high(), |b| b.min(bond.high()));
    // What it held once it holds: the test of the very bolt goes before what is known of such rock in general.
    let each = shown.map(|f| f.min(most));
    let bond = each.map_or(bond, |f| bond.increasing(|b| b.max(f)));
    let mut ways = vec![Way { mode: AnchorMode::Bond, holds: together(of.count, &bond, rec, &mut warnings)? }];
    if let Some(bar) = bar {
        let holds = together(of.count, &Range::hull(bar, bar, bar), rec, &mut Vec::new())?;
        ways.push(Way { mode: AnchorMode::Bar, holds });
    }
    match of.grouted {
        Some(true) => {}
        Some(false) => {
            return Ok(AnchorCapacity {
                ruled_out: true,
                ..AnchorCapacity::unknown("not grouted: regulation asks that a rock bolt be grouted", ways, warnings)
            });
        }
        None => {
            let reason = "nobody says whether the bolt is grouted, as regulation asks";
            return Ok(AnchorCapacity::unknown(reason, ways, warnings));
        }
    }
    let (Some(proof), Some(shown), Some(each)) = (&of.proof, shown, each) else {
        let reason = "the bolt was not tested: regulation asks for a proof pull after the grout has set; the bond alone does not pass";
        return Ok(AnchorCapacity::unknown(reason, ways, warnings));
    };
    if shown > most {
        warnings.push(Warning::new(
            "rock-bolts-proof-odd",
            "the proof pull is more than bar or bond could hold by what is told of them: the lower counts; check the figures",
        ));
    }
    warnings.push(proof_direction());
    let each = Range::hull(each, each, each);
    rec.record(|| {
        Step::range(
            "what each bolt was shown to hold",
            "F",
            "its proof pull, no more than bond or bar",
            &each,
            "wac-296-54-569",
        )
        .input("proof", shown.as_n(), Dimension::Force, proof.origin.clone())
    });
    let holds = together(of.count, &each, rec, &mut Vec::new())?;
    ways.push(Way { mode: AnchorMode::Proof, holds });
    Ok(AnchorCapacity::weakest(ways, warnings))
}
