//! What a sheave or a ring does to a line: what it passes on, what the block sees, what tackles gain.
//!
//! Two modes stand beside each other: a tension ratio for every sheave (physics) and the field doctrine that adds ten per
//! cent of the load for every sheave. Each function says which it is.

use crate::error::{MechanicsError, between, not_negative, positive};
use crate::lookup;
use unmire_model::gear::Bearing;
use unmire_model::trail::{Dimension, Origin, Step};
use unmire_model::{Angle, Force, Range, Recorder};

/// The doctrine's allowance: a tenth of the load for each sheave. Source keys `navedtra-14251`, `army-lesson-63h34f01`, read.
pub const DOCTRINE_SHARE_PER_SHEAVE: f64 = 0.10;

/// Tension beyond ÷ tension before a sheave while the line is hauled, by what the sheave turns on: low (poor), likely, high (good).
///
/// # Source
/// Table `sheave_band`: `wire-rope-users-manual` pp. 86-88 (read) and others; each row has its own.
#[must_use]
pub fn efficiency(bearing: Bearing) -> Range<f64> {
    lookup::sheave(bearing).efficiency
}

/// As [`efficiency`], with a step in the trail.
///
/// # Source
/// Table `sheave_band`, as [`efficiency`].
pub fn efficiency_recorded(bearing: Bearing, rec: &mut impl Recorder) -> Range<f64> {
    let row = lookup::sheave(bearing);
    rec.record(|| {
        Step::range(
            "tension beyond ÷ before the sheave while hauled",
            "η",
            "η by what the sheave turns on",
            &row.efficiency,
            row.source,
        )
        .note(format!("{}; {}", row.key, row.how))
    });
    row.efficiency
}

/// Force on a block whose two line parts have tensions T₁ and T₂ and an angle θ between them (0° = parallel):
/// `F = √(T₁² + T₂² + 2 T₁ T₂ cos θ)`; with equal tensions `2 T cos(θ / 2)`.
///
/// # Source
/// `statics`, derived; printed for equal tensions by `proarb-2015` (read) and `block-maker-guide` (secondary).
pub fn resultant(first: Force, second: Force, between_parts: Angle, rec: &mut impl Recorder) -> Force {
    let (a, b) = (first.as_n(), second.as_n());
    // (a − b)² + 2 a b (1 + cos θ): no digits are lost when the parts are nearly opposite.
    let half = libm::cos(0.5 * between_parts.as_rad());
    let f = Force::from_n(((a - b) * (a - b) + 4.0 * a * b * half * half).sqrt());
    rec.record(|| {
        Step::new("force on the block", "F", "F = √(T₁² + T₂² + 2 T₁ T₂ cos θ)", f.as_n(), Dimension::Force, "statics")
            .input("T₁", a, Dimension::Force, Origin::Earlier)
            .input("T₂", b, Dimension::Force, Origin::Earlier)
            .input("θ", between_parts.as_rad(), Dimension::Angle, Origin::Earlier)
    });
    f
}

/// Ratio of the tensions on the two sides of a ring, a pin or a bare trunk when the line slips: `R = exp(μ θ)`, θ the angle over
/// which the line lies on it. The greatest ratio there can be; 1 / R is what a ring passes on while hauled.
///
/// # Source
/// `capstan`, read.
///
/// # Errors
/// If friction or angle is negative or not an ordinary number.
pub fn capstan_ratio(friction: f64, wrap: Angle) -> Result<f64, MechanicsError> {
    let mu = not_negative("the friction coefficient", friction, "zero or more, for example 0.2")?;
    let th = not_negative("the wrap angle", wrap.as_rad(), "zero or more, for example 180°")?;
    Ok(libm::exp(mu * th))
}

/// What a ring passes on while the line is hauled, for a friction range: low (poor), likely, high (good).
///
/// # Source
/// `capstan`, read.
///
/// # Errors
/// As [`capstan_ratio`].
pub fn ring_efficiency(
    friction: &Range<f64>,
    wrap: Angle,
    rec: &mut impl Recorder,
) -> Result<Range<f64>, MechanicsError> {
    capstan_ratio(friction.low(), wrap)?;
    capstan_ratio(friction.high(), wrap)?;
    let r = friction.decreasing(|mu| libm::exp(-mu * wrap.as_rad()));
    rec.record(|| {
        Step::range("tension beyond ÷ before the ring while hauled", "η", "η = exp(−μ θ)", &r, "capstan")
            .input_range("μ", friction, Origin::Earlier)
            .input("θ", wrap.as_rad(), Dimension::Angle, Origin::Earlier)
    });
    Ok(r)
}

/// Friction range of a line on a smooth ring where the case states none.
///
/// # Source
/// Table `ring_friction`; each row has its own.
#[must_use]
pub fn default_ring_friction() -> Range<f64> {
    lookup::ring_friction()
}

/// Mechanical advantage with friction of a tackle of n parts whose lead line leaves the *fixed* block (as many sheaves as
/// parts): `MA = Σ_{k=1..n} K⁻ᵏ`. K tension ratio over one sheave (greater than or equal to 1).
///
/// # Source
/// Derived from `wire-rope-users-manual` p. 88 (read); the printed ratio tables agree.
///
/// # Errors
/// If there is no part or K is under 1.
pub fn advantage_fixed_lead(parts: u32, ratio: f64) -> Result<f64, MechanicsError> {
    advantage(parts, ratio, 1)
}

/// Mechanical advantage with friction of a tackle of n parts whose lead line leaves the *moving* block (one sheave fewer
/// than parts; the usual double- and triple-line winch pull): `MA = Σ_{k=0..n−1} K⁻ᵏ`.
///
/// # Source
/// `statics`, derived.
///
/// # Errors
/// As [`advantage_fixed_lead`].
pub fn advantage_moving_lead(parts: u32, ratio: f64) -> Result<f64, MechanicsError> {
    advantage(parts, ratio, 0)
}

fn advantage(parts: u32, ratio: f64, sheaves_before_the_first_part: u32) -> Result<f64, MechanicsError> {
    if parts == 0 || parts > 1000 {
        return Err(MechanicsError::BadInput {
            what: "the number of parts",
            got: f64::from(parts),
            expected: "1 to 1000, for example 2",
        });
    }
    between("the tension ratio of a sheave", ratio, 1.0, 10.0, "1 or a little more, for example 1.04")?;
    let mut t = 1.0;
    for _ in 0..sheaves_before_the_first_part {
        t /= ratio;
    }
    let mut sum = 0.0;
    for _ in 0..parts {
        sum += t;
        t /= ratio;
    }
    Ok(sum)
}

/// Lead-line pull ÷ load of a tackle of n parts and n sheaves, with extra redirects that multiply it by K each:
/// `f = Kⁿ (K − 1) / (Kⁿ − 1) · K^extra`.
///
/// # Source
/// `wire-rope-users-manual` pp. 86-88, read.
///
/// # Errors
/// As [`advantage_fixed_lead`].
pub fn lead_line_factor(parts: u32, ratio: f64, extra_redirects: u32) -> Result<f64, MechanicsError> {
    let mut f = 1.0 / advantage_fixed_lead(parts, ratio)?;
    if extra_redirects > 1000 {
        return Err(MechanicsError::BadInput {
            what: "the number of redirects",
            got: f64::from(extra_redirects),
            expected: "0 to 1000",
        });
    }
    for _ in 0..extra_redirects {
        f *= ratio;
    }
    Ok(f)
}

/// Total resistance and line pull of a tackle by the ten-per-cent doctrine.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DoctrinePull {
    /// What the tackle adds.
    pub tackle_resistance: Force,
    /// Load and tackle.
    pub total: Force,
    /// Pull in the line that runs to the winch.
    pub line_pull: Force,
}

/// The doctrine's line pull: `F = W (1 + share · sheaves) / MA`, MA the parts that pull. A named mode beside the tension ratios; it
/// is 6 to 33 per cent cautious for good blocks.
///
/// # Source
/// `navedtra-14251` Allowance for Friction, read; steps of `tb-9-2350-292-10`, read.
///
/// # Errors
/// If the advantage is not greater than zero or the share is negative.
pub fn doctrine_line_pull(
    load: Force,
    advantage: f64,
    sheaves: u32,
    share_per_sheave: f64,
    rec: &mut impl Recorder,
) -> Result<DoctrinePull, MechanicsError> {
    positive("the mechanical advantage", advantage, "greater than zero, for example 2")?;
    not_negative("the share for each sheave", share_per_sheave, "zero or more, for example 0.10")?;
    let tackle = load * (share_per_sheave * f64::from(sheaves));
    let total = load + tackle;
    let p = DoctrinePull { tackle_resistance: tackle, total, line_pull: total / advantage };
    rec.record(|| {
        Step::new(
            "line pull by the ten-per-cent doctrine",
            "F",
            "F = W (1 + share · sheaves) / MA",
            p.line_pull.as_n(),
            Dimension::Force,
            "navedtra-14251",
        )
        .input("W", load.as_n(), Dimension::Force, Origin::Earlier)
        .input("MA", advantage, Dimension::Ratio, Origin::Earlier)
        .input("sheaves", f64::from(sheaves), Dimension::Count, Origin::Earlier)
        .input("share", share_per_sheave, Dimension::Ratio, Origin::Constant("navedtra-14251"))
    });
    Ok(p)
}

/// What a tackle may lift by the same doctrine: `SWL · parts · 10 / (10 + sheaves)`.
///
/// # Source
/// `navedtra-14043`, read.
#[must_use]
pub fn doctrine_tackle_limit(line_limit: Force, parts: u32, sheaves: u32) -> Force {
    line_limit * (f64::from(parts) * 10.0 / (10.0 + f64::from(sheaves)))
}

/// Advantage of tackles that pull on one another: the product.
///
/// # Source
/// `navedtra-14251`, read.
#[must_use]
pub fn compound_advantage(first: f64, second: f64) -> f64 {
    first * second
}

/// The least whole number of parts with which a winch does a load by the doctrine, with one sheave fewer than parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DoctrineParts {
    /// How many parts.
    pub parts: u32,
    /// The pull then.
    pub pull: DoctrinePull,
}

/// Parts of line that a winch needs by the doctrine: start from load ÷ winch rounded up, add a part while the line pull with
/// tackle resistance is above the winch.
///
/// # Source
/// `tb-9-2350-292-10` steps 4 and 5, read; sheaves = parts − 1 as in the written problems, `army-lesson-63h34f01`, read.
///
/// # Errors
/// If load or winch are not greater than zero, or no number of parts up to 20 will do.
pub fn doctrine_parts(load: Force, winch: Force) -> Result<DoctrineParts, MechanicsError> {
    positive("the load", load.as_n(), "greater than zero")?;
    positive("the winch's capacity", winch.as_n(), "greater than zero")?;
    for parts in 1..=20_u32 {
        if load.as_n() > winch.as_n() * f64::from(parts) {
            continue;
        }
        let pull = doctrine_line_pull(
            load,
            f64::from(parts),
            parts - 1,
            DOCTRINE_SHARE_PER_SHEAVE,
            &mut unmire_model::Silent,
        )?;
        if pull.line_pull <= winch {
            return Ok(DoctrineParts { parts, pull });
        }
    }
    Err(MechanicsError::BadInput {
        what: "the load ÷ the winch's capacity",
        got: load / winch,
        expected: "small enough that up to 20 parts of line do it by the ten-per-cent doctrine",
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::Silent;

    #[test]
    fn closed_form_the_block_of_a_parallel_line_sees_both_tensions() {
        let f = resultant(Force::from_kn(3.0), Force::from_kn(2.0), Angle::ZERO, &mut Silent);
        assert!((f.as_kn() - 5.0).abs() < 1e-12);
        let f = resultant(Force::from_kn(3.0), Force::from_kn(3.0), Angle::HALF_TURN, &mut Silent);
        assert!(f.as_kn() < 1e-12);
    }

    #[test]
    fn closed_form_a_ring_with_friction_one_fifth_passes_on_half() {
        // exp(−0.2 π) = 0.5335; the block of a hauled line then sees 1.5335 T.
        let mu = Range::exact(0.2).unwrap();
        let eta = ring_efficiency(&mu, Angle::HALF_TURN, &mut Silent).unwrap();
        assert!((1.0 + eta.likely() - 1.5335).abs() < 5e-5);
    }

    #[test]
    fn closed_form_the_moving_lead_gains_one_undiminished_part() {
        for n in 1..8 {
            let k = 1.04;
            let fixed = advantage_fixed_lead(n, k).unwrap();
            let moving = advantage_moving_lead(n, k).unwrap();
            assert!((moving - fixed * k).abs() < 1e-12);
        }
    }
}
