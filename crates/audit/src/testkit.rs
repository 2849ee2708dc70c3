//! Facts for the tests: a small invented case and rigs made from it.

use crate::facts::{Capacity, Detectors, Facts, HitchFact, PartFact, PartKind, TurnFact, WinchFact};
use crate::findings::Findings;
use crate::policy::Policy;
use crate::rules::{Look, Rule};
use crate::verdict::{Effect, Finding};
use unmire_model::anchor::{Anchor, AnchorKind, Boulder, BoulderSigns, Rooting, SoilGroup, Tree, TreeSigns};
use unmire_model::case::{Case, People};
use unmire_model::gear::{
    Bearing, Condition, EyeStyle, Label, Material, Piece, PieceKind, Rating, RatingKind, Stitching, Strap, StrapUse,
};
use unmire_model::ground::{Depth, Ground, NeedMethod, Stuck, WayOut};
use unmire_model::layout::{AnchorLeg, Family, Hitch, Hold, Layout, Puller, Station, Who};
use unmire_model::vehicle::{Vehicle, Winch, WinchLine};
use unmire_model::{Angle, Force, Input, Length, Mass, Origin, Pressure, Range, Vec3};

pub fn kn(v: f64) -> Force {
    Force::from_kn(v)
}
fn given<T>(v: T) -> Input<T> {
    Input::new(v, Origin::File { line: 1 })
}
pub fn exact<Q: unmire_model::range::Scalar>(v: Q) -> Range<Q> {
    Range::new(v, v, v).unwrap()
}
pub fn label(tonnes: f64, kind: RatingKind, design_factor: Option<f64>) -> Label {
    Label::Printed(Rating { as_printed: format!("{tonnes} t"), force: Force::from_tonnef(tonnes), kind, design_factor })
}
pub fn piece(id: &str, kind: PieceKind) -> Piece {
    Piece {
        id: id.into(),
        kind,
        label: label(5.0, RatingKind::Working, Some(5.0)),
        condition: Condition::Checked,
        mass: None,
        line: 1,
    }
}
pub fn strap(made_for: StrapUse, width_mm: f64) -> PieceKind {
    PieceKind::Strap(Strap {
        made_for,
        material: Material::Polyester,
        length: Length::from_m(3.0),
        width: Some(Length::from_mm(width_mm)),
        eyes: EyeStyle::Flat,
        stitching: Stitching::Along,
        sleeve: true,
        choker_label: None,
        basket_label: None,
        stretch: Some(0.03),
        stretching: Default::default(),
    })
}
pub fn block() -> PieceKind {
    PieceKind::Block { bearing: Bearing::Plain, sheave: None, line_max: Some(Length::from_mm(12.0)) }
}
pub fn sound() -> TreeSigns {
    let no = Some(false);
    TreeSigns {
        dead: no,
        leaning: no,
        fungus: no,
        cavity: no,
        lifted_roots: no,
        bank_edge: no,
        flooded: no,
        frozen_top: no,
    }
}
pub fn tree(id: &str) -> Anchor {
    Anchor {
        id: id.into(),
        kind: AnchorKind::Tree(Tree {
            species: None,
            conifer: Some(true),
            diameter: given(exact(Length::from_cm(40.0))),
            height: None,
            soil: SoilGroup::Unknown,
            rooting: Rooting::Medium,
            signs: sound(),
        }),
        position: Vec3::new(20.0, 0.0, 0.0),
        uncertainty: Length::ZERO,
        attach_height: given(Length::from_m(0.4)),
        stated_capacity: None,
        tied_back: None,
        line: 1,
    }
}
pub fn boulder(id: &str) -> Anchor {
    Anchor {
        kind: AnchorKind::Boulder(Boulder {
            radius: Length::from_m(0.5),
            mass: None,
            size: None,
            on: None,
            buried: None,
            earth: None,
            signs: BoulderSigns::default(),
        }),
        ..tree(id)
    }
}
/// A case with a winch of 40 kN rated pull on the stuck vehicle, two sound trees, a boulder, and three trained people.
pub fn case() -> Case {
    Case {
        title: "invented".into(),
        heading: None,
        vehicle: Vehicle {
            name: "stuck".into(),
            mass: given(exact(Mass::from_tonne(2.5))),
            payload: None,
            wheelbase: None,
            track: None,
            cg_height: None,
            points: vec![],
            winch: Some(Winch {
                id: "W".into(),
                position: Vec3::new(2.0, 0.0, 0.8),
                direction: Vec3::new(1.0, 0.0, 0.0),
                rated_pull: given(kn(40.0)),
                stall: None,
                drum: None,
                line: WinchLine {
                    material: Material::Hmpe,
                    diameter: Length::from_mm(10.0),
                    length: Length::from_m(28.0),
                    label: label(9.0, RatingKind::Breaking, None),
                },
                min_wraps: None,
                mount: label(5.0, RatingKind::Working, None),
                fairlead_limit: None,
                current_calibrated: false,
                drive: None,
                line_no: 1,
            }),
            tyres: None,
        },
        stuck: Stuck {
            depth: given(Depth::Wheel),
            mire_share: None,
            obstacle: None,
            locked_share: None,
            drive_helps: false,
            bellied: false,
            unloadable: None,
            overturned: false,
        },
        ground: Ground {
            surface: given("grass".into()),
            soil: None,
            method: NeedMethod::Doctrine,
            saturated: false,
            season: None,
        },
        way_out: WayOut {
            bearing: given(Angle::ZERO),
            grade: given(exact(Angle::ZERO)),
            side_slope: given(Angle::ZERO),
            distance: given(exact(Length::from_m(5.0))),
        },
        path: Vec::new(),
        run_up: None,
        anchors: vec![tree("A1"), tree("A2"), boulder("R1")],
        obstacles: vec![],
        helpers: vec![],
        people: People { total: 4, trained: 3 },
        kit: vec![piece("D1", PieceKind::Damper)],
        rig: None,
        policy: None,
    }
}
pub fn leg(anchor: &str, strap: &str) -> AnchorLeg {
    AnchorLeg {
        anchor: anchor.into(),
        hitch: Hitch::Basket,
        strap: Some(strap.into()),
        extensions: vec![],
        connectors: vec!["C1".into()],
    }
}
/// A straight pull from the winch to A1.
pub fn layout() -> Layout {
    Layout {
        family: Family::StraightPull,
        puller: Puller::Winch { on: Who::Stuck },
        stations: vec![Station {
            block: None,
            extensions: vec![],
            connectors: vec![],
            hold: Hold::Anchors(vec![leg("A1", "S1")]),
        }],
        tie_back: None,
        holding: None,
        beside: vec!["D1".into()],
        line: 0,
    }
}
/// A part at work 10 kN and stall 50 kN.
pub fn part<'a>(kind: PartKind, breaking: Option<f64>, working: Option<f64>) -> PartFact<'a> {
    PartFact {
        name: kind.word().into(),
        role: kind.word().into(),
        kind,
        piece: None,
        demand_work: Some(kn(10.0)),
        demand_stall: Some(kn(50.0)),
        share: 1.0,
        station_stall: Some(kn(50.0)),
        capacity: Capacity {
            breaking: breaking.map(kn),
            working: working.map(kn),
            holding: None,
            stated: false,
            reduction: 1.0,
            unknown_because: None,
        },
    }
}
/// An anchor's part.
pub fn anchor_part<'a>(kind: PartKind, id: &str, low: f64, likely: f64) -> PartFact<'a> {
    let mut p = part(kind, None, None);
    p.name = id.into();
    p.capacity.holding = Some(Range::new(kn(low), kn(likely), kn(likely * 2.0)).unwrap());
    p
}
/// A winch that can do the work, with turns to spare.
pub fn winch() -> WinchFact {
    WinchFact {
        id: "W".into(),
        layer: Some(1),
        ability: Some(kn(38.0)),
        pull_work: kn(10.0),
        stall: kn(50.0),
        stall_assumed: false,
        line_out: Length::from_m(20.0),
        line_length: Length::from_m(28.0),
        wraps_left: Some(30.0),
        wraps_required: 10.0,
        fairlead_angle: Angle::from_deg(4.0),
        fairlead_limit: (Angle::from_deg(15.0), false),
    }
}
/// A rig in which nothing is wrong: the start of every test. Work 10 kN, stall 50 kN, rated 40 kN.
pub fn facts<'a>(case: &'a Case, layout: &'a Layout) -> Facts<'a> {
    Facts {
        case,
        layout,
        need: Range::new(kn(6.0), kn(8.0), kn(10.0)).unwrap(),
        pull_work: kn(10.0),
        pull_stall: Some(kn(50.0)),
        parts: vec![],
        hitches: vec![],
        points: vec![],
        connectors: vec![],
        turns: vec![],
        parked: vec![],
        sharing: vec![],
        backed: vec![],
        winch: Some(winch()),
        stability: None,
        crossings: vec![],
        detectors: Detectors::default(),
        puller_ability: None,
    }
}
/// A part that is a piece of the kit, with more strength than any test asks.
pub fn of_piece<'a>(kind: PartKind, piece: &'a Piece) -> PartFact<'a> {
    let mut p = part(kind, Some(1e4), Some(1e4));
    p.name.clone_from(&piece.id);
    p.piece = Some(piece);
    p
}
/// A strap in a basket, low round a living tree, with nothing wrong.
pub fn hitch_of(piece: &Piece) -> HitchFact<'_> {
    HitchFact {
        part: 0,
        anchor: "A1",
        piece,
        hitch: Hitch::Basket,
        angle: Angle::from_deg(30.0),
        pressure_work: Some(Pressure::from_mpa(0.1)),
        pressure_stall: Some(Pressure::from_mpa(0.5)),
        living: true,
        holds_block: false,
        height: Length::from_m(0.4),
        diameter: Length::from_cm(40.0),
    }
}
/// What one rule says of the sound rig, changed.
pub fn said<'a>(rule: Rule, change: impl FnOnce(&mut Facts<'a>)) -> Vec<Finding> {
    told(rule, |_| {}, |_| {}, change)
}
/// The same with a changed layout.
pub fn said_of(rule: Rule, change: impl FnOnce(&mut Layout)) -> Vec<Finding> {
    told(rule, |_| {}, change, |_| {})
}
/// The same with all three changed.
pub fn told<'a>(
    rule: Rule,
    change_case: impl FnOnce(&mut Case),
    change_layout: impl FnOnce(&mut Layout),
    change: impl FnOnce(&mut Facts<'a>),
) -> Vec<Finding> {
    // Tests are short-lived; leaking the two spares every test its own bindings.
    let (mut c, mut l) = (case(), layout());
    change_case(&mut c);
    change_layout(&mut l);
    let (c, l): (&'static Case, &'static Layout) = (Box::leak(Box::new(c)), Box::leak(Box::new(l)));
    let mut f: Facts<'a> = facts(c, l);
    change(&mut f);
    let Look::Condition(check) = rule.look else { panic!("{} is a rule of strength", rule.code) };
    let policy = Policy::default_policy();
    let (mut loud, mut quiet) = (Findings::loud(), Findings::quiet());
    check(&f, &policy, &mut loud);
    check(&f, &policy, &mut quiet);
    assert_eq!(loud.worst(), quiet.worst());
    let list = loud.into_list();
    for found in &list {
        assert_eq!(found.code, rule.code);
        for text in [&found.text, &found.remedy] {
            assert!(text.ends_with('.') && !text.contains("NaN") && text.len() > 10, "{text}");
        }
        assert!(!found.subject.is_empty());
    }
    list
}
fn one(found: &[Finding], effect: Effect) {
    assert_eq!(found.iter().map(|f| f.effect).collect::<Vec<_>>(), [effect], "{found:?}");
}
pub fn bars(found: &[Finding]) {
    one(found, Effect::Bars);
}
pub fn unknowns(found: &[Finding]) {
    one(found, Effect::Unknown);
}
pub fn cautions(found: &[Finding]) {
    one(found, Effect::Caution);
}
pub fn notes(found: &[Finding]) {
    one(found, Effect::Note);
}
pub fn nothing(found: &[Finding]) {
    assert_eq!(found, []);
}
/// A line of 10 mm that turns right round a piece.
pub fn turn_of(piece: &Piece) -> TurnFact<'_> {
    TurnFact {
        part: 0,
        piece,
        deflection: Angle::from_deg(180.0),
        line_diameter: Some(Length::from_mm(10.0)),
        bend_ratio: Some(10.0),
        line_is_wire: false,
    }
}
