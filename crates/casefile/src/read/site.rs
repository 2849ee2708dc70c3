//! The place: the survey, anchors, obstacles, helpers; and where each stands.

use super::vehicle::vehicle;
use crate::place::wrapped;
use crate::walk::{Mistake, Node, Walk};
use unmire_model::anchor::{
    Anchor, AnchorKind, Boulder, BoulderSigns, Rooting, SoilGroup, Stump, StumpSigns, Tree, TreeSigns,
};
use unmire_model::case::{Bars, North, Obstacle};
use unmire_model::trail::Input;
use unmire_model::vehicle::{Helper, Vehicle};
use unmire_model::{Angle, Force, Length, Range, Vec3};

/// Two statements of one place or direction may differ by this much beside the stated uncertainty.
const AGREE_M: f64 = 0.5;
/// Two statements of one direction may differ by this much: what a hand-held compass gives.
const AGREE_TURN: Angle = Angle::from_deg(5.0);

/// What was said once for all.
#[derive(Default)]
pub(super) struct Survey {
    /// Compass bearing of the heading, and which north.
    pub(super) heading: Option<(Angle, North)>,
    /// Whether a heading was tried at all, so that its absence is not told twice.
    tried: bool,
    pace: Option<Length>,
    uncertainty: Option<Length>,
}

/// Reads it.
pub(super) fn survey(w: &mut Walk<'_>, case: &Node<'_, '_>) -> Survey {
    if !case.has("survey") {
        return Survey::default();
    }
    let Some(n) = case.table(w, "survey") else { return Survey { tried: true, ..Survey::default() } };
    let tried = n.has("heading") || n.has("north");
    let heading = n.bearing(w, "heading");
    let north = n.word(w, "north").and_then(|i| [North::True, North::Magnetic, North::Grid].get(i).copied());
    if n.has("heading") && !n.has("north") {
        n.miss(w, "north", "true and magnetic north may be 20 deg apart");
    }
    if n.has("north") && !n.has("heading") {
        n.miss(w, "heading", "a north without the vehicle's heading ties no bearing to it");
    }
    let pace = n.one(w, "pace");
    let uncertainty = n.one(w, "uncertainty");
    Survey { heading: heading.map(|h| h.value).zip(north), tried, pace, uncertainty }
}

/// A direction from the stuck vehicle's heading, said as such, by compass, or both if they agree.
pub(super) fn direction(
    w: &mut Walk<'_>,
    n: &Node<'_, '_>,
    survey: &Survey,
    relative: &'static str,
    compass: &'static str,
) -> Option<Input<Angle>> {
    let told = w.found.len();
    let r = if n.has(relative) { n.heading(w, relative) } else { None };
    let c = if n.has(compass) { n.bearing(w, compass) } else { None };
    let c = match (c, survey.heading) {
        (Some(b), Some((h, _))) => Some(Input::new(wrapped(h - b.value), b.origin)),
        (Some(_), None) => {
            if !survey.tried {
                w.tell(
                    Mistake::new(
                        "missing-key",
                        n.span_of(compass),
                        format!(
                            "`{compass}` is a compass bearing, and the file does not say how the stuck vehicle stands"
                        ),
                    )
                    .expected("`heading` and `north` in [survey]")
                    .example("[survey] heading = \"310 deg\", north = \"magnetic\""),
                );
            }
            None
        }
        (None, _) => None,
    };
    match (r, c) {
        (Some(r), Some(c)) => {
            let apart = wrapped(r.value - c.value);
            if apart.abs() > AGREE_TURN {
                w.tell(
                    Mistake::new(
                        "contradiction",
                        n.span_of(compass),
                        format!("`{relative}` and `{compass}` are {:.0} deg apart", apart.abs().as_deg()),
                    )
                    .expected("one of them, or two that agree within 5 deg")
                    .hint("left of the heading is a smaller bearing, right a larger one"),
                );
                return None;
            }
            Some(r)
        }
        (Some(r), None) => Some(r),
        (None, Some(c)) => Some(c),
        (None, None) => {
            if w.found.len() == told && !n.has(relative) && !n.has(compass) {
                n.miss(w, relative, &format!("give `{relative}`, or `{compass}` by compass"));
            }
            None
        }
    }
}

/// A place: coordinates, or distance with direction and rise, or both if they agree. With how far off it may be.
fn place(
    w: &mut Walk<'_>,
    n: &Node<'_, '_>,
    survey: &Survey,
    stuck: Option<&Vehicle>,
    relative: &'static str,
    uncertainty: Option<Length>,
) -> Option<Vec3> {
    let polar = n.has("distance") || n.has("paces");
    let at = if n.has("position") { n.position(w, "position") } else { None };
    if !polar {
        if !n.has("position") {
            n.miss(
                w,
                "position",
                "without it nothing can be reached; or give `distance` or `paces` with a direction and `rise`",
            );
        }
        for extra in [relative, "bearing", "rise", "from", "pace"] {
            if n.has(extra) {
                w.tell(
                    Mistake::new(
                        "missing-key",
                        n.span_of(extra),
                        format!("`{extra}` tells nothing without a distance"),
                    )
                    .expected("`distance` or `paces` beside it, or only `position`")
                    .example("distance = \"22 m\""),
                );
                return None;
            }
        }
        return at;
    }
    let paced = paced(w, n, survey, stuck, relative);
    match (at, paced) {
        (Some(a), Some(b)) => {
            let apart = (a - b).norm();
            let room = uncertainty.map_or(0.0, Length::as_m) + AGREE_M;
            if apart > room {
                w.tell(
                    Mistake::new(
                        "contradiction",
                        n.span_of("position"),
                        format!("`position` and the distance put it at two places, {apart:.1} m apart"),
                    )
                    .expected("one of them, or two that agree within the uncertainty"),
                );
                return None;
            }
            Some(a)
        }
        (Some(_), None) if n.has("position") => None,
        (_, b) => b,
    }
}

fn paced(
    w: &mut Walk<'_>,
    n: &Node<'_, '_>,
    survey: &Survey,
    stuck: Option<&Vehicle>,
    relative: &'static str,
) -> Option<Vec3> {
    let tape: Option<Length> = n.one(w, "distance");
    let steps: Option<f64> = n.one(w, "paces");
    let pace = if n.has("pace") { n.one(w, "pace") } else { survey.pace };
    let rise: Option<Length> = n.one(w, "rise");
    let turn = direction(w, n, survey, relative, "bearing");
    if !n.has("rise") {
        n.miss(w, "rise", "the line's angle and the anchor's lever arm need it; write \"0 m\" on level ground");
    }
    let by_paces = match (steps, pace) {
        (Some(s), Some(p)) => Some(p * s),
        (Some(_), None) => {
            if !n.has("pace") {
                n.miss(w, "pace", "paces are no distance until somebody says how long one is");
            }
            return None;
        }
        _ => None,
    };
    let distance = match (tape, by_paces) {
        (Some(t), Some(p)) if (t - p).abs().as_m() > 0.15 * t.as_m() + AGREE_M => {
            w.tell(
                Mistake::new(
                    "contradiction",
                    n.span_of("paces"),
                    format!("`distance` and `paces` are {:.1} m apart", (t - p).abs().as_m()),
                )
                .expected("one of them, or two that agree within 15 %"),
            );
            return None;
        }
        (Some(t), _) => t,
        (None, Some(p)) => p,
        (None, None) => return None,
    };
    let (rise, turn) = (rise?, turn?);
    let (d, z) = (distance.as_m(), rise.as_m());
    if z.abs() > d {
        w.tell(
            Mistake::new(
                "contradiction",
                n.span_of("rise"),
                format!(
                    "it is {:.1} m higher or lower than the vehicle, and only {d:.1} m away along the ground",
                    z.abs()
                ),
            )
            .expected("a rise that is less than the distance")
            .hint("the distance is taken along the ground, up the slope"),
        );
        return None;
    }
    if d > 500.0 {
        w.tell(
            Mistake::new("out-of-range", n.span_of("paces"), format!("{d:.0} m away: no line reaches it"))
                .expected("at most 500 m")
                .example("paces = 28"),
        );
        return None;
    }
    let base = base(w, n, stuck)?;
    let level = (d * d - z * z).max(0.0).sqrt();
    Some(base + Vec3::new(level, 0.0, 0.0).turned(turn.value) + Vec3::UP * z)
}

/// From where it was measured, on the ground.
fn base(w: &mut Walk<'_>, n: &Node<'_, '_>, stuck: Option<&Vehicle>) -> Option<Vec3> {
    if !n.has("from") {
        return Some(Vec3::ZERO);
    }
    let id = n.id(w, "from")?;
    if id == "middle" {
        return Some(Vec3::ZERO);
    }
    let stuck = stuck?;
    let found = if id == "winch" {
        stuck.winch.as_ref().map(|x| x.position)
    } else {
        stuck.points.iter().find(|p| p.id == id).map(|p| p.position)
    };
    if found.is_none() {
        let mut ids: Vec<&str> = stuck.points.iter().map(|p| p.id.as_str()).collect();
        ids.extend(["middle", "winch"]);
        let near = crate::walk::nearest(&id, ids.iter().copied()).map(|x| format!("did you mean \"{x}\"?"));
        w.tell(
            Mistake::new("unknown-id", n.span_of("from"), format!("the stuck vehicle has no \"{id}\" to measure from"))
                .expected(crate::walk::either(&ids))
                .maybe_hint(near),
        );
    }
    found.map(Vec3::level)
}

/// An anchor.
pub(super) fn anchor(w: &mut Walk<'_>, n: &Node<'_, '_>, survey: &Survey, stuck: Option<&Vehicle>) -> Option<Anchor> {
    let id = n.id(w, "id");
    let uncertainty = if n.has("uncertainty") { n.one(w, "uncertainty") } else { survey.uncertainty };
    if uncertainty.is_none() && !n.has("uncertainty") {
        n.miss(
            w,
            "uncertainty",
            "a line that just reaches on paper may not reach on the ground; say it here or once in [survey]",
        );
    }
    let position = place(w, n, survey, stuck, "direction", uncertainty);
    let attach_height = n.input_one::<Length>(w, "attach_height");
    let stated_capacity = n.input_range::<Force>(w, "holds");
    let kind = n.word(w, "kind").and_then(|i| anchor_kind(w, n, i));
    let line = n.line(w);
    Some(Anchor {
        id: id?,
        kind: kind?,
        position: position?,
        uncertainty: uncertainty?,
        attach_height: attach_height?,
        stated_capacity,
        tied_back: None,
        line,
    })
}

fn anchor_kind(w: &mut Walk<'_>, n: &Node<'_, '_>, index: usize) -> Option<AnchorKind> {
    const OWN: [(&str, &[&str]); 5] = [
        ("tree", &["species", "conifer", "diameter", "girth", "height", "soil", "rooting", "signs"]),
        ("stump", &["diameter", "girth"]),
        ("boulder", &["radius"]),
        ("made anchor", &["what"]),
        ("thing of kind \"other\"", &["what", "radius"]),
    ];
    let (word, own) = OWN.get(index)?;
    for (_, keys) in &OWN {
        for key in *keys {
            if n.has(key) && !own.contains(key) {
                w.tell(
                    Mistake::new("unknown-key", n.span_of(key), format!("a {word} has no `{key}`"))
                        .expected(format!("for its kind: {}", own.join(", "))),
                );
            }
        }
    }
    Some(match index {
        0 => AnchorKind::Tree(tree(w, n)?),
        1 => AnchorKind::Stump(Stump {
            species: None,
            conifer: None,
            diameter: thickness(w, n)?,
            height: None,
            felled_ago: None,
            soil: SoilGroup::Unknown,
            rooting: Rooting::Medium,
            signs: StumpSigns::default(),
        }),
        2 => {
            if !n.has("radius") {
                n.miss(w, "radius", "a strap goes round it");
            }
            AnchorKind::Boulder(Boulder {
                radius: n.one(w, "radius")?,
                mass: None,
                size: None,
                on: None,
                buried: None,
                earth: None,
                signs: BoulderSigns::default(),
            })
        }
        3 => AnchorKind::Made { what: what(w, n)? },
        _ => {
            let what = what(w, n);
            let radius = n.one(w, "radius");
            AnchorKind::Other { what: what?, radius }
        }
    })
}

fn what(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<String> {
    if !n.has("what") {
        n.miss(w, "what", "the crew must know what is meant");
        return None;
    }
    n.text(w, "what")
}

/// Diameter as said, or from the girth, or both if they agree.
fn thickness(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Input<Range<Length>>> {
    let d = n.input_range::<Length>(w, "diameter");
    let g = n.input_range::<Length>(w, "girth");
    let from_girth = g.map(|g| Input::new(g.value.increasing(|l| l / core::f64::consts::PI), g.origin));
    match (d, from_girth) {
        (Some(d), Some(g)) => {
            let (a, b) = (d.value.likely(), g.value.likely());
            if (a - b).abs() > a * 0.05 {
                w.tell(
                    Mistake::new(
                        "contradiction",
                        n.span_of("girth"),
                        format!(
                            "this girth is a diameter of {:.0} cm, and `diameter` is {:.0} cm",
                            b.as_cm(),
                            a.as_cm()
                        ),
                    )
                    .expected("one of them, or two that agree within 5 %")
                    .hint("girth is measured round the stem, diameter through it"),
                );
                return None;
            }
            Some(d)
        }
        (Some(d), None) => Some(d),
        (None, Some(g)) => Some(g),
        (None, None) => {
            if !n.has("diameter") && !n.has("girth") {
                n.miss(w, "girth", "what it holds goes by the third power of its thickness; or give `diameter`");
            }
            None
        }
    }
}

fn tree(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Tree> {
    let known = w.known.species;
    let species = if n.has("species") { n.table_key(w, "species", known).map(|s| s.value) } else { None };
    let conifer = n.flag(w, "conifer");
    let diameter = thickness(w, n);
    let height = n.input_range::<Length>(w, "height");
    let soil = if n.has("soil") {
        n.word(w, "soil").and_then(|i| {
            [SoilGroup::FreelyDraining, SoilGroup::Gley, SoilGroup::Peaty, SoilGroup::DeepPeat, SoilGroup::Unknown]
                .get(i)
                .copied()
        })
    } else {
        Some(SoilGroup::Unknown)
    };
    let rooting = if n.has("rooting") {
        n.word(w, "rooting").and_then(|i| [Rooting::Shallow, Rooting::Medium, Rooting::Deep].get(i).copied())
    } else {
        Some(Rooting::Medium)
    };
    let signs = if n.has("signs") { n.table(w, "signs").map(|s| signs(w, &s)) } else { Some(TreeSigns::default()) };
    Some(Tree { species, conifer, diameter: diameter?, height, soil: soil?, rooting: rooting?, signs: signs? })
}

fn signs(w: &mut Walk<'_>, n: &Node<'_, '_>) -> TreeSigns {
    TreeSigns {
        dead: n.flag(w, "dead"),
        leaning: n.flag(w, "leaning"),
        fungus: n.flag(w, "fungus"),
        cavity: n.flag(w, "cavity"),
        lifted_roots: n.flag(w, "lifted_roots"),
        bank_edge: n.flag(w, "bank_edge"),
        flooded: n.flag(w, "flooded"),
        frozen_top: n.flag(w, "frozen_top"),
    }
}

/// An obstacle.
pub(super) fn obstacle(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Obstacle> {
    let id = n.id(w, "id");
    let what = n.text(w, "what");
    let bars = n.word(w, "bars").and_then(|i| [Bars::Lines, Bars::EscapePath].get(i).copied());
    let outline = n.outline(w, "outline");
    let line = n.line(w);
    Some(Obstacle { id: id?, what: what?, bars: bars?, outline: outline?, line })
}

/// A helper.
pub(super) fn helper(w: &mut Walk<'_>, n: &Node<'_, '_>, survey: &Survey, stuck: Option<&Vehicle>) -> Option<Helper> {
    let vehicle = vehicle(w, n);
    let position = place(w, n, survey, stuck, "toward", survey.uncertainty);
    let heading = direction(w, n, survey, "heading", "compass_heading");
    let friction = n.input_range::<f64>(w, "friction");
    let slope = n.input_slope(w, "slope");
    let braked_share = n.input_range::<f64>(w, "braked_share");
    let can_tow = n.flag(w, "can_tow");
    let line = n.line(w);
    Some(Helper {
        vehicle: vehicle?,
        position: position?,
        heading: heading?.value,
        friction,
        slope: slope?,
        braked_share: braked_share?,
        chocked: None,
        backed_by: None,
        can_tow: can_tow?,
        line,
    })
}
