//! What the search asks again and again, worked out once a case: what pieces and anchors can take, which detectors
//! there are, how a strap stretches.

use core::ops::Deref;
use std::borrow::Cow;
use std::cell::OnceCell;
use std::rc::Rc;
use unmire_audit::facts::Detectors;
use unmire_audit::policy::Policy;
use unmire_audit::strength::{GearClass, Strength, label_strength, piece_strength};
use unmire_mechanics::anchor::{AnchorCapacity, Pulled, capacity, stiffness as anchor_stiffness};
use unmire_mechanics::rope;
use unmire_model::anchor::{Anchor, AnchorKind};
use unmire_model::case::Case;
use unmire_model::gear::{Label, Material, Piece, PieceKind, StrapUse};
use unmire_model::{Angle, Force, Range, Silent, Vec3};

/// A case with everything that does not depend on the rig.
pub struct Context<'a> {
    /// The case.
    pub case: &'a Case,
    /// The policy that judges.
    pub policy: &'a Policy,
    /// What follows from them.
    known: Rc<Known>,
    /// A kinetic rope at its peak: its place in the kit, and force ÷ strain there.
    secant: Option<(usize, Range<Force>)>,
}

/// What follows from a case wherever its anchors, helpers and obstacles stand.
pub struct Known {
    /// Way out, along the ground at its likely grade.
    pub way_out: Vec3,
    /// What each piece of the kit can take, by its place in the kit.
    strengths: Vec<Strength>,
    /// Stiffness of each strap or rope of the kit.
    stiffness: Vec<Option<Range<Force>>>,
    /// What each anchor can take, by its place in the case: worked out when somebody asks, once.
    anchors: Vec<OnceCell<AnchorCapacity>>,
    /// Places in the kit of the pieces that hold something back and so are nowhere else.
    tied: Vec<usize>,
    /// Whether wet gear is to be reckoned with.
    pub wet: bool,
    /// What can notice a stop load.
    pub detectors: Detectors,
}

impl Deref for Context<'_> {
    type Target = Known;
    fn deref(&self) -> &Known {
        &self.known
    }
}

impl Known {
    fn of(case: &Case, wet: bool) -> Self {
        let strengths: Vec<_> = case.kit.iter().map(|p| wetted(p, piece_strength(p), wet)).collect();
        let stiffness = case.kit.iter().zip(&strengths).map(|(p, s)| stiffness_of(p, s)).collect();
        let usable = |wanted: fn(&PieceKind) -> bool| {
            let fits = |p: &&Piece| wanted(&p.kind) && crate::choices::usable(p);
            case.kit.iter().find(fits).map(|p| p.id.clone())
        };
        let detectors = Detectors {
            load_cell: case
                .kit
                .iter()
                .find(|p| {
                    matches!(p.kind, PieceKind::LoadCell) && crate::choices::usable(p) && p.label.rating().is_some()
                })
                .map(|p| p.id.clone()),
            current: usable(|k| matches!(k, PieceKind::CurrentMeter)).is_some(),
            tilt_meter: usable(|k| matches!(k, PieceKind::TiltMeter)),
            movement_marker: usable(|k| matches!(k, PieceKind::MovementMarker)),
        };
        Self {
            tied: case.kit.iter().enumerate().filter(|(_, p)| holds_back(case, &p.id)).map(|(i, _)| i).collect(),
            way_out: case.way_out_direction(case.way_out.grade.value.likely()),
            strengths,
            stiffness,
            anchors: vec![OnceCell::new(); case.anchors.len()],
            wet,
            detectors,
        }
    }
}

impl<'a> Context<'a> {
    /// Works it all out.
    #[must_use]
    pub fn of(case: &'a Case, policy: &'a Policy) -> Self {
        Self::with_gear(case, policy, gear_is_wet(case))
    }
    /// The same where nobody can read a load cell.
    #[must_use]
    pub(crate) fn without_load_cell(case: &'a Case, policy: &'a Policy) -> Self {
        let mut known = Known::of(case, gear_is_wet(case));
        known.detectors.load_cell = None;
        Self::moved(case, policy, Rc::new(known))
    }
    /// The same where the gear is known to be wet, or dry: what was in the mire stays wet on the meadow behind it.
    #[must_use]
    pub fn with_gear(case: &'a Case, policy: &'a Policy, wet: bool) -> Self {
        Self::moved(case, policy, Rc::new(Known::of(case, wet)))
    }
    /// The case again with anchors, helpers or obstacles elsewhere, and nothing else changed.
    #[must_use]
    pub fn moved(case: &'a Case, policy: &'a Policy, known: Rc<Known>) -> Self {
        Self { case, policy, known, secant: None }
    }
    /// What can be taken over when things are moved.
    #[must_use]
    pub fn known(&self) -> Rc<Known> {
        self.known.clone()
    }
    /// The same with a kinetic rope stretched as far as a pull stretches it: force ÷ strain there, by its softest, likely and stiffest.
    #[must_use]
    pub(crate) fn stretched(mut self, piece: &Piece, secant: Range<Force>) -> Self {
        self.secant = Some((self.place(piece), secant));
        self
    }
    /// Force ÷ strain of a piece that a kinetic pull stretches.
    #[must_use]
    pub(crate) fn secant(&self, piece: &Piece) -> Option<Range<Force>> {
        self.secant.filter(|(place, _)| *place == self.place(piece)).map(|(_, ea)| ea)
    }
    /// Place of a piece in the kit.
    #[must_use]
    pub fn place(&self, piece: &Piece) -> usize {
        // Pieces are borrowed from the kit; an id is unique there.
        let same = |p: &Piece| core::ptr::eq(p, piece);
        let found = self.case.kit.iter().position(same);
        found.or_else(|| self.case.kit.iter().position(|p| p.id == piece.id)).unwrap_or(usize::MAX)
    }
    /// What a piece can take in a straight pull.
    #[must_use]
    pub fn strength(&self, piece: &Piece) -> Strength {
        self.strengths.get(self.place(piece)).copied().unwrap_or_else(|| wetted(piece, piece_strength(piece), self.wet))
    }
    /// Stiffness of a strap or rope in a straight pull.
    #[must_use]
    pub fn stiffness(&self, piece: &Piece) -> Option<Force> {
        self.stiffness_range(piece).map(|r| r.likely())
    }
    /// The same as a range.
    #[must_use]
    pub fn stiffness_range(&self, piece: &Piece) -> Option<Range<Force>> {
        self.stiffness.get(self.place(piece)).copied().flatten()
    }
    /// How far an anchor gives, N/m; none where nobody knows what it holds.
    #[must_use]
    pub fn anchor_stiffness(&self, anchor: &Anchor) -> Option<Range<f64>> {
        anchor_stiffness(anchor, self.level(anchor)?, &mut Silent).ok()
    }
    /// Whether a piece, by its place in the kit, already holds an anchor or a vehicle back.
    #[must_use]
    pub fn holds_back(&self, place: usize) -> bool {
        self.tied.contains(&place)
    }
    /// What an anchor can take from a line that rises so far above the level at it.
    #[must_use]
    pub fn anchor(&self, anchor: &Anchor, rise: Angle) -> Option<Cow<'_, AnchorCapacity>> {
        // Only these are reckoned with the rise of the line; the others are worked out once a case.
        let rises = matches!(anchor.kind, AnchorKind::Boulder(_) | AnchorKind::Pickets(_) | AnchorKind::Deadman(_));
        if rises && anchor.stated_capacity.is_none() && rise != Angle::ZERO {
            return Some(Cow::Owned(anchor_capacity(anchor, &self.pulled(rise))));
        }
        self.level(anchor).map(Cow::Borrowed)
    }
    /// What an anchor of the case can take from a line along the level.
    fn level(&self, anchor: &Anchor) -> Option<&AnchorCapacity> {
        let i = self.case.anchors.iter().position(|a| core::ptr::eq(a, anchor))?;
        Some(self.anchors.get(i)?.get_or_init(|| anchor_capacity(anchor, &self.pulled(Angle::ZERO))))
    }
    /// A pull by a line that rises so far, on the ground of this case.
    #[must_use]
    pub fn pulled(&self, rise: Angle) -> Pulled {
        Pulled { saturated: self.case.ground.saturated, rise }
    }
    /// What a label on a vehicle can take: a point, a mount, a line.
    #[must_use]
    pub fn label(&self, label: &Label, class: GearClass) -> Strength {
        label_strength(label, class)
    }
}

/// What an anchor can take; what can't be reckoned is unknown, with the reason.
fn anchor_capacity(anchor: &Anchor, pulled: &Pulled) -> AnchorCapacity {
    capacity(anchor, pulled, &mut Silent)
        .unwrap_or_else(|e| AnchorCapacity::unknown(e.to_string(), Vec::new(), Vec::new()))
}

/// What lies in the mire or on sodden ground is wet.
pub(crate) fn gear_is_wet(case: &Case) -> bool {
    case.ground.saturated || case.stuck.depth.value != unmire_model::ground::Depth::NotMired
}

/// Wet nylon is weaker.
pub(crate) fn wetted(piece: &Piece, strength: Strength, wet: bool) -> Strength {
    let (material, stretching) = match &piece.kind {
        PieceKind::Strap(s) => (s.material, &s.stretching),
        PieceKind::Rope(r) => (r.material, &r.stretching),
        _ => return strength,
    };
    let wet = stretching.wet.unwrap_or(wet);
    let k = rope::wet_factor(material, wet);
    Strength { breaking: strength.breaking.map(|f| f * k), working: strength.working.map(|f| f * k), ..strength }
}

/// Whether the case says that a piece holds an anchor or a helper back.
fn holds_back(case: &Case, id: &str) -> bool {
    let anchors = case.anchors.iter().filter_map(|a| a.tied_back.as_ref());
    let helpers = case.helpers.iter().filter_map(|h| h.backed_by.as_ref());
    anchors.chain(helpers).any(|t| t.with == id)
}

/// Stiffness of a strap or rope from its breaking strength.
fn stiffness_of(piece: &Piece, strength: &Strength) -> Option<Range<Force>> {
    let (material, made_for): (Material, Option<StrapUse>) = match &piece.kind {
        PieceKind::Strap(s) => (s.material, Some(s.made_for)),
        PieceKind::Rope(r) => (r.material, None),
        _ => return None,
    };
    rope::stiffness(material, made_for, strength.breaking?, None, &mut Silent).ok()
}
