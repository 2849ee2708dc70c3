//! One place of the pull: the rig solved there, what its winch does, and which marks are up.

use super::path::Pose;
use unmire_mechanics::rig::Equilibrium;
use unmire_mechanics::winch::{Running, WinchAt};
use unmire_model::{Angle, Force, Range};

/// Marks that are up at a place; where one goes up or down is found to a millimetre or so.
pub(crate) mod mark {
    /// A leg of the line is as short as its fittings are long.
    pub(crate) const TWO_BLOCKING: u64 = 1;
    /// The line leaves the fairlead further from square than it may.
    pub(crate) const FAIRLEAD: u64 = 1 << 1;
    /// The puller can't do the work there.
    pub(crate) const WEAK: u64 = 1 << 2;
    /// A leg crosses what it must not.
    pub(crate) const RUBS: u64 = 1 << 3;
    /// Nothing needs to be pulled: the slope takes the vehicle.
    pub(crate) const NO_NEED: u64 = 1 << 4;
    /// Fewer turns on the drum than must stay, or more line off than there is.
    pub(crate) const LINE_OUT: u64 = 1 << 6;
    /// The motor may stop under this pull.
    pub(crate) const MAY_STALL: u64 = 1 << 7;
    /// First of the marks for slack slings; one for each of the first 24.
    pub(crate) const SLACK: u32 = 8;
    /// First of the marks for legs that open too wide; one for each of the first 24 grips.
    pub(crate) const WIDE: u32 = 32;
    /// Marks that end a stage.
    pub(crate) const STOPS: u64 = TWO_BLOCKING | WEAK | RUBS | LINE_OUT;
}

/// A place.
#[derive(Clone, Debug)]
pub(crate) struct Place {
    /// Metres of way.
    pub s: f64,
    /// Which stretch.
    pub leg: usize,
    /// Where the vehicle stands.
    pub pose: Pose,
    /// What must be overcome.
    pub need: Range<Force>,
    /// At work, sheaves at their worst; empty where nothing needs to be pulled.
    pub poor: Equilibrium,
    /// At work, sheaves at their best.
    pub good: Equilibrium,
    /// At stall; empty where nothing can stall or nobody knows at what.
    pub stall: Equilibrium,
    /// Length of the line from the puller to its end, metres, without what lengthens it.
    pub line: f64,
    /// Tension at the puller for the low, likely and high need.
    pub pull: Range<Force>,
    /// The winch with its line off there.
    pub winch: Option<WinchAt>,
    /// What the puller can give there, low end; no number if not known.
    pub ability: Force,
    /// What it draws and does; none if its rating is not known.
    pub running: Option<Running>,
    /// Angle of the line at the fairlead.
    pub fairlead: Option<Angle>,
    /// The marks that are up.
    pub marks: u64,
}

impl Default for Place {
    fn default() -> Self {
        let none = Range::hull(Force::ZERO, Force::ZERO, Force::ZERO);
        Self {
            s: 0.0,
            leg: 0,
            pose: Pose::default(),
            need: none,
            poor: Equilibrium::default(),
            good: Equilibrium::default(),
            stall: Equilibrium::default(),
            line: 0.0,
            pull: none,
            winch: None,
            ability: Force::ZERO,
            running: None,
            fairlead: None,
            marks: 0,
        }
    }
}

impl Place {
    /// Tension of a leg at work, the worse end of friction; nothing where nothing is pulled.
    pub fn leg_work(&self, i: usize) -> Force {
        let at = |e: &Equilibrium| e.legs.get(i).map_or(Force::ZERO, |l| l.tension);
        at(&self.poor).max(at(&self.good))
    }
    /// Tension of a sling at work.
    pub fn sling_work(&self, i: usize) -> Force {
        let at = |e: &Equilibrium| e.slings.get(i).map_or(Force::ZERO, |l| l.tension);
        at(&self.poor).max(at(&self.good))
    }
    /// The solution that shows where the points are: at work, else at stall.
    pub fn shape(&self) -> &Equilibrium {
        if self.poor.positions.is_empty() { &self.stall } else { &self.poor }
    }
    /// Whether the way from another place to this one must be cut finer: a mark changed, the layer did, or a tension changed by
    /// more than this share of the greatest.
    pub fn far_from(&self, other: &Self, share: f64) -> bool {
        let layer = |p: &Self| p.winch.and_then(|w| w.layer);
        if self.marks != other.marks || layer(self) != layer(other) {
            return true;
        }
        apart(&self.poor, &other.poor, share)
            || apart(&self.good, &other.good, share)
            || apart(&self.stall, &other.stall, share)
    }
}

/// Whether two solutions differ by more than a share of the greatest tension.
fn apart(a: &Equilibrium, b: &Equilibrium, share: f64) -> bool {
    if a.legs.len() != b.legs.len() {
        return true;
    }
    let legs = a.legs.iter().zip(&b.legs).map(|(x, y)| (x.tension.as_n(), y.tension.as_n()));
    let slings = a.slings.iter().zip(&b.slings).map(|(x, y)| (x.tension.as_n(), y.tension.as_n()));
    let (mut most, mut step) = (0.0_f64, 0.0_f64);
    for (x, y) in legs.chain(slings) {
        most = most.max(x).max(y);
        step = step.max((x - y).abs());
    }
    step > share * most
}
