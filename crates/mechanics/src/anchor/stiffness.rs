//! How stiff an anchor is: by the root plate where it has one, else by what it holds and how far it moves before it gives.

use super::capacity::{AnchorCapacity, AnchorMode};
use super::kind::constant;
use super::watch::{peak_rotation, stiffness_of_root_plate};
use crate::error::{MechanicsError, not_negative, positive};
use unmire_model::anchor::{Anchor, AnchorKind};
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Force, Length, Range};
use unmire_tables::anchor_stiffness as table;

/// Rows whose movement is a length, or a share of a depth.
fn row(key: &'static str) -> Result<&'static table::Row, MechanicsError> {
    table::ROWS.iter().find(|r| r.key == key).ok_or_else(|| MechanicsError::UnknownKey {
        table: "anchor stiffness",
        key: key.to_owned(),
        known: table::ROWS.iter().map(|r| r.key).collect(),
    })
}

/// How far an anchor of this kind moves before it gives, in metres, with the row that says so.
fn movement(kind: &AnchorKind) -> Result<(Range<f64>, &'static table::Row), MechanicsError> {
    let plain = |key| row(key).map(|r| (r.band(), r));
    match kind {
        AnchorKind::Deadman(d) => {
            // Nobody tells how dense the earth is that was shovelled back.
            let (dense, loose) = (row("earth_dense")?, row("earth_loose")?);
            let share = Range::hull(dense.low, 0.5 * (dense.high + loose.low), loose.high);
            let depth = d.depth.value.increasing(|l| l.as_m());
            positive("the depth of the buried face", depth.low(), "greater than zero, for example 1 m")?;
            Ok((share.combine(&depth, |s, d| s * d), loose))
        }
        AnchorKind::Pickets(_) => plain("pickets"),
        AnchorKind::Plates(_) => plain("plates"),
        AnchorKind::Boulder(_) => plain("boulder"),
        AnchorKind::RockBolts(_) => plain("rock_bolts"),
        AnchorKind::Tree(_) | AnchorKind::Stump(_) | AnchorKind::Made { .. } | AnchorKind::Other { .. } => {
            plain("unknown")
        }
    }
}

/// Stiffness from what something holds and how far it moves until then: low the secant of the weak one that moves far, likely
/// and high the steeper ones at a working load.
fn by_movement(
    ultimate: &Range<Force>,
    movement: &Range<f64>,
    of: &'static table::Row,
    rec: &mut impl Recorder,
) -> Result<Range<f64>, MechanicsError> {
    for f in ultimate.values() {
        positive("what the anchor holds", f.as_n(), "greater than zero, for example 40 kN")?;
    }
    let steeper = row("working_over_secant")?.band();
    let k = Range::hull(
        steeper.low() * ultimate.low().as_n() / movement.high(),
        steeper.likely() * ultimate.likely().as_n() / movement.likely(),
        steeper.high() * ultimate.high().as_n() / movement.low(),
    );
    rec.record(|| {
        let origin = || Origin::Table { table: "anchor_stiffness", row: of.key.to_owned(), source: of.source };
        Step::range(
            "stiffness of the anchor, N/m",
            "k",
            "k = c F_u / δ_u, weak with far and strong with near",
            &k,
            of.source,
        )
        .input_range("F_u", ultimate, Origin::Earlier)
        .input_range("c", &steeper, Origin::Constant("own-judgement"))
        .input("δ_u low", movement.low(), Dimension::Length, origin())
        .input("δ_u high", movement.high(), Dimension::Length, origin())
        .note(format!("how far it moves is known by: {}", of.how.words()))
    });
    Ok(k)
}

/// How far an anchor moves along a level pull at its attachment until it gives.
///
/// # Source
/// Trees and stumps: the rotation at which a root plate peaks, [`peak_rotation`] (`dundee-2025`, read), about the same centre as in
/// [`stiffness_of_root_plate`]. Others: table `anchor_stiffness`.
///
/// # Errors
/// If a measure is not in order or a table lacks a row.
pub fn movement_at_ultimate(anchor: &Anchor) -> Result<Range<Length>, MechanicsError> {
    if matches!(anchor.kind, AnchorKind::Tree(_) | AnchorKind::Stump(_)) {
        let height = anchor.attach_height.value.as_m();
        let lever = not_negative("the height of the attachment", height, "zero or more, for example 0.4 m")?;
        let lever = lever + constant("lever_offset")?;
        return Ok(peak_rotation()?.increasing(|turn| Length::from_m(lever * libm::tan(turn.as_rad()))));
    }
    movement(&anchor.kind).map(|(moves, _)| moves.increasing(Length::from_m))
}

/// How far a parked vehicle moves until its tyres slide.
///
/// # Source
/// Table `anchor_stiffness`, row `parked_vehicle` (own judgement).
///
/// # Errors
/// If the table lacks the row.
pub fn movement_parked() -> Result<Range<Length>, MechanicsError> {
    row("parked_vehicle").map(|r| r.band().increasing(Length::from_m))
}

/// How stiff an anchor is against a pull along the ground at its attachment, N per metre.
///
/// # Source
/// Trees and stumps: [`stiffness_of_root_plate`]. Others: table `anchor_stiffness`; `statics` for the quotient.
///
/// # Errors
/// If it is not known what it holds, or a number is not greater than zero.
///
/// # Assumes
/// The span from low to high is tenfold and more; nothing finer is known of an anchor that nobody has pulled.
pub fn stiffness(
    anchor: &Anchor,
    capacity: &AnchorCapacity,
    rec: &mut impl Recorder,
) -> Result<Range<f64>, MechanicsError> {
    let ultimate = capacity.ultimate.ok_or(MechanicsError::Missing {
        what: "what the anchor holds",
        help: "without it nobody can say how far it gives; pull it on proof and state what it held",
    })?;
    if matches!(anchor.kind, AnchorKind::Tree(_) | AnchorKind::Stump(_)) {
        // The plate gives even where the stem is what breaks first.
        let plate = capacity.ways.iter().find(|w| w.mode == AnchorMode::RootPlate);
        let plate = plate.map_or(ultimate, |w| w.holds);
        return stiffness_of_root_plate(&plate, anchor.attach_height.value, rec);
    }
    let (moves, of) = movement(&anchor.kind)?;
    by_movement(&ultimate, &moves, of, rec)
}

/// How stiff a parked vehicle is until its tyres slide, N per metre.
///
/// # Source
/// Table `anchor_stiffness`, row `parked_vehicle` (own judgement); `statics` for the quotient.
///
/// # Errors
/// If what it holds is not greater than zero at its low end.
pub fn stiffness_parked(holds: &Range<Force>, rec: &mut impl Recorder) -> Result<Range<f64>, MechanicsError> {
    let of = row("parked_vehicle")?;
    by_movement(holds, &of.band(), of, rec)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::anchor::Way;
    use unmire_model::anchor::{Deadman, DeadmanShape, Earth, Rooting, SoilGroup, Tree, TreeSigns};
    use unmire_model::trail::Input;
    use unmire_model::{Angle, Silent, Trail, Vec3};

    fn given<T>(v: T) -> Input<T> {
        Input::assumed(v, "test")
    }
    fn exact(m: f64) -> Range<Length> {
        Range::exact(Length::from_m(m)).unwrap()
    }
    fn anchor(kind: AnchorKind) -> Anchor {
        Anchor {
            id: "A1".into(),
            kind,
            position: Vec3::ZERO,
            uncertainty: Length::ZERO,
            attach_height: given(Length::from_m(0.5)),
            stated_capacity: None,
            tied_back: None,
            line: 0,
        }
    }
    fn holds(low: f64, likely: f64, high: f64) -> AnchorCapacity {
        let kn = Force::from_kn;
        let holds = Range::new(kn(low), kn(likely), kn(high)).unwrap();
        AnchorCapacity {
            stated: true,
            ..AnchorCapacity::weakest(vec![Way { mode: AnchorMode::Stated, holds }], vec![])
        }
    }
    fn deadman(depth: f64) -> AnchorKind {
        AnchorKind::Deadman(Deadman {
            shape: DeadmanShape::Wheel { diameter: given(exact(0.8)) },
            depth: given(exact(depth)),
            line_rise: given(Angle::from_deg(14.0)),
            earth: Earth { soil: given("unknown".into()), friction_angle: None, cohesion: None },
            own_strength: None,
        })
    }

    #[test]
    fn closed_form_a_buried_thing_moves_by_a_share_of_its_depth() {
        let (mut trail, c) = (Trail::default(), holds(20.0, 30.0, 40.0));
        let k = stiffness(&anchor(deadman(1.2)), &c, &mut trail).unwrap();
        assert_eq!(k, stiffness(&anchor(deadman(1.2)), &c, &mut Silent).unwrap());
        assert_eq!(trail.steps.len(), 1);
        // 2 to 10 per cent of 1.2 m, likely 4.5.
        assert!((k.low() - 20e3 / 0.12).abs() < 1e-6);
        assert!((k.likely() - 2.0 * 30e3 / 0.054).abs() < 1e-6);
        assert!((k.high() - 3.0 * 40e3 / 0.024).abs() < 1e-6);
    }

    #[test]
    fn closed_form_a_tree_is_as_stiff_as_its_root_plate() {
        let tree = AnchorKind::Tree(Tree {
            species: None,
            conifer: Some(true),
            diameter: given(exact(0.3)),
            height: None,
            soil: SoilGroup::Unknown,
            rooting: Rooting::Medium,
            signs: TreeSigns::default(),
        });
        let c = holds(20.0, 40.0, 60.0);
        let plate = stiffness_of_root_plate(&c.ultimate.unwrap(), Length::from_m(0.5), &mut Silent).unwrap();
        assert_eq!(stiffness(&anchor(tree), &c, &mut Silent).unwrap(), plate);
    }

    #[test]
    fn closed_form_a_tree_gives_where_its_root_plate_peaks() {
        let tree = |h: f64| Anchor {
            attach_height: given(Length::from_m(h)),
            ..anchor(AnchorKind::Tree(Tree {
                species: None,
                conifer: Some(true),
                diameter: given(exact(0.3)),
                height: None,
                soil: SoilGroup::Unknown,
                rooting: Rooting::Medium,
                signs: TreeSigns::default(),
            }))
        };
        // (0.5 + 1.0) m · tan 1.6° and tan 2.9°.
        let m = movement_at_ultimate(&tree(0.5)).unwrap();
        assert!((m.low().as_cm() - 4.19).abs() < 0.005 && (m.high().as_cm() - 7.60).abs() < 0.005, "{m:?}");
        assert!(movement_at_ultimate(&tree(-0.1)).is_err());
        assert!(movement_at_ultimate(&anchor(deadman(1.0))).unwrap().high() == Length::from_cm(10.0));
        assert!(movement_parked().unwrap().low() < movement_parked().unwrap().high());
    }

    #[test]
    fn closed_form_what_it_holds_must_be_known() {
        let kind = || AnchorKind::Made { what: "a ground frame".into() };
        let none = AnchorCapacity { ultimate: None, ..holds(1.0, 1.0, 1.0) };
        assert!(matches!(stiffness(&anchor(kind()), &none, &mut Silent), Err(MechanicsError::Missing { .. })));
        assert!(stiffness(&anchor(kind()), &holds(0.0, 1.0, 1.0), &mut Silent).is_err());
        assert!(stiffness(&anchor(deadman(0.0)), &holds(1.0, 1.0, 1.0), &mut Silent).is_err());
        let z = Range::exact(Force::ZERO).unwrap();
        assert!(stiffness_parked(&z, &mut Silent).is_err());
    }

    #[test]
    fn balance_every_range_is_in_order_and_tenfold() {
        for kind in [
            deadman(1.0),
            AnchorKind::Made { what: "a frame".into() },
            AnchorKind::Other { what: "a wall".into(), radius: None },
        ] {
            let k = stiffness(&anchor(kind), &holds(10.0, 15.0, 25.0), &mut Silent).unwrap();
            assert!(0.0 < k.low() && k.low() < k.likely() && k.likely() < k.high());
            assert!(k.high() > 10.0 * k.low());
        }
        let k = stiffness_parked(&holds(10.0, 15.0, 25.0).ultimate.unwrap(), &mut Silent).unwrap();
        assert!(k.high() > 10.0 * k.low());
    }
}
