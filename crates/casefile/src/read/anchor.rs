//! Anchors: what each kind says of itself, and what it can't say at once.

use super::site::{Survey, place};
use crate::walk::{Mistake, Node, Walk};
use unmire_model::anchor::{
    Anchor, AnchorKind, Boulder, BoulderSigns, Deadman, DeadmanShape, Earth, Pickets, Plates, RockBolts, Rooting,
    SoilGroup, Stakes, Stump, StumpSigns, TieBack, Tree, TreeSigns,
};
use unmire_model::trail::Input;
use unmire_model::vehicle::Vehicle;
use unmire_model::{Angle, Force, Length, Mass, Pressure, Range, Time};

/// Two heights that are the same on paper may differ by this.
const ROUNDING: Length = Length::from_mm(1.0);
/// Nothing that is used as an anchor is denser than iron, kilograms per cubic metre.
const DENSEST: f64 = 7900.0;

/// An anchor.
pub(crate) fn anchor(w: &mut Walk<'_>, n: &Node<'_, '_>, survey: &Survey, stuck: Option<&Vehicle>) -> Option<Anchor> {
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
    let tied_back = tie(w, n, "tied_back");
    let kind = n.word(w, "kind").and_then(|i| kind(w, n, i));
    if let (Some(kind), Some(height)) = (&kind, &attach_height) {
        below_the_top(w, n, kind, height.value);
    }
    let line = n.line(w);
    Some(Anchor {
        id: id?,
        kind: kind?,
        position: position?,
        uncertainty: uncertainty?,
        attach_height: attach_height?,
        stated_capacity,
        tied_back,
        line,
    })
}

/// What stands behind something, and the piece between them.
pub(super) fn tie(w: &mut Walk<'_>, n: &Node<'_, '_>, key: &'static str) -> Option<TieBack> {
    let t = n.table(w, key)?;
    let (to, with) = (t.id(w, "to"), t.id(w, "with"));
    Some(TieBack { to: to?, with: with? })
}

fn kind(w: &mut Walk<'_>, n: &Node<'_, '_>, index: usize) -> Option<AnchorKind> {
    Some(match index {
        0 => AnchorKind::Tree(tree(w, n)?),
        1 => AnchorKind::Stump(stump(w, n)?),
        2 => AnchorKind::Boulder(boulder(w, n)?),
        3 => AnchorKind::RockBolts(rock_bolts(w, n)?),
        4 => AnchorKind::Pickets(pickets(w, n)?),
        5 => AnchorKind::Deadman(deadman(w, n)?),
        6 => AnchorKind::Plates(plates(w, n)?),
        7 => AnchorKind::Made { what: n.text(w, "what")? },
        _ => {
            let (what, radius) = (n.text(w, "what"), n.one(w, "radius"));
            AnchorKind::Other { what: what?, radius }
        }
    })
}

fn contradiction(w: &mut Walk<'_>, n: &Node<'_, '_>, key: &str, message: String, expected: &str) {
    w.tell(Mistake::new("contradiction", n.span_of(key), message).expected(expected));
}

/// The strap can't lie above what it goes round.
fn below_the_top(w: &mut Walk<'_>, n: &Node<'_, '_>, kind: &AnchorKind, strap: Length) {
    let (what, top) = match kind {
        AnchorKind::Tree(t) => ("the top of the tree", t.height.as_ref().map(|h| h.value.high())),
        AnchorKind::Stump(s) => ("the cut of the stump", s.height.as_ref().map(|h| h.value)),
        AnchorKind::Boulder(b) => {
            let [.., height] = match &b.size {
                Some(size) => size,
                None => return,
            };
            let in_the_ground = b.buried.as_ref().map_or(Length::ZERO, |d| d.value.low());
            ("the top of the boulder", Some(height.value.high() - in_the_ground))
        }
        _ => return,
    };
    if let Some(top) = top
        && strap > top + ROUNDING
    {
        contradiction(
            w,
            n,
            "attach_height",
            format!("the strap lies {:.2} m above the ground, and {what} is at {:.2} m", strap.as_m(), top.as_m()),
            "an attachment that is not above what it goes round",
        );
    }
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

fn species(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<String> {
    let known = w.known.species;
    n.table_key(w, "species", known).map(|s| s.value)
}

/// Soil and rooting; what is not said is not known.
fn roots(w: &mut Walk<'_>, n: &Node<'_, '_>) -> (Option<SoilGroup>, Option<Rooting>) {
    const SOILS: [SoilGroup; 5] =
        [SoilGroup::FreelyDraining, SoilGroup::Gley, SoilGroup::Peaty, SoilGroup::DeepPeat, SoilGroup::Unknown];
    const ROOTING: [Rooting; 3] = [Rooting::Shallow, Rooting::Medium, Rooting::Deep];
    let soil = match n.has("soil") {
        true => n.word(w, "soil").and_then(|i| SOILS.get(i).copied()),
        false => Some(SoilGroup::Unknown),
    };
    let rooting = match n.has("rooting") {
        true => n.word(w, "rooting").and_then(|i| ROOTING.get(i).copied()),
        false => Some(Rooting::Medium),
    };
    (soil, rooting)
}

fn tree(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Tree> {
    let (species, conifer) = (species(w, n), n.flag(w, "conifer"));
    let diameter = thickness(w, n);
    let height = n.input_range::<Length>(w, "height");
    let (soil, rooting) = roots(w, n);
    let signs = n.table(w, "signs").map_or_else(TreeSigns::default, |s| TreeSigns {
        dead: s.flag(w, "dead"),
        leaning: s.flag(w, "leaning"),
        fungus: s.flag(w, "fungus"),
        cavity: s.flag(w, "cavity"),
        lifted_roots: s.flag(w, "lifted_roots"),
        bank_edge: s.flag(w, "bank_edge"),
        flooded: s.flag(w, "flooded"),
        frozen_top: s.flag(w, "frozen_top"),
    });
    Some(Tree { species, conifer, diameter: diameter?, height, soil: soil?, rooting: rooting?, signs })
}

fn stump(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Stump> {
    let (species, conifer) = (species(w, n), n.flag(w, "conifer"));
    let diameter = thickness(w, n);
    let height = n.input_one::<Length>(w, "cut_height");
    let felled_ago = n.input_range::<Time>(w, "felled_ago");
    let (soil, rooting) = roots(w, n);
    let signs = n.table(w, "signs").map_or_else(StumpSigns::default, |s| StumpSigns {
        rotten: s.flag(w, "rotten"),
        split: s.flag(w, "split"),
        lifted_roots: s.flag(w, "lifted_roots"),
        bank_edge: s.flag(w, "bank_edge"),
        flooded: s.flag(w, "flooded"),
        frozen_top: s.flag(w, "frozen_top"),
    });
    Some(Stump { species, conifer, diameter: diameter?, height, felled_ago, soil: soil?, rooting: rooting?, signs })
}

fn earth(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Earth> {
    let n = n.table(w, "earth")?;
    let known = w.known.anchor_soils;
    let soil = n.table_key(w, "soil", known);
    let friction_angle = n.input_range::<Angle>(w, "friction_angle");
    let cohesion = n.input_range::<Pressure>(w, "cohesion");
    let soil = soil?;
    let is = |word: &str| soil.value.split('_').any(|part| part == word);
    if friction_angle.is_some() && is("clay") {
        contradiction(
            w,
            &n,
            "friction_angle",
            "pulled in minutes, clay holds by its cohesion and not by friction".into(),
            "`cohesion` for a clay, or another soil",
        );
    }
    if cohesion.is_some() && (is("sand") || is("gravel")) {
        contradiction(
            w,
            &n,
            "cohesion",
            "sand and gravel hold by friction and not by cohesion".into(),
            "`friction_angle` for sand or gravel, or another soil",
        );
    }
    Some(Earth { soil, friction_angle, cohesion })
}

fn boulder(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Boulder> {
    let radius = n.one(w, "radius");
    let mass = n.input_range::<Mass>(w, "mass");
    let size = n.ranges::<Length, 3>(w, "size");
    let known = w.known.foundations;
    let on = n.table_key(w, "on", known);
    let buried = n.input_range::<Length>(w, "buried");
    let earth = earth(w, n);
    let signs = n.table(w, "signs").map_or_else(BoulderSigns::default, |s| BoulderSigns {
        rocks: s.flag(w, "rocks"),
        cracked: s.flag(w, "cracked"),
        undercut: s.flag(w, "undercut"),
    });
    if let Some([length, breadth, height]) = &size {
        if let Some(b) = &buried
            && b.value.high() > height.value.high()
        {
            contradiction(
                w,
                n,
                "buried",
                format!(
                    "it stands {:.2} m deep in the ground and is {:.2} m high",
                    b.value.high().as_m(),
                    height.value.high().as_m()
                ),
                "a depth of at most its height; the height counts with what is in the ground",
            );
        }
        let volume = [length, breadth, height].iter().map(|l| l.value.high().as_m()).product::<f64>();
        if let Some(m) = &mass
            && m.value.low().as_kg() > DENSEST * volume
        {
            contradiction(
                w,
                n,
                "mass",
                format!("{:.0} kg in {volume:.2} m3 would be denser than iron", m.value.low().as_kg()),
                "a mass that fits `size`, or one of the two",
            );
        }
    }
    Some(Boulder { radius: radius?, mass, size, on, buried, earth, signs })
}

fn rock_bolts(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<RockBolts> {
    let count = n.whole(w, "count");
    let known = w.known.rocks;
    let rock = n.table_key(w, "rock", known);
    let hole = n.input_range::<Length>(w, "hole");
    let bond = n.input_range::<Length>(w, "bond");
    let bar = n.input_one::<Force>(w, "bar");
    let grouted = n.flag(w, "grouted");
    let proof = n.input_one::<Force>(w, "proof");
    if let (Some(bar), Some(proof)) = (&bar, &proof)
        && proof.value > bar.value
    {
        contradiction(
            w,
            n,
            "proof",
            format!(
                "it was shown to hold {:.1} kN, and its bar breaks at {:.1} kN",
                proof.value.as_kn(),
                bar.value.as_kn()
            ),
            "a proof below the strength of the bar",
        );
    }
    Some(RockBolts { count: count?, rock: rock?, hole: hole?, bond: bond?, bar, grouted, proof })
}

fn pickets(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Pickets> {
    let stakes = n.word(w, "stakes").and_then(|i| [Stakes::Wood, Stakes::Steel].get(i).copied());
    let rows = n.counts(w, "rows");
    let driven = n.input_range::<Length>(w, "driven");
    let spacing = n.input_one::<Length>(w, "spacing");
    let earth = earth(w, n);
    Some(Pickets { stakes: stakes?, rows: rows?, driven: driven?, spacing, earth: earth? })
}

fn deadman(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Deadman> {
    let shape = shape(w, n);
    let depth = n.input_range::<Length>(w, "depth");
    let line_rise = n.input_slope(w, "line_rise");
    let earth = earth(w, n);
    let own_strength = n.input_one::<Force>(w, "own_strength");
    if let Some(rise) = &line_rise
        && rise.value < Angle::ZERO
    {
        w.tell(
            Mistake::new("out-of-range", n.span_of("line_rise"), "the line would go down from a thing that is buried")
                .expected("level or up, from the deadman to where the line leaves the ground")
                .example("line_rise = \"1 in 4 up\""),
        );
    }
    if let (Some(shape), Some(depth)) = (&shape, &depth) {
        let face = match shape {
            DeadmanShape::Log { diameter, .. } | DeadmanShape::Wheel { diameter } => diameter.value.high(),
            DeadmanShape::Beam { face, .. } => face.value.high(),
        };
        if depth.value.low() < face * 0.5 {
            contradiction(
                w,
                n,
                "depth",
                format!(
                    "its middle may lie only {:.2} m deep and its face be {:.2} m high: it would stick out of the ground",
                    depth.value.low().as_m(),
                    face.as_m()
                ),
                "a depth of the middle of the face that is at least half of its height",
            );
        }
    }
    Some(Deadman { shape: shape?, depth: depth?, line_rise: line_rise?, earth: earth?, own_strength })
}

/// What is buried: exactly one of three.
fn shape(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<DeadmanShape> {
    let log = n.table(w, "log").map(|t| {
        let (diameter, length) = (t.input_range(w, "diameter"), t.input_range(w, "length"));
        Some(DeadmanShape::Log { diameter: diameter?, length: length? })
    });
    let beam = n.table(w, "beam").map(|t| {
        let (face, length) = (t.input_range(w, "face"), t.input_range(w, "length"));
        Some(DeadmanShape::Beam { face: face?, length: length? })
    });
    let wheel = n.table(w, "wheel").map(|t| Some(DeadmanShape::Wheel { diameter: t.input_range(w, "diameter")? }));
    let given: Vec<&str> = ["log", "beam", "wheel"].into_iter().filter(|k| n.has(k)).collect();
    match given[..] {
        [_] => log.or(beam).or(wheel).flatten(),
        [] => {
            n.miss(w, "log", "something must be buried; or give `beam` or `wheel`");
            None
        }
        [.., last] => {
            contradiction(
                w,
                n,
                last,
                format!("{} are buried at once", given.join(" and ")),
                "one of log, beam and wheel; each deadman is an anchor of its own",
            );
            None
        }
    }
}

fn plates(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Plates> {
    let what = n.text(w, "what");
    let count = n.whole(w, "count");
    let proof = n.input_one::<Force>(w, "proof");
    let depth = n.input_one::<Length>(w, "depth");
    let earth = earth(w, n);
    Some(Plates { what: what?, count: count?, proof, depth, earth })
}
