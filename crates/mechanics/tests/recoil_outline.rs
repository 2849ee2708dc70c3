//! One outline of all discs: every disc lies inside, nothing that is far lies inside, and more discs never leave less ground.

use proptest::prelude::*;
use unmire_mechanics::recoil::{Disc, inside, keep_out_radius, outline_of};
use unmire_model::{Length, Silent, Vec3};

fn discs() -> impl Strategy<Value = Vec<Disc>> {
    let disc = (-60.0..60.0_f64, -60.0..60.0_f64, 0.5..45.0_f64)
        .prop_map(|(x, y, r)| Disc { at: Vec3::new(x, y, 1.0), radius: Length::from_m(r) });
    prop::collection::vec(disc, 1..9)
}
/// As a rig has them: one radius, middles within it.
fn rig() -> impl Strategy<Value = Vec<Disc>> {
    (10.0..80.0_f64, prop::collection::vec((0.0..1.0_f64, 0.0..1.0_f64), 2..9)).prop_map(|(r, at)| {
        at.iter().map(|(x, y)| Disc { at: Vec3::new(x * r, y * r / 2.0, 0.5), radius: Length::from_m(r) }).collect()
    })
}
fn held(rings: &[Vec<(f64, f64)>], p: (f64, f64)) -> bool {
    rings.iter().any(|r| inside(r, p))
}
fn apart(d: &Disc, p: (f64, f64)) -> f64 {
    libm::hypot(d.at.x - p.0, d.at.y - p.1)
}
fn holds_every_disc(all: &[Disc]) -> Result<(), TestCaseError> {
    let o = outline_of(all);
    prop_assert!(!o.rings.is_empty());
    for d in all {
        for k in 0..90 {
            let a = f64::from(k) * 0.07;
            for share in [0.0, 0.5, 0.999, 1.0 - 1e-7] {
                let r = d.radius.as_m() * share;
                let p = (d.at.x + r * libm::cos(a), d.at.y + r * libm::sin(a));
                prop_assert!(held(&o.rings, p), "{p:?} of {d:?} is outside, joined {}", o.joined);
            }
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, ..ProptestConfig::default() })]

    #[test]
    fn closed_form_every_disc_lies_inside(all in discs()) {
        holds_every_disc(&all)?;
    }

    #[test]
    fn closed_form_every_disc_of_a_rig_lies_inside_one_ring(all in rig()) {
        holds_every_disc(&all)?;
        let o = outline_of(&all);
        prop_assert!(o.joined);
        prop_assert_eq!(o.rings.len(), 1);
    }

    /// What lies further than a step of the drawing beyond every disc is outside, unless it is enclosed.
    #[test]
    fn closed_form_nothing_is_taken_that_is_far(all in rig(), x in -200.0..200.0_f64, y in -200.0..200.0_f64) {
        let o = outline_of(&all);
        let far = all.iter().all(|d| apart(d, (x, y)) > d.radius.as_m() * 1.0025);
        // Discs whose middles all lie within each other enclose nothing.
        if far {
            prop_assert!(!held(&o.rings, (x, y)));
        }
    }

    #[test]
    fn closed_form_one_disc_more_never_leaves_less(all in rig(), x in 0.0..60.0_f64, y in 0.0..60.0_f64, r in 1.0..60.0_f64) {
        let before = outline_of(&all);
        let mut more = all.clone();
        more.push(Disc { at: Vec3::new(x, y, 0.0), radius: Length::from_m(r) });
        let after = outline_of(&more);
        for d in &all {
            for k in 0..40 {
                let a = f64::from(k) * 0.16;
                let p = (d.at.x + 0.999 * d.radius.as_m() * libm::cos(a), d.at.y + 0.999 * d.radius.as_m() * libm::sin(a));
                prop_assert!(!held(&before.rings, p) || held(&after.rings, p));
            }
        }
    }

    /// The inside of a turn lies in the discs round its three points: the line is at least as long as both its legs.
    #[test]
    fn closed_form_the_inside_of_a_turn_lies_in_the_discs(
        a in (-30.0..30.0_f64, -30.0..30.0_f64), b in (-30.0..30.0_f64, -30.0..30.0_f64), c in (-30.0..30.0_f64, -30.0..30.0_f64),
        u in 0.0..1.0_f64, w in 0.0..1.0_f64,
    ) {
        let at = |p: (f64, f64)| Vec3::new(p.0, p.1, 0.0);
        let line = Length::from_m((at(a) - at(b)).norm() + (at(b) - at(c)).norm());
        let radius = keep_out_radius(line, line, &mut Silent).unwrap();
        let o = outline_of(&[a, b, c].map(|p| Disc { at: at(p), radius }));
        let (u, w) = if u + w > 1.0 { (1.0 - u, 1.0 - w) } else { (u, w) };
        let p = (a.0 + u * (b.0 - a.0) + w * (c.0 - a.0), a.1 + u * (b.1 - a.1) + w * (c.1 - a.1));
        prop_assert!(line.as_m() < 1.0 || held(&o.rings, p));
    }
}
