//! A rig on the page: where its lines, marks and numbers are on the drawing, and the table of its tensions.

use super::draw::Spot;
use super::view::View;
use crate::engine::Units;
use crate::units;
use core::fmt::Write as _;
use unmire_planner::report::{PlanLeg, PlanPoint};

/// A number on the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Number {
    /// Where.
    pub at: Spot,
    /// Whether its middle is there, and not its beginning.
    pub middle: bool,
    /// The number with its unit.
    pub text: String,
}

/// From one place to another.
pub type Line = (Spot, Spot);

/// A rig as a few shapes, in the drawing's units.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rig {
    /// Legs of the line.
    pub legs: Vec<Line>,
    /// Slings.
    pub slings: Vec<Line>,
    /// Blocks and junctions.
    pub blocks: Vec<Spot>,
    /// All other points but anchors.
    pub points: Vec<Spot>,
    /// The tensions of the long legs.
    pub numbers: Vec<Number>,
}

/// Radius of a block's mark.
pub const BLOCK: f64 = 5.0;
/// Half the side of the mark of another point.
pub const POINT: f64 = 3.0;

/// Lines as the data of a path.
#[must_use]
pub fn path(lines: &[Line]) -> String {
    lines.iter().map(|(a, b)| format!("M{:.1} {:.1}L{:.1} {:.1}", a.0, a.1, b.0, b.1)).collect()
}

impl Rig {
    /// The legs of a rig with their tensions, where they settle.
    #[must_use]
    pub fn of(view: &View, all: &[PlanPoint], legs: &[PlanLeg], reader: Units) -> Self {
        let at = |name: &str| all.iter().find(|p| p.name == name).map(|p| view.spot(p.at));
        let mut out = Self::default();
        for leg in legs {
            let (Some(a), Some(b)) = (at(&leg.from), at(&leg.to)) else { continue };
            if leg.member == "line" { &mut out.legs } else { &mut out.slings }.push((a, b));
            // Short pieces have no room for a number; the table has them all.
            if libm::hypot(a.0 - b.0, a.1 - b.1) > 44.0 {
                // Beside a leg that runs up the page, above one that runs across it.
                let steep = (a.1 - b.1).abs() > (a.0 - b.0).abs();
                let (right, up) = if steep { (8.0, -5.0) } else { (0.0, 3.0) };
                let (x, mut y) = (0.5 * (a.0 + b.0) + right, 0.5 * (a.1 + b.1) - up);
                while out.numbers.iter().any(|n| (n.at.0 - x).abs() < 60.0 && (n.at.1 - y).abs() < 15.0) {
                    y += 15.0;
                }
                let text = units::load(reader, Some(leg.tension_work.as_n()));
                out.numbers.push(Number { at: (x, y), middle: !steep, text });
            }
        }
        for p in all {
            match p.kind.as_str() {
                "anchor" => {}
                "block" | "junction" => out.blocks.push(view.spot(p.at)),
                _ => out.points.push(view.spot(p.at)),
            }
        }
        out
    }
    /// The marks as the data of a path.
    #[must_use]
    pub fn marks(&self) -> String {
        let (r, d) = (BLOCK, 2.0 * BLOCK);
        let mut out = String::new();
        for (x, y) in &self.blocks {
            let _ = write!(out, "M{:.1} {y:.1}a{r} {r} 0 1 0 {d} 0a{r} {r} 0 1 0 -{d} 0z", x - r);
        }
        let (r, d) = (POINT, 2.0 * POINT);
        for (x, y) in &self.points {
            let _ = write!(out, "M{:.1} {:.1}h{d}v{d}h-{d}z", x - r, y - r);
        }
        out
    }
}

/// A row of the table of tensions.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// From where to where.
    pub leg: String,
    /// At work.
    pub work: String,
    /// At stall.
    pub stall: String,
}
/// The rows of the table of tensions.
#[must_use]
pub fn rows(legs: &[PlanLeg], reader: Units) -> Vec<Row> {
    let row = |l: &PlanLeg| Row {
        leg: format!("{} → {}", l.from, l.to),
        work: units::load(reader, Some(l.tension_work.as_n())),
        stall: units::load(reader, l.tension_stall.map(unmire_model::Force::as_n)),
    };
    legs.iter().map(row).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::{Angle, Force, Length, Vec3};
    use unmire_planner::report::Site;

    #[test]
    fn regress_a_rig_is_drawn_where_it_settles_its_long_legs_have_numbers_and_every_leg_a_row() {
        let site = Site {
            way_out: Angle::from_deg(10.0),
            way_out_distance: Length::from_m(8.0),
            vehicles: vec![("it".into(), vec![(2.0, 1.0), (2.0, -1.0), (-2.0, -1.0), (-2.0, 1.0)])],
            ..Site::default()
        };
        let view = View::of(&site, None);
        let point = |name: &str, kind: &str, x: f64| PlanPoint {
            name: name.into(),
            kind: kind.into(),
            at: Vec3::new(x, 0.0, 0.0),
        };
        let leg = PlanLeg {
            member: "line".into(),
            from: "a".into(),
            to: "<b>".into(),
            length: Length::from_m(9.0),
            tension_work: Force::from_n(12_341.0),
            tension_stall: None,
        };
        let all = [point("a", "fairlead", 0.0), point("<b>", "block", 8.0), point("c", "anchor", 9.0)];
        let legs = [leg];
        let drawn = Rig::of(&view, &all, &legs, Units::Metric);
        let (from, to) = (view.spot(Vec3::ZERO), view.spot(Vec3::new(8.0, 0.0, 0.0)));
        assert_eq!((drawn.legs.as_slice(), drawn.slings.len()), ([(from, to)].as_slice(), 0), "{drawn:?}");
        assert_eq!((drawn.points.as_slice(), drawn.blocks.as_slice()), ([from].as_slice(), [to].as_slice()));
        assert!(path(&drawn.legs).starts_with(&format!("M{:.1} {:.1}L", from.0, from.1)));
        assert_eq!(drawn.marks().matches('z').count(), 2);
        assert_eq!(drawn.numbers.iter().map(|n| n.text.as_str()).collect::<Vec<_>>(), ["12.4 kN"]);
        assert_eq!(Rig::default().marks(), "");
        let rows = rows(&legs, Units::Metric);
        assert_eq!((rows[0].leg.as_str(), rows[0].work.as_str(), rows[0].stall.as_str()), ("a → <b>", "12.4 kN", "–"));
    }
}
