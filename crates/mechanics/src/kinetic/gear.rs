//! Which gear may be snatched on, and what it does: rows of the tables, or the label alone, as a range.

use super::law::{KineticRope, Law, MOST_POINTS, Points, Unloading};
use super::range::At;
use crate::error::{MechanicsError, between, positive};
use crate::rope::wet_factor;
use core::fmt;
use unmire_model::gear::{Condition, Material, Piece, PieceKind, RatingKind, StrapUse};
use unmire_model::kinetic::{Elongation, RopeState};
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Energy, Force, Length, Range};
use unmire_tables::{generated as g, row};

/// Gear that stretches less than this at its rating is static. Source key `common-practice`.
pub const STATIC_UNDER: f64 = 0.05;

/// Why a piece is not taken for a kinetic pull, or what about it is unknown: unknown never passes.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Unfit {
    /// It is no rope or strap.
    NotALine,
    /// Chain: next to no stretch, and steel that flies.
    Chain,
    /// Wire rope: next to no stretch, and steel that flies.
    Wire,
    /// Rope of high-modulus fibre, as on winches: about 2 % at its breaking strength.
    WinchLine,
    /// A strap for another use.
    StaticStrap(StrapUse),
    /// It stretches too little at its rating.
    LowStretch {
        /// What it stretches, as a fraction.
        stretch: f64,
    },
    /// A rope that is not said to be made for kinetic pulls.
    NotMadeForIt,
    /// The material is not known, or no table has a law for it.
    UnknownLaw(Material),
    /// Its breaking strength is not known.
    UnknownStrength,
    /// It was rejected at the look before use.
    Rejected {
        /// What was found.
        reason: String,
    },
    /// A kinetic rope as the extension of a winch line, its energy not accounted for.
    EnergyNotAccounted,
    /// A figure of it is not in order.
    Fault(MechanicsError),
}
impl Unfit {
    /// A stable code.
    ///
    /// # Source
    /// None: naming.
    #[must_use]
    pub const fn code(&self) -> &'static str {
        match self {
            Self::NotALine => "kinetic-not-a-line",
            Self::Chain => "kinetic-chain",
            Self::Wire => "kinetic-wire",
            Self::WinchLine => "kinetic-winch-line",
            Self::StaticStrap(_) => "kinetic-static-strap",
            Self::LowStretch { .. } => "kinetic-low-stretch",
            Self::NotMadeForIt => "kinetic-not-made-for-it",
            Self::UnknownLaw(_) => "kinetic-unknown-law",
            Self::UnknownStrength => "kinetic-unknown-strength",
            Self::Rejected { .. } => "kinetic-rejected",
            Self::EnergyNotAccounted => "kinetic-energy-not-accounted",
            Self::Fault(_) => "kinetic-fault",
        }
    }
    /// Whether it is ruled out, or merely not known enough.
    ///
    /// # Source
    /// None: sorting.
    #[must_use]
    pub const fn is_unknown(&self) -> bool {
        matches!(self, Self::UnknownLaw(Material::Unknown) | Self::UnknownStrength)
    }
}
impl fmt::Display for Unfit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotALine => write!(f, "it is no rope or strap"),
            Self::Chain => {
                write!(f, "chain does not stretch: a run-up makes a peak that no label covers, and steel flies")
            }
            Self::Wire => {
                write!(f, "wire rope hardly stretches: a run-up makes a peak that no label covers, and steel flies")
            }
            Self::WinchLine => {
                write!(f, "high-modulus rope stretches about 2 % before it breaks: it is for steady pulls only")
            }
            Self::StaticStrap(_) => write!(f, "this strap is made for steady pulls, not for a run-up"),
            // Rounded up: nothing that is refused may read as if it just passed.
            Self::LowStretch { stretch } => {
                write!(f, "it stretches {:.1} %; under 5 % counts as static gear", (stretch * 1000.0).floor() / 10.0)
            }
            Self::NotMadeForIt => write!(f, "it is not said to be made for kinetic pulls"),
            Self::UnknownLaw(Material::Unknown) => write!(f, "its material is not known, so its stretch is not"),
            Self::UnknownLaw(_) => write!(f, "no figures for kinetic ropes of this material were found"),
            Self::UnknownStrength => write!(f, "its breaking strength is not known"),
            Self::Rejected { reason } => write!(f, "it is out of use: {reason}"),
            Self::EnergyNotAccounted => write!(
                f,
                "a stretching rope in a winch line stores energy that the rig was reckoned without; take a static one"
            ),
            Self::Fault(e) => write!(f, "{e}"),
        }
    }
}

/// A rope as a range: how soft or stiff it may be, how much it may lose on its way back, how early it may break.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RopeRange {
    /// Slack length between the vehicles.
    pub length: Range<Length>,
    /// The softest loading law: the most stretch at every force.
    pub soft: Law,
    /// The likely one.
    pub likely: Law,
    /// The stiffest: the least stretch at every force.
    pub stiff: Law,
    /// Way back that loses least; none: no loss at all.
    pub least_loss: Option<Unloading>,
    /// Likely way back.
    pub likely_loss: Option<Unloading>,
    /// Way back that loses most.
    pub most_loss: Option<Unloading>,
    /// Viscous term, N·s/m.
    pub viscous: f64,
    /// Least force at which it breaks, all reductions made; none: not judged.
    pub breaking: Option<Force>,
    /// Whether laws and losses are our own judgement and nobody's measurement of this rope.
    pub assumed: bool,
}
impl RopeRange {
    /// A rope that is known exactly.
    ///
    /// # Source
    /// None: a constructor.
    #[must_use]
    pub fn exact(rope: &KineticRope) -> Self {
        Self {
            length: Range::hull(rope.length, rope.length, rope.length),
            soft: rope.law,
            likely: rope.law,
            stiff: rope.law,
            least_loss: rope.unloading,
            likely_loss: rope.unloading,
            most_loss: rope.unloading,
            viscous: rope.viscous,
            breaking: rope.breaking,
            assumed: false,
        }
    }
    /// One rope of the range: how stiff and short, and how lossy. It never parts: other parts may see what the rope bears beyond its
    /// label. The caller compares.
    pub(super) fn at(&self, stiff: At, loses: At) -> KineticRope {
        let (length, law) = match stiff {
            At::Low => (self.length.high(), self.soft),
            At::Likely => (self.length.likely(), self.likely),
            At::High => (self.length.low(), self.stiff),
        };
        let unloading = match loses {
            At::Low => self.least_loss,
            At::Likely => self.likely_loss,
            At::High => self.most_loss,
        };
        KineticRope { length, law, unloading, viscous: self.viscous, breaking: None }
    }
    /// Energy that this rope holds at a tension, as a range: the softest law holds most. All of it may come out at once.
    ///
    /// # Source
    /// `dynamics`: area under the loading law; laws from table `kinetic_law`.
    ///
    /// # Errors
    /// If the force is negative or a law never reaches it.
    pub fn energy_at(&self, tension: Force) -> Result<Range<Energy>, MechanicsError> {
        let of = |r: KineticRope| r.energy_at(r.stretch_at(tension)?);
        let at = |a| of(self.at(a, At::Low));
        Ok(Range::hull(at(At::High)?, at(At::Likely)?, at(At::Low)?))
    }
    /// Faults of the three laws, and whether they are in order: soft, likely, stiff.
    pub(super) fn checked(&self) -> Result<(), MechanicsError> {
        let ropes = [self.at(At::Low, At::High), self.at(At::Likely, At::Likely), self.at(At::High, At::Low)];
        for rope in &ropes {
            rope.checked()?;
        }
        for kn in [1.0, 5.0, 20.0, 50.0, 100.0] {
            let at = |r: &KineticRope| r.stretch_at(Force::from_kn(kn)).map(Length::as_m);
            if let (Ok(a), Ok(b), Ok(c)) = (at(&ropes[0]), at(&ropes[1]), at(&ropes[2]))
                && !(a >= b * (1.0 - 1e-9) && b >= c * (1.0 - 1e-9))
            {
                return Err(MechanicsError::BadInput {
                    what: "the stretch of the soft, likely and stiff rope",
                    got: b,
                    expected: "the soft one to stretch most at every force, the stiff one least",
                });
            }
        }
        Ok(())
    }
}

/// Whether a piece may be used for a kinetic pull: nylon ropes and straps that are made for it, of known strength, not rejected.
///
/// # Source
/// `common-practice` for the line at 5 %; `4wd-victoria-guide` pp. 51-53 (read): kinetic straps only, never tow straps.
///
/// # Errors
/// [`Unfit`]: why not, or what is not known.
pub fn fit_for_kinetic(piece: &Piece) -> Result<(), Unfit> {
    if let Condition::Reject { reason } = &piece.condition {
        return Err(Unfit::Rejected { reason: reason.clone() });
    }
    let (material, made_for_it) = match &piece.kind {
        PieceKind::Strap(s) => {
            if s.made_for != StrapUse::Kinetic {
                return Err(Unfit::StaticStrap(s.made_for));
            }
            if let Some(stretch) = s.stretch
                && !(stretch >= STATIC_UNDER)
            {
                return Err(Unfit::LowStretch { stretch });
            }
            (s.material, true)
        }
        PieceKind::Rope(r) => (r.material, r.kinetic),
        _ => return Err(Unfit::NotALine),
    };
    match material {
        Material::Chain => return Err(Unfit::Chain),
        Material::SteelWire => return Err(Unfit::Wire),
        Material::Hmpe => return Err(Unfit::WinchLine),
        Material::Nylon | Material::Polyester | Material::Polypropylene | Material::Unknown => {}
    }
    if !made_for_it {
        return Err(Unfit::NotMadeForIt);
    }
    if material != Material::Nylon {
        return Err(Unfit::UnknownLaw(material));
    }
    if let Some(last) = measured(piece).last() {
        let stretch = at_breaking(last.stretch, last.at).map_err(Unfit::Fault)?;
        if !(stretch >= STATIC_UNDER) {
            return Err(Unfit::LowStretch { stretch });
        }
    }
    breaking_strength(piece).map(|_| ())
}

/// The stretches of a piece that somebody measured.
fn measured(piece: &Piece) -> &[Elongation] {
    match &piece.kind {
        PieceKind::Strap(s) => &s.stretching.elongation,
        PieceKind::Rope(r) => &r.stretching.elongation,
        _ => &[],
    }
}

/// Whether a piece may lengthen a winch line: not if it is kinetic gear, unless the energy that it stores is in the reckoning.
///
/// # Source
/// `4wd-victoria-guide`, `common-practice`: stretching gear is not for winching.
///
/// # Errors
/// [`Unfit::EnergyNotAccounted`].
pub fn fit_as_winch_extension(piece: &Piece, accounted: Option<Energy>) -> Result<(), Unfit> {
    let kinetic = match &piece.kind {
        PieceKind::Strap(s) => s.made_for == StrapUse::Kinetic,
        PieceKind::Rope(r) => r.kinetic,
        _ => false,
    };
    if kinetic && !accounted.is_some_and(|e| e.is_finite() && e > Energy::ZERO) {
        return Err(Unfit::EnergyNotAccounted);
    }
    Ok(())
}

/// The breaking strength of a label; a number whose kind is not stated counts as one.
fn breaking_strength(piece: &Piece) -> Result<Force, Unfit> {
    let rating = piece.label.rating().ok_or(Unfit::UnknownStrength)?;
    let force = match (rating.kind, rating.design_factor) {
        (RatingKind::Breaking | RatingKind::Unstated, _) => rating.force,
        (RatingKind::Working, Some(k)) => rating.force * k,
        (RatingKind::Working, None) => return Err(Unfit::UnknownStrength),
    };
    positive("the breaking strength", force.as_n(), "greater than zero").map(Force::from_n).map_err(Unfit::Fault)
}

/// A law and its way back by the keys of their rows.
fn law(strength: Force, strain: f64, r: &g::kinetic_law::Row) -> Law {
    Law::Polynomial { strength, strain, c: [r.c1, r.c2, r.c3] }
}

/// A way back by the key of its row.
fn unloading(key: &str) -> Option<Unloading> {
    let r = row(g::kinetic_unloading::ROWS, key)?;
    Some(Unloading { residual: r.residual?, exponent: r.exponent? })
}

/// What is known of a nylon rope or strap from its breaking strength alone, as a range: the loading law by what it went through.
/// A stretch at the breaking strength that the label states takes the place of the softer half of the band; use stiffens it all
/// the same.
///
/// # Source
/// Tables `kinetic_law` and `kinetic_unloading`, `own-judgement` between published ends; wet nylon: `ufc-4-159-03`, read.
///
/// # Errors
/// If strength, length or stretch are not in order.
///
/// # Assumes
/// The shape of the law is the same for every nylon rope. Water takes strength and is given no credit for softness.
pub fn rope_range(
    strength: Force,
    length: &Range<Length>,
    state: RopeState,
    stated_stretch: Option<f64>,
    wet: bool,
    rec: &mut impl Recorder,
) -> Result<RopeRange, MechanicsError> {
    let b = positive("the breaking strength", strength.as_n(), "greater than zero, for example 130 kN")?;
    let r = row(g::kinetic_law::ROWS, state.key()).ok_or_else(|| MechanicsError::UnknownKey {
        table: "kinetic laws",
        key: state.key().to_owned(),
        known: g::kinetic_law::ROWS.iter().map(|r| r.key).collect(),
    })?;
    let strain = match stated_stretch {
        None => Range::hull(r.low, r.likely, r.high),
        Some(s) => {
            let s = between(
                "the stretch at the breaking strength",
                s,
                STATIC_UNDER,
                1.0,
                "5 % to 100 %, for example 30 %",
            )?;
            Range::hull(s * (r.low / r.likely), s, s)
        }
    };
    let breaking = strength * wet_factor(Material::Nylon, wet);
    rec.record(|| {
        Step::range("strain of the rope at its breaking strength", "ε_b", "ε_b by what the rope went through", &strain, "kinetic_law")
            .note("the loading law is T = MBS (c₁u + c₂u² + c₃u³), u = ε/ε_b: an assumption between published stiffnesses that differ tenfold")
            .note("a stiffer rope makes a higher peak: the high end of the peak takes the low end of this strain")
    });
    rec.record(|| {
        Step::new(
            "force at which the rope may part",
            "T_b",
            "T_b = MBS · w",
            breaking.as_n(),
            Dimension::Force,
            "ufc-4-159-03",
        )
        .input("MBS", b, Dimension::Force, Origin::Earlier)
        .input("w", wet_factor(Material::Nylon, wet), Dimension::Ratio, Origin::Constant("ufc-4-159-03"))
    });
    Ok(RopeRange {
        length: *length,
        soft: law(strength, strain.high(), r),
        likely: law(strength, strain.likely(), r),
        stiff: law(strength, strain.low(), r),
        least_loss: unloading("least"),
        likely_loss: unloading("likely"),
        most_loss: unloading("most"),
        viscous: 0.0,
        breaking: Some(breaking),
        assumed: true,
    })
}

/// [`rope_range`] for a piece of the kit, from its label. Measured stretches take the place of the softer half of the band, point by
/// point; use stiffens the rope all the same.
///
/// # Source
/// Tables `kinetic_law` and `kinetic_unloading`, as [`rope_range`]; the label, and what the case says was measured.
///
/// # Errors
/// [`Unfit`], as [`fit_for_kinetic`]; or a figure that is not in order.
pub fn rope_of_piece(piece: &Piece, state: RopeState, wet: bool, rec: &mut impl Recorder) -> Result<RopeRange, Unfit> {
    fit_for_kinetic(piece)?;
    let strength = breaking_strength(piece)?;
    let (length, stretch) = match &piece.kind {
        PieceKind::Strap(s) => (s.length, s.stretch),
        PieceKind::Rope(r) => (r.length, None),
        _ => return Err(Unfit::NotALine),
    };
    // A stretch at a working load limit is carried up to the breaking strength along the law.
    let stated = match (stretch, piece.label.rating()) {
        (Some(s), Some(r)) => Some(at_breaking(s, r.force / strength).map_err(Unfit::Fault)?),
        _ => None,
    };
    let mut rope =
        rope_range(strength, &Range::hull(length, length, length), state, stated, wet, rec).map_err(Unfit::Fault)?;
    let points = measured(piece);
    if !points.is_empty() {
        // Use stiffens a rope by as much as in the band of its state.
        let stiffer = row(g::kinetic_law::ROWS, state.key()).map_or(1.0, |r| r.low / r.likely);
        rope.soft = by_points(points, strength, 1.0).map_err(Unfit::Fault)?;
        rope.likely = rope.soft;
        rope.stiff = by_points(points, strength, stiffer).map_err(Unfit::Fault)?;
        rope.assumed = false;
        rec.record(|| {
            let last = points.last().map_or(f64::NAN, |p| p.stretch);
            Step::new(
                "stretch at the last measured point",
                "ε",
                "measured; straight lines between points",
                last,
                Dimension::Ratio,
                "common-practice",
            )
            .input("stiffer by use", stiffer, Dimension::Ratio, Origin::Constant("own-judgement"))
            .note("the loading law of the likely and of the softest rope goes through the measured points")
        });
    }
    Ok(rope)
}

/// The law through measured points, its strains multiplied by a factor.
fn by_points(points: &[Elongation], strength: Force, factor: f64) -> Result<Law, MechanicsError> {
    let mut at = [(0.0, Force::ZERO); MOST_POINTS];
    let n = points.len();
    if n > MOST_POINTS {
        return Err(MechanicsError::BadInput {
            what: "the measured stretches",
            #[allow(clippy::cast_precision_loss)]
            got: n as f64,
            expected: "at most 12",
        });
    }
    for (slot, p) in at.iter_mut().zip(points) {
        *slot = (p.stretch * factor, strength * p.at);
    }
    Points::new(at.get(..n).unwrap_or_default()).map(Law::Measured)
}

/// Strain at the breaking strength from the strain at a share of it, along the shape of the law.
fn at_breaking(stretch: f64, share: f64) -> Result<f64, MechanicsError> {
    if share >= 1.0 {
        return Ok(stretch);
    }
    let r = row(g::kinetic_law::ROWS, "worked")
        .ok_or(MechanicsError::Missing { what: "the shape of the loading law", help: "mend table kinetic_law" })?;
    let one = KineticRope {
        length: Length::from_m(1.0),
        law: law(Force::from_n(1.0), 1.0, r),
        unloading: None,
        viscous: 0.0,
        breaking: None,
    };
    let u = one.stretch_at(Force::from_n(positive("rating ÷ breaking strength", share, "greater than zero")?))?.as_m();
    Ok(stretch / u)
}

/// A published rope or strap of table `kinetic_rope` as a range: its own strength and, where the row has it, its own stretch.
///
/// # Source
/// Table `kinetic_rope`; each row has its own.
///
/// # Errors
/// If the key is in no row, or the row has no strength.
pub fn rope_by_key(
    key: &str,
    length: &Range<Length>,
    state: RopeState,
    wet: bool,
    rec: &mut impl Recorder,
) -> Result<RopeRange, MechanicsError> {
    let r = row(g::kinetic_rope::ROWS, key).ok_or_else(|| MechanicsError::UnknownKey {
        table: "kinetic ropes",
        key: key.to_owned(),
        known: g::kinetic_rope::ROWS.iter().map(|r| r.key).collect(),
    })?;
    let strength = r.strength.ok_or(MechanicsError::Missing {
        what: "the breaking strength of this rope",
        help: "take it from the label: that row tells of the stretch alone",
    })?;
    let mut rope = rope_range(strength, length, state, None, wet, rec)?;
    if let (Some(share), Some(low), Some(high)) = (r.share, r.stretch_low, r.stretch_high) {
        // The row widens the band of the state, and the likely value moves into what the row tells.
        let (low, high) = (at_breaking(low, share)?, at_breaking(high, share)?);
        if let Law::Polynomial { strain, .. } = &mut rope.stiff {
            *strain = strain.min(low);
        }
        if let Law::Polynomial { strain, .. } = &mut rope.soft {
            *strain = strain.max(high);
        }
        if let Law::Polynomial { strain, .. } = &mut rope.likely {
            *strain = strain.clamp(low.min(high), high.max(low));
        }
    }
    Ok(rope)
}
