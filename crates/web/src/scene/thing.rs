//! What can be taken hold of on the drawing, where it is, and what becomes of the case and of the rig when it is elsewhere.

use super::place::{self, Polar};
use crate::document::{CaseText, EditError, Raw};
use unmire_model::Vec3;
use unmire_model::case::Case;
use unmire_model::layout::{Hold, Layout};

/// Something on the drawing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Thing {
    /// The stuck vehicle: all else keeps its place on the ground.
    Vehicle,
    /// A helper's vehicle, by its name.
    Helper(String),
    /// An obstacle, by its id.
    Obstacle(String),
    /// A block, by the station of the line at which it turns it, from zero. It hangs at an anchor.
    Block(usize),
    /// An anchor, by its id.
    Anchor(String),
}

/// Something under the finger, and where that is: for the vehicle how far it has come.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// What.
    pub thing: Thing,
    /// The place.
    pub to: Vec3,
}

/// To the centimetre, as it is written.
fn cm(v: Vec3) -> Vec3 {
    let round = |m: f64| libm::round(m * 100.0) / 100.0;
    Vec3::new(round(v.x), round(v.y), round(v.z))
}

/// The middle of an outline.
fn middle(outline: &[Vec3]) -> Vec3 {
    let n = outline.len().max(1) as f64;
    outline.iter().fold(Vec3::ZERO, |m, p| m + *p * (1.0 / n))
}

impl Thing {
    /// Where it is. The vehicle is where all is measured from; a block is where the rig puts it.
    #[must_use]
    pub fn place(&self, case: &Case) -> Option<Vec3> {
        match self {
            Self::Vehicle => Some(Vec3::ZERO),
            Self::Helper(name) => case.helpers.iter().find(|h| h.vehicle.name == *name).map(|h| h.position),
            Self::Obstacle(id) => case.obstacles.iter().find(|o| o.id == *id).map(|o| middle(&o.outline)),
            Self::Block(_) => None,
            Self::Anchor(id) => case.anchor(id).map(|a| a.position),
        }
    }
}

impl Moved {
    /// How far the vehicle comes with it.
    #[must_use]
    pub fn come(&self) -> Vec3 {
        if self.thing == Thing::Vehicle { self.to } else { Vec3::ZERO }
    }
    /// As it would be written.
    #[must_use]
    pub fn kept(self) -> Self {
        let to = match self.thing {
            Thing::Helper(_) | Thing::Anchor(_) => Polar::of(self.to).kept().point(),
            Thing::Vehicle | Thing::Obstacle(_) | Thing::Block(_) => cm(self.to),
        };
        Self { to, ..self }
    }
    /// Puts it there in a case, and a block in a layout, if there is one.
    pub fn apply(&self, case: &mut Case, layout: Option<&mut Layout>) {
        match &self.thing {
            Thing::Vehicle => {
                let shifted = |p: Vec3| Polar::of(p - self.to).kept().point();
                case.anchors.iter_mut().for_each(|a| a.position = shifted(a.position));
                case.helpers.iter_mut().for_each(|h| h.position = shifted(h.position));
                case.obstacles.iter_mut().flat_map(|o| &mut o.outline).for_each(|p| *p = cm(*p - self.to));
            }
            Thing::Helper(name) => {
                case.helpers.iter_mut().filter(|h| h.vehicle.name == *name).for_each(|h| h.position = self.to);
            }
            Thing::Obstacle(id) => {
                for o in case.obstacles.iter_mut().filter(|o| o.id == *id) {
                    let by = self.to - middle(&o.outline);
                    o.outline.iter_mut().for_each(|p| *p = cm(*p + by));
                }
            }
            Thing::Anchor(id) => {
                case.anchors.iter_mut().filter(|a| a.id == *id).for_each(|a| a.position = self.to);
            }
            Thing::Block(station) => {
                if let Some(layout) = layout
                    && let Some(id) = nearest(case, layout, *station, self.to)
                {
                    hang(layout, *station, &id);
                }
            }
        }
    }
    /// Writes it into the text of a case that was read from it. A block stands in a rig; see [`hang`].
    ///
    /// # Errors
    /// If there is no such thing in the text.
    pub fn write(&self, case: &Case, text: &mut CaseText) -> Result<(), EditError> {
        match &self.thing {
            Thing::Vehicle => {
                for a in &case.anchors {
                    put(text, "anchor", "id", &a.id, a.position - self.to)?;
                }
                for h in &case.helpers {
                    put(text, "helper", "name", &h.vehicle.name, h.position - self.to)?;
                }
                for o in &case.obstacles {
                    outline(text, &o.id, o.outline.iter().map(|p| *p - self.to))?;
                }
                Ok(())
            }
            Thing::Helper(name) => put(text, "helper", "name", name, self.to),
            Thing::Anchor(id) => put(text, "anchor", "id", id, self.to),
            Thing::Obstacle(id) => {
                let Some(o) = case.obstacles.iter().find(|o| o.id == *id) else { return Ok(()) };
                let by = self.to - middle(&o.outline);
                outline(text, id, o.outline.iter().map(|p| *p + by))
            }
            Thing::Block(_) => Ok(()),
        }
    }
}

/// The number of the table in a list of tables in which a key has a value.
#[must_use]
pub fn index_of(text: &CaseText, table: &str, key: &str, value: &str) -> Option<usize> {
    (0..text.count(table)).find(|i| text.get(&format!("{table}[{i}].{key}")).as_deref() == Some(value))
}

fn put(text: &mut CaseText, table: &str, key: &str, value: &str, at: Vec3) -> Result<(), EditError> {
    let i = index_of(text, table, key, value).ok_or_else(|| EditError::NoPlace(format!("{table} {value}")))?;
    place::put(text, &format!("{table}[{i}]"), Polar::of(at))
}

fn outline(text: &mut CaseText, id: &str, corners: impl Iterator<Item = Vec3>) -> Result<(), EditError> {
    let i = index_of(text, "obstacle", "id", id).ok_or_else(|| EditError::NoPlace(format!("obstacle {id}")))?;
    let one = |p: Vec3| {
        let p = cm(p);
        // Adding zero makes no minus of a zero.
        let flat = [p.x + 0.0, p.y + 0.0];
        if p.z == 0.0 { flat.into_iter().collect::<Raw>() } else { flat.into_iter().chain([p.z]).collect() }
    };
    text.set(&format!("obstacle[{i}].outline"), corners.map(one).collect::<Raw>())
}

/// The anchor at which a block hangs that hangs at one.
#[must_use]
pub fn hangs_at(layout: &Layout, station: usize) -> Option<&str> {
    let s = layout.stations.get(station).filter(|s| s.block.is_some())?;
    match &s.hold {
        Hold::Anchors(legs) => match legs.as_slice() {
            [one] => Some(&one.anchor),
            _ => None,
        },
        _ => None,
    }
}
/// Hangs the block of a station at another anchor, with what held it.
pub fn hang(layout: &mut Layout, station: usize, anchor: &str) {
    if let Some(Hold::Anchors(legs)) = layout.stations.get_mut(station).map(|s| &mut s.hold)
        && let [one] = legs.as_mut_slice()
    {
        anchor.clone_into(&mut one.anchor);
    }
}
/// The anchor that is nearest to a place, seen from above.
fn nearest(case: &Case, layout: &Layout, station: usize, at: Vec3) -> Option<String> {
    hangs_at(layout, station)?;
    let far = |p: Vec3| (p - at).level().norm();
    let near = case.anchors.iter().min_by(|a, b| far(a.position).total_cmp(&far(b.position)))?;
    Some(near.id.clone())
}

/// Adds a helper's vehicle beside the way and gives its number. What nobody told is assumed, and says so; no hook goes on
/// it before its points are told.
///
/// # Errors
/// If the document has something else where helpers should stand.
pub fn add_helper(text: &mut CaseText) -> Result<usize, EditError> {
    let name = free(text, "helper", "name");
    let i = text.append("helper")?;
    let path = |key: &str| format!("helper[{i}].{key}");
    text.set(&path("name"), name)?;
    for (key, value, why) in [
        ("mass", "1.2 t .. 2.2 t .. 3.5 t", "nobody said"),
        ("wheelbase", "2.7 m", "not asked"),
        ("track", "1.4 m", "not asked; narrow rolls over sooner"),
        ("cg_height", "0.5 m .. 0.8 m .. 1.2 m", "not asked"),
    ] {
        text.assume(&path(key), value, why)?;
    }
    text.set(&path("heading"), "ahead")?;
    place::put(text, &format!("helper[{i}]"), Polar { distance_m: 12.0, left_deg: 15.0, rise_m: 0.0 })?;
    text.assume(&path("slope"), "0 deg nose up", "not measured")?;
    text.assume(&path("braked_share"), "40 % .. 100 %", "nobody said")?;
    text.set(&path("can_tow"), false)?;
    let p = text.append(&path("point"))?;
    let point = |key: &str| format!("helper[{i}].point[{p}].{key}");
    text.set(&point("id"), "front")?;
    text.set(&point("kind"), "unidentified")?;
    text.set(&point("position"), [2.0, 0.0, 0.5].into_iter().collect::<Raw>())?;
    text.set(&point("label"), "missing")?;
    Ok(i)
}
/// Adds an obstacle, an area to the right of the way, and gives its number.
///
/// # Errors
/// If the document has something else where obstacles should stand.
pub fn add_obstacle(text: &mut CaseText, what: &str) -> Result<usize, EditError> {
    let id = free(text, "obstacle", "id");
    let i = text.append("obstacle")?;
    let path = |key: &str| format!("obstacle[{i}].{key}");
    text.set(&path("id"), id)?;
    text.set(&path("what"), what)?;
    text.set(&path("bars"), "lines")?;
    let corner = |x: i64, y: i64| [x, y].into_iter().collect::<Raw>();
    text.set(
        &path("outline"),
        [corner(6, -4), corner(10, -4), corner(10, -7), corner(6, -7)].into_iter().collect::<Raw>(),
    )?;
    Ok(i)
}
/// A name that is not taken.
fn free(text: &CaseText, table: &str, key: &str) -> String {
    let taken: Vec<String> = (0..text.count(table)).filter_map(|i| text.get(&format!("{table}[{i}].{key}"))).collect();
    (1..).map(|n| format!("{table}-{n}")).find(|id| !taken.contains(id)).unwrap_or_default()
}

/// Corners as somebody types them: pairs of metres ahead and to the left, a semicolon between.
#[must_use]
pub fn corners_text(outline: &[Vec3]) -> String {
    outline.iter().map(|p| format!("{}, {}", p.x, p.y)).collect::<Vec<_>>().join("; ")
}
/// The same for the document. What is no number is put as it was written, so that the reader of cases can say what is wrong.
#[must_use]
pub fn corners(text: &str) -> Raw {
    let number = |part: &str| -> Raw {
        let part = part.trim();
        match part.parse::<f64>() {
            Ok(n) => n.into(),
            Err(_) => part.into(),
        }
    };
    let corner = |pair: &str| pair.split(',').map(number).collect::<Raw>();
    text.split(';').filter(|p| !p.trim().is_empty()).map(corner).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::read;

    fn example(file: &str) -> (CaseText, Case) {
        let e = crate::examples::cases().into_iter().find(|c| c.file == file).unwrap();
        (CaseText::parse(e.text).unwrap(), read(e.text, &crate::examples::kits()).unwrap())
    }
    fn again(text: &CaseText) -> Case {
        let found = crate::engine::read(&text.text(), &crate::examples::kits());
        match found.unwrap_or_else(|e| panic!("{e:#?}\n{}", text.text())) {
            unmire_casefile::Document::Case(c) => *c,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn regress_what_is_written_is_what_was_seen_for_everything_that_moves() {
        let mut moved = 0;
        for e in crate::examples::cases().iter().filter(|c| !c.is_bare()) {
            let (text, case) = example(e.file);
            let things = [Thing::Vehicle]
                .into_iter()
                .chain(case.anchors.iter().map(|a| Thing::Anchor(a.id.clone())))
                .chain(case.helpers.iter().map(|h| Thing::Helper(h.vehicle.name.clone())))
                .chain(case.obstacles.iter().map(|o| Thing::Obstacle(o.id.clone())));
            for thing in things {
                let to = thing.place(&case).unwrap() + Vec3::new(1.234, -0.567, 0.0);
                let m = Moved { thing, to }.kept();
                let (mut seen, mut text) = (case.clone(), text.clone());
                m.apply(&mut seen, None);
                m.write(&case, &mut text).unwrap();
                let written = again(&text);
                let near = |a: Vec3, b: Vec3| (a - b).norm() < 1e-9;
                assert!(written.anchors.iter().zip(&seen.anchors).all(|(a, b)| near(a.position, b.position)), "{m:?}");
                assert!(written.helpers.iter().zip(&seen.helpers).all(|(a, b)| near(a.position, b.position)), "{m:?}");
                let corners = |c: &Case| c.obstacles.iter().flat_map(|o| o.outline.clone()).collect::<Vec<_>>();
                assert!(corners(&written).iter().zip(&corners(&seen)).all(|(a, b)| near(*a, *b)), "{m:?}");
                moved += 1;
            }
        }
        assert!(moved > 15, "{moved}");
    }
    #[test]
    fn regress_a_vehicle_that_moves_leaves_the_ground_where_it_was() {
        let (_, case) = example("wheel-deep-mud.toml");
        let mut seen = case.clone();
        let by = Vec3::new(2.0, 1.0, 0.0);
        Moved { thing: Thing::Vehicle, to: by }.apply(&mut seen, None);
        for (a, b) in case.anchors.iter().zip(&seen.anchors) {
            assert!((a.position - by - b.position).norm() < 0.05);
        }
    }
    #[test]
    fn regress_a_block_hangs_at_the_anchor_that_is_nearest() {
        let (mut text, _) = example("check-double-line.toml");
        let second = place::add(&mut text, "tree").unwrap();
        place::put(&mut text, &format!("anchor[{second}]"), Polar { distance_m: 12.0, left_deg: 30.0, rise_m: 0.0 })
            .unwrap();
        let mut case = again(&text);
        let mut rig = case.rig.clone().unwrap();
        assert_eq!(hangs_at(&rig, 0), Some("oak"));
        assert_eq!(hangs_at(&rig, 1), None);
        let at = case.anchors[second].position + Vec3::new(0.5, 0.5, 3.0);
        Moved { thing: Thing::Block(0), to: at }.apply(&mut case, Some(&mut rig));
        assert_eq!(hangs_at(&rig, 0), Some("tree-1"));
    }
    #[test]
    fn regress_helpers_and_obstacles_can_be_added_to_every_case() {
        for e in crate::examples::cases().iter().filter(|c| !c.is_bare()) {
            let (mut text, before) = example(e.file);
            add_helper(&mut text).unwrap();
            add_obstacle(&mut text, "a ditch").unwrap();
            add_obstacle(&mut text, "a ditch").unwrap();
            let case = again(&text);
            assert_eq!(case.helpers.len(), before.helpers.len() + 1);
            assert_eq!(case.obstacles.len(), before.obstacles.len() + 2);
        }
    }
    #[test]
    fn regress_corners_are_typed_as_pairs() {
        let (mut text, _) = example("wet-grass.toml");
        let i = add_obstacle(&mut text, "a ditch").unwrap();
        let path = format!("obstacle[{i}].outline");
        text.set(&path, corners("1, 2; 3.5,-4 ; 5, 6;")).unwrap();
        let outline = again(&text).obstacles[i].outline.clone();
        assert_eq!(corners_text(&outline), "1, 2; 3.5, -4; 5, 6");
        text.set(&path, corners("1, two; 3, 4")).unwrap();
        let found = crate::engine::read(&text.text(), &crate::examples::kits()).unwrap_err();
        let told = crate::document::complaints(&text.text(), &found);
        assert!(told.iter().any(|c| c.path.starts_with(&path) && !c.example.is_empty()), "{told:?}");
    }
}
