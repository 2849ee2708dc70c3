//! Where an anchor stands, as a person says it (distance along the ground, direction, rise) and as the document keeps it.

use crate::document::{CaseText, EditError};
use unmire_model::quantity::text::read_one;
use unmire_model::{Angle, Length, Vec3};

/// A place seen from the middle of the stuck vehicle's wheelbase.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Polar {
    /// Along the ground, m.
    pub distance_m: f64,
    /// From the heading, left being positive, degrees.
    pub left_deg: f64,
    /// How much higher its ground is, m.
    pub rise_m: f64,
}
impl Polar {
    /// Of a point.
    #[must_use]
    pub fn of(p: Vec3) -> Self {
        Self {
            distance_m: libm::sqrt(p.x * p.x + p.y * p.y + p.z * p.z),
            left_deg: Angle::from_rad(libm::atan2(p.y, p.x)).as_deg(),
            rise_m: p.z,
        }
    }
    /// The point.
    #[must_use]
    pub fn point(self) -> Vec3 {
        let level = libm::sqrt((self.distance_m * self.distance_m - self.rise_m * self.rise_m).max(0.0));
        Vec3::new(level, 0.0, 0.0).turned(Angle::from_deg(self.left_deg)) + Vec3::UP * self.rise_m
    }
    /// As it is written into a case: to the centimetre and a tenth of a degree, never nearer than it is higher or lower.
    #[must_use]
    pub fn kept(self) -> Self {
        let cm = |m: f64| libm::round(m * 100.0) / 100.0;
        let rise = cm(self.rise_m);
        let left = libm::round(self.left_deg * 10.0) / 10.0;
        Self { distance_m: cm(self.distance_m).max(rise.abs()), left_deg: left, rise_m: rise }
    }
    /// The direction as a case file has it.
    #[must_use]
    pub fn direction(self) -> String {
        direction(self.left_deg)
    }
    /// Moved by so much; it never comes nearer than its rise allows, and a turn stays within half a turn to each side.
    #[must_use]
    pub fn moved(self, distance_m: f64, left_deg: f64, rise_m: f64) -> Self {
        let rise = self.rise_m + rise_m;
        let turned = self.left_deg + left_deg;
        let left = if turned > 180.0 { turned - 360.0 } else { turned };
        let left = if left <= -180.0 { left + 360.0 } else { left };
        Self { distance_m: (self.distance_m + distance_m).max(rise.abs()).max(0.0), left_deg: left, rise_m: rise }
    }
}

/// A direction as a case file has it, to a tenth of a degree.
#[must_use]
pub fn direction(left_deg: f64) -> String {
    let tenths = libm::round(left_deg * 10.0) / 10.0;
    if tenths.abs() < 0.05 {
        "ahead".to_owned()
    } else if tenths > 0.0 {
        format!("{tenths} deg left")
    } else {
        format!("{} deg right", -tenths)
    }
}

fn metres(m: f64) -> String {
    let cm = libm::round(m * 100.0) / 100.0;
    format!("{} m", if cm == 0.0 { 0.0 } else { cm })
}

/// Keys by which an anchor or a helper may be placed.
const PLACING: [&str; 9] = ["position", "distance", "paces", "pace", "bearing", "direction", "toward", "rise", "from"];

/// What a table calls the direction in which it lies: a helper has a heading of its own.
#[must_use]
pub fn direction_key(table: &str) -> &'static str {
    if table.starts_with("helper") { "toward" } else { "direction" }
}

/// Places an anchor or a helper of the document, such as `anchor[0]`, whatever way it was placed before. Its uncertainty
/// stays: a finger on a drawing measures nothing.
///
/// # Errors
/// If there is no such table.
pub fn put(case: &mut CaseText, table: &str, at: Polar) -> Result<(), EditError> {
    let path = |key: &str| format!("{table}.{key}");
    let at = at.kept();
    let direction = direction_key(table);
    // Those that stay are changed where they stand.
    for key in PLACING.into_iter().filter(|k| !matches!(*k, "distance" | "rise") && *k != direction) {
        case.remove(&path(key));
    }
    case.set(&path("distance"), metres(at.distance_m))?;
    case.set(&path(direction), at.direction())?;
    case.set(&path("rise"), metres(at.rise_m))
}

/// Puts what somebody wrote as a distance: a length, or a number of paces. `now` is where the anchor stands, if anybody
/// could tell.
///
/// # Errors
/// If there is no such anchor.
pub fn put_distance(case: &mut CaseText, table: &str, now: Option<Polar>, text: &str) -> Result<(), EditError> {
    polar_first(case, table, now)?;
    let path = |key: &str| format!("{table}.{key}");
    let text = text.trim();
    let lower = text.to_ascii_lowercase();
    let paces = lower.strip_suffix("paces").or_else(|| lower.strip_suffix("pace")).map(str::trim);
    match paces.and_then(|n| read_one::<f64>(n).ok()) {
        Some(n) => {
            case.remove(&path("distance"));
            case.set(&path("paces"), n)?;
            let pace = case.get(&path("pace")).or_else(|| case.get("survey.pace"));
            let pace = match pace {
                Some(pace) => pace,
                None => {
                    // As the questions do it: an ordinary pace.
                    case.set(&path("pace"), "0.75 m")?;
                    "0.75 m".to_owned()
                }
            };
            // A helper is not said to be off: nothing hangs on half a metre of it.
            if direction_key(table) == "toward" {
                return Ok(());
            }
            // And as there, paces are off by 15 %.
            let pace = read_one::<Length>(&pace).map_or(0.75, |l| l.as_m());
            case.set(&path("uncertainty"), metres((0.15 * n * pace).clamp(0.5, 20.0)))
        }
        None => {
            case.remove(&path("paces"));
            case.remove(&path("pace"));
            case.set(&path("distance"), text)
        }
    }
}

/// Puts what somebody wrote as a direction: to a side of the heading, or a compass bearing.
///
/// # Errors
/// If there is no such anchor.
pub fn put_direction(case: &mut CaseText, table: &str, now: Option<Polar>, text: &str) -> Result<(), EditError> {
    polar_first(case, table, now)?;
    let path = |key: &str| format!("{table}.{key}");
    let text = text.trim();
    let bearing =
        text.chars().next().is_some_and(|c| c.is_ascii_digit()) && !text.ends_with("left") && !text.ends_with("right");
    let direction = direction_key(table);
    let (key, other) = if bearing { ("bearing", direction) } else { (direction, "bearing") };
    case.remove(&path(other));
    case.set(&path(key), text)
}

/// Puts what somebody wrote as a rise.
///
/// # Errors
/// If there is no such anchor.
pub fn put_rise(case: &mut CaseText, table: &str, now: Option<Polar>, text: &str) -> Result<(), EditError> {
    polar_first(case, table, now)?;
    case.set(&format!("{table}.rise"), text.trim())
}

/// An anchor that stands by coordinates is placed by distance, direction and rise before one of these is written; and
/// what was measured from elsewhere is turned into what is seen from the middle.
fn polar_first(case: &mut CaseText, table: &str, now: Option<Polar>) -> Result<(), EditError> {
    let path = |key: &str| format!("{table}.{key}");
    match now {
        Some(now) if case.has(&path("position")) || case.has(&path("from")) => put(case, table, now),
        _ => Ok(()),
    }
}

/// Adds an anchor of a kind ahead of the vehicle and gives its number. What only somebody there can tell is left out,
/// and the reader says so.
///
/// # Errors
/// If the document has something else where its anchors should stand.
pub fn add(case: &mut CaseText, kind: &str) -> Result<usize, EditError> {
    let taken: Vec<String> = (0..case.count("anchor")).filter_map(|i| case.get(&format!("anchor[{i}].id"))).collect();
    let stem = kind.replace(' ', "-");
    let id = (1..).map(|n| format!("{stem}-{n}")).find(|id| !taken.contains(id)).unwrap_or(stem);
    let i = case.append("anchor")?;
    case.set(&format!("anchor[{i}].id"), id)?;
    case.set(&format!("anchor[{i}].kind"), kind)?;
    put(case, &format!("anchor[{i}]"), Polar { distance_m: 15.0, left_deg: 0.0, rise_m: 0.0 })?;
    case.set(&format!("anchor[{i}].uncertainty"), "1 m")?;
    case.assume(&format!("anchor[{i}].attach_height"), "0.4 m", "not measured")?;
    if matches!(kind, "tree" | "stump") {
        case.assume(&format!("anchor[{i}].diameter"), "15 cm .. 25 cm .. 40 cm", "nobody measured it")?;
    }
    Ok(i)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine;
    use unmire_casefile::Document;
    use unmire_model::case::Case;

    fn case(text: &str) -> Case {
        match engine::read(text, &crate::examples::kits()).unwrap() {
            Document::Case(c) => *c,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn closed_form_polar_and_back() {
        for p in [Vec3::new(21.0, 4.0, 1.0), Vec3::new(-3.0, 0.0, 0.0), Vec3::new(2.0, -9.0, -3.0)] {
            assert!((Polar::of(p).point() - p).norm() < 1e-9);
        }
        assert_eq!(
            (direction(0.04), direction(20.04), direction(-5.0)),
            ("ahead".into(), "20 deg left".into(), "5 deg right".into())
        );
        let turned = Polar { distance_m: 5.0, left_deg: 178.0, rise_m: 0.0 }.moved(0.0, 5.0, 0.0);
        assert_eq!(turned.left_deg, -177.0);
        assert_eq!(Polar { distance_m: 1.0, left_deg: 0.0, rise_m: 0.5 }.moved(-9.0, 0.0, 0.5).distance_m, 1.0);
    }
    #[test]
    fn regress_every_anchor_of_every_example_can_be_moved_and_stays_where_it_is_put() {
        let mut moved = 0;
        for example in crate::examples::cases().iter().filter(|c| !c.is_bare()) {
            let mut text = CaseText::parse(example.text).unwrap();
            for i in 0..text.count("anchor") {
                let before = case(&text.text()).anchors[i].clone();
                let at = Polar::of(before.position).moved(0.5, 5.0, 0.25).kept();
                put(&mut text, &format!("anchor[{i}]"), at).unwrap();
                let after = case(&text.text()).anchors[i].clone();
                assert!((after.position - at.point()).norm() < 1e-9, "{}: {i}: {:?}", example.file, after.position);
                assert_eq!((after.uncertainty, &after.id), (before.uncertainty, &before.id));
                assert_eq!(after.kind.radius(), before.kind.radius());
                moved += 1;
            }
        }
        assert!(moved > 5, "{moved}");
    }
    #[test]
    fn regress_what_is_typed_is_kept_as_it_was_typed() {
        let example = crate::examples::cases().into_iter().find(|c| c.file == "wheel-deep-mud.toml").unwrap();
        let mut text = CaseText::parse(example.text).unwrap();
        let now = |text: &CaseText| Some(Polar::of(case(&text.text()).anchors[0].position));
        let before = now(&text);
        put_distance(&mut text, "anchor[0]", before, "60 ft").unwrap();
        assert_eq!(text.get("anchor[0].distance").as_deref(), Some("60 ft"));
        let before = now(&text);
        put_direction(&mut text, "anchor[0]", before, "12 deg right").unwrap();
        let before = now(&text);
        put_rise(&mut text, "anchor[0]", before, "-1 m").unwrap();
        let at = Polar::of(case(&text.text()).anchors[0].position);
        assert!(
            (at.distance_m - 18.288).abs() < 1e-6 && (at.left_deg + 12.0).abs() < 1e-6 && at.rise_m == -1.0,
            "{at:?}"
        );
        let before = now(&text);
        put_distance(&mut text, "anchor[0]", before, "20 paces").unwrap();
        let anchor = case(&text.text()).anchors[0].clone();
        assert!(!text.has("anchor[0].distance") && anchor.uncertainty.as_m() > 1.5);
        // What is wrong goes in as it is; the reader says what is wrong with it.
        let before = now(&text);
        put_distance(&mut text, "anchor[0]", before, "far").unwrap();
        let found = engine::read(&text.text(), &crate::examples::kits()).unwrap_err();
        let told = crate::document::complaints(&text.text(), &found);
        assert!(told.iter().any(|c| c.path == "anchor[0].distance"), "{told:?}");
    }
    #[test]
    fn regress_an_anchor_of_every_kind_can_be_added_and_what_it_lacks_is_told_at_its_own_keys() {
        let example = crate::examples::cases().into_iter().find(|c| c.file == "wheel-deep-mud.toml").unwrap();
        for kind in unmire_casefile::keys::anchor::ANCHOR_KINDS {
            let mut text = CaseText::parse(example.text).unwrap();
            let i = add(&mut text, kind).unwrap();
            let found = engine::read(&text.text(), &crate::examples::kits()).err().unwrap_or_default();
            let told = crate::document::complaints(&text.text(), &found);
            assert!(told.iter().all(|c| c.path.starts_with(&format!("anchor[{i}]"))), "{kind}: {told:?}");
            if matches!(*kind, "tree" | "stump") {
                assert!(told.is_empty(), "{kind}: {told:?}");
            }
        }
    }
}
