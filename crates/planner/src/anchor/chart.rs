//! What an anchor would hold if the measure that matters most were another.

use super::Question;
use unmire_mechanics::MechanicsError;
use unmire_mechanics::anchor::{Pulled, capacity};
use unmire_model::anchor::{Anchor, AnchorKind, DeadmanShape};
use unmire_model::trail::Input;
use unmire_model::{Force, Length, Range, Silent};

/// Points of a chart: odd, so that the anchor itself stands on one of them.
const POINTS: u32 = 25;
/// From this share of its measure…
const FROM: f64 = 0.5;
/// …to this one.
const TO: f64 = 1.5;

/// What is varied.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// Diameter of a tree or a stump.
    Diameter,
    /// Depth of the middle of a deadman's face.
    Depth,
    /// How deep pickets are driven.
    Driven,
    /// Length over which a bolt's grout holds.
    Bond,
    /// Mass of a boulder by its size: half of its width.
    Size,
}
impl Axis {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Diameter => "diameter",
            Self::Depth => "depth of its middle",
            Self::Driven => "driven depth",
            Self::Bond => "bond length",
            Self::Size => "size, against this one",
        }
    }
}

/// Capacity against a measure.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// What is varied.
    pub axis: Axis,
    /// Measure and what it would hold, in rising order.
    pub points: Vec<(Length, Range<Force>)>,
    /// The measure of this anchor.
    pub here: Length,
}

/// The chart of an anchor; none where it has no measure to vary, or holds nothing that is known.
pub(super) fn of(q: &Question<'_>, pulled: &Pulled) -> Result<Option<Chart>, MechanicsError> {
    let Some((axis, here)) = measure(&q.anchor.kind) else { return Ok(None) };
    if q.anchor.stated_capacity.is_some() {
        return Ok(None);
    }
    let step = (TO - FROM) / f64::from(POINTS - 1);
    let mut points = Vec::with_capacity(POINTS as usize);
    for i in 0..POINTS {
        let k = FROM + step * f64::from(i);
        let Some(other) = scaled(q.anchor, k) else { return Ok(None) };
        // A measure that no model covers is left out of the picture.
        if let Ok(c) = capacity(&other, pulled, &mut Silent)
            && let Some(holds) = c.ultimate
        {
            points.push((here * k, holds));
        }
    }
    Ok((points.len() >= 3).then_some(Chart { axis, points, here }))
}

fn measure(kind: &AnchorKind) -> Option<(Axis, Length)> {
    Some(match kind {
        AnchorKind::Tree(t) => (Axis::Diameter, t.diameter.value.likely()),
        AnchorKind::Stump(s) => (Axis::Diameter, s.diameter.value.likely()),
        AnchorKind::Deadman(d) => (Axis::Depth, d.depth.value.likely()),
        AnchorKind::Pickets(p) => (Axis::Driven, p.driven.value.likely()),
        AnchorKind::RockBolts(b) => (Axis::Bond, b.bond.value.likely()),
        AnchorKind::Boulder(b) if b.mass.is_none() => (Axis::Size, b.size.as_ref()?[0].value.likely()),
        AnchorKind::Boulder(_) | AnchorKind::Plates(_) | AnchorKind::Made { .. } | AnchorKind::Other { .. } => {
            return None;
        }
    })
}

fn times(input: &Input<Range<Length>>, k: f64) -> Input<Range<Length>> {
    Input::new(input.value.increasing(|l| l * k), input.origin.clone())
}

/// The same anchor with its measure times k; a tree keeps its height.
fn scaled(anchor: &Anchor, k: f64) -> Option<Anchor> {
    let mut a = anchor.clone();
    match &mut a.kind {
        AnchorKind::Tree(t) => t.diameter = times(&t.diameter, k),
        AnchorKind::Stump(s) => s.diameter = times(&s.diameter, k),
        AnchorKind::Deadman(d) => {
            d.depth = times(&d.depth, k);
            // What is buried must stay under the ground.
            let face = match &d.shape {
                DeadmanShape::Log { diameter, .. } | DeadmanShape::Wheel { diameter } => diameter.value.high(),
                DeadmanShape::Beam { face, .. } => face.value.high(),
            };
            if d.depth.value.low() < face * 0.5 {
                return Some(a);
            }
        }
        AnchorKind::Pickets(p) => p.driven = times(&p.driven, k),
        AnchorKind::RockBolts(b) => b.bond = times(&b.bond, k),
        AnchorKind::Boulder(b) => {
            b.radius = b.radius * k;
            let size = b.size.as_mut()?;
            for side in size.iter_mut() {
                *side = times(side, k);
            }
        }
        AnchorKind::Plates(_) | AnchorKind::Made { .. } | AnchorKind::Other { .. } => return None,
    }
    Some(a)
}
