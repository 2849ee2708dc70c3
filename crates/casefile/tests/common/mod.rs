//! What several tests need: cases without their line numbers, and invented cases by chance with a seed.

#![allow(dead_code, clippy::unwrap_used, clippy::panic)]

use unmire_casefile::{Document, read, render};
use unmire_model::anchor::{Anchor, TieBack};
use unmire_model::case::{Bars, Case, North, Obstacle, People};
use unmire_model::gear::{
    Bearing, Condition, EyeStyle, Label, Material, Piece, PieceKind, Rating, RatingKind, Rope, Stitching, Strap,
    StrapUse,
};
use unmire_model::ground::{Depth, Ground, NeedMethod, Season, Stuck, WayOut};
use unmire_model::range::Scalar;
use unmire_model::trail::{Input, Origin};
use unmire_model::vehicle::{Drum, Helper, PointKind, RecoveryPoint, Tyres, Vehicle, Winch, WinchLine};
use unmire_model::{Angle, Force, Length, Mass, Range, Vec3};

mod anchors;
mod kinetic;
mod pull;

pub fn read_case(text: &str) -> Case {
    match read(text, &mut |p| Err(format!("no {p}"))) {
        Ok(Document::Case(c)) => *c,
        Ok(_) => panic!("not a case"),
        Err(d) => panic!("{}\n{text}", render(&d, "case", 120)),
    }
}

fn origin(o: &mut Origin) {
    if let Origin::File { line } = o {
        *line = 0;
    }
}
fn input<T>(i: &mut Input<T>) {
    origin(&mut i.origin);
}
fn maybe<T>(i: &mut Option<Input<T>>) {
    if let Some(i) = i {
        input(i);
    }
}
fn vehicle_unlined(v: &mut Vehicle) {
    input(&mut v.mass);
    maybe(&mut v.payload);
    maybe(&mut v.wheelbase);
    maybe(&mut v.track);
    maybe(&mut v.cg_height);
    for p in &mut v.points {
        p.line = 0;
    }
    if let Some(w) = &mut v.winch {
        w.line_no = 0;
        input(&mut w.rated_pull);
        maybe(&mut w.stall);
        w.drive.iter_mut().for_each(pull::drive_unlined);
    }
}
pub fn pieces_unlined(kit: &mut [Piece]) {
    for p in kit {
        p.line = 0;
        match &mut p.kind {
            PieceKind::Ring { friction, .. } => maybe(friction),
            PieceKind::HandWinch { stall, .. } => maybe(stall),
            _ => {}
        }
    }
}

/// The same anchor with every line number zero.
pub fn anchor_unlined(a: &mut Anchor) {
    a.line = 0;
    input(&mut a.attach_height);
    maybe(&mut a.stated_capacity);
    anchors::unlined(&mut a.kind);
}

/// The same case with every line number zero.
pub fn unlined(mut c: Case) -> Case {
    vehicle_unlined(&mut c.vehicle);
    input(&mut c.stuck.depth);
    maybe(&mut c.stuck.mire_share);
    maybe(&mut c.stuck.obstacle);
    maybe(&mut c.stuck.locked_share);
    maybe(&mut c.stuck.unloadable);
    input(&mut c.ground.surface);
    maybe(&mut c.ground.soil);
    maybe(&mut c.ground.season);
    input(&mut c.way_out.bearing);
    input(&mut c.way_out.grade);
    input(&mut c.way_out.side_slope);
    input(&mut c.way_out.distance);
    c.path.iter_mut().for_each(pull::stretch_unlined);
    c.anchors.iter_mut().for_each(anchor_unlined);
    for o in &mut c.obstacles {
        o.line = 0;
    }
    for h in &mut c.helpers {
        h.line = 0;
        vehicle_unlined(&mut h.vehicle);
        maybe(&mut h.friction);
        input(&mut h.slope);
        input(&mut h.braked_share);
    }
    pieces_unlined(&mut c.kit);
    if let Some(r) = &mut c.run_up {
        kinetic::run_up_unlined(r);
    }
    if let Some(r) = &mut c.rig {
        r.line = 0;
    }
    c
}

/// Chance with a seed.
pub struct Dice(pub u64);
impl Dice {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }
    pub fn below(&mut self, n: u64) -> u64 {
        self.next() % n
    }
    pub fn yes(&mut self) -> bool {
        self.below(2) == 0
    }
    pub fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }
    /// Half of them round, half with all their bits.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        let v = low + (high - low) * self.unit();
        if self.yes() { ((v * 20.0).round() / 20.0).clamp(low, high) } else { v }
    }
    pub fn pick<T: Clone>(&mut self, all: &[T]) -> T {
        all[self.below(all.len() as u64) as usize].clone()
    }
    pub fn maybe<T>(&mut self, f: impl FnOnce(&mut Self) -> T) -> Option<T> {
        self.yes().then(|| f(self))
    }
    fn text(&mut self) -> String {
        self.pick(&["plain", "with \"quotes\"", "back\\slash", "äöü ° ±", "= [x] # no", "a"]).to_owned()
    }
    fn origin(&mut self) -> Origin {
        if self.below(4) == 0 { Origin::Assumed(self.text()) } else { Origin::File { line: 0 } }
    }
    fn input<T>(&mut self, value: T) -> Input<T> {
        let o = self.origin();
        Input::new(value, o)
    }
    fn range<Q: Scalar>(&mut self, low: f64, high: f64) -> Input<Range<Q>> {
        let mut v = [self.between(low, high), self.between(low, high), self.between(low, high)];
        v.sort_by(f64::total_cmp);
        let r = match self.below(3) {
            0 => Range::exact(Q::of_si(v[0])),
            1 => Range::between(Q::of_si(v[0]), Q::of_si(v[2])),
            _ => Range::new(Q::of_si(v[0]), Q::of_si(v[1]), Q::of_si(v[2])),
        };
        self.input(r.unwrap())
    }
    fn length(&mut self, low: f64, high: f64) -> Length {
        let v = self.between(low, high);
        // Whole inches half of the time, where there are some between the ends.
        let (least, most) = ((low / 0.0254).ceil(), (high / 0.0254).floor());
        if self.yes() && least <= most {
            Length::from_inch((v / 0.0254).round().clamp(least, most))
        } else {
            Length::from_m(v)
        }
    }
    fn place(&mut self) -> Vec3 {
        Vec3::new(self.between(-400.0, 400.0), self.between(-400.0, 400.0), self.between(-20.0, 20.0))
    }
    fn direction(&mut self) -> Vec3 {
        if self.yes() {
            self.pick(&[Vec3::new(1.0, 0.0, 0.0), Vec3::UP, Vec3::new(0.0, -1.0, 0.0)])
        } else {
            self.place().unit().unwrap()
        }
    }
    fn rating(&mut self) -> Rating {
        let force = self.pick(&[
            Force::from_tonnef(4.75),
            Force::from_kn(88.0),
            Force::from_lbf(9500.0),
            Force::from_n(31_234.567),
        ]);
        let kind = self.pick(&[RatingKind::Working, RatingKind::Breaking, RatingKind::Unstated]);
        let (as_printed, force, kind, design_factor) = match self.below(4) {
            0 => ("WLL 2 t (7:1)".to_owned(), Force::from_tonnef(2.0), RatingKind::Working, Some(7.0)),
            1 => ("MBS 88 kN".to_owned(), Force::from_kn(88.0), RatingKind::Breaking, None),
            2 => (
                "4.75 T".to_owned(),
                self.pick(&[Force::from_tonnef(4.75), Force::from_short_tonf(4.75)]),
                kind,
                Some(6.0),
            ),
            _ => ("a plate with \"words\"".to_owned(), force, kind, self.maybe(|d| d.between(1.0, 20.0))),
        };
        Rating { as_printed, force, kind, design_factor }
    }
    fn label(&mut self) -> Label {
        match self.below(5) {
            0 => Label::Missing,
            1 => Label::Unreadable,
            _ => Label::Printed(self.rating()),
        }
    }
    fn vehicle(&mut self, name: &str) -> Vehicle {
        let points = (0..self.below(4))
            .map(|i| {
                let direction = self.maybe(Self::direction);
                RecoveryPoint {
                    id: format!("P{i}"),
                    kind: self.pick(&[
                        PointKind::RecoveryPoint,
                        PointKind::TowBall,
                        PointKind::TieDown,
                        PointKind::Suspension,
                        PointKind::UnratedBar,
                        PointKind::Unidentified,
                    ]),
                    position: self.place(),
                    direction,
                    cone: direction.and_then(|_| self.maybe(|d| Angle::from_deg(d.between(1.0, 89.0)))),
                    label: self.label(),
                    line: 0,
                }
            })
            .collect();
        let rated = self.between(10_000.0, 60_000.0);
        let winch = self.maybe(|d| Winch {
            id: format!("W-{name}"),
            position: d.place(),
            direction: d.direction(),
            rated_pull: d.input(Force::from_n(rated)),
            stall: d.maybe(|d| d.range(rated, 2.0 * rated)),
            drum: d.maybe(|d| Drum { diameter: d.length(0.05, 0.1), width: d.length(0.2, 0.3) }),
            line: WinchLine {
                material: d.pick(&[Material::Hmpe, Material::SteelWire]),
                diameter: Length::from_mm(d.between(5.0, 20.0)),
                length: d.length(10.0, 40.0),
                label: d.label(),
            },
            min_wraps: d.maybe(|d| d.below(20) as u32),
            mount: d.label(),
            fairlead_limit: d.maybe(|d| Angle::from_deg(d.between(1.0, 80.0))),
            current_calibrated: d.yes(),
            drive: d.maybe(Self::drive),
            line_no: 0,
        });
        Vehicle {
            name: name.to_owned(),
            mass: self.range::<Mass>(800.0, 9000.0),
            payload: self.maybe(|d| d.range::<Mass>(2000.0, 3000.0)),
            wheelbase: self.maybe(|d| {
                let l = d.length(2.0, 4.0);
                d.input(l)
            }),
            track: self.maybe(|d| {
                let l = d.length(1.2, 2.0);
                d.input(l)
            }),
            cg_height: self.maybe(|d| d.range::<Length>(0.5, 1.5)),
            points,
            winch,
            tyres: self.maybe(|d| Tyres { diameter: d.length(0.6, 1.0), width: d.length(0.2, 0.4) }),
        }
    }
    fn piece_kind(&mut self) -> PieceKind {
        let materials = [
            Material::Polyester,
            Material::Nylon,
            Material::Hmpe,
            Material::Polypropylene,
            Material::SteelWire,
            Material::Chain,
            Material::Unknown,
        ];
        match self.below(18) {
            0..=3 => self.strap(&materials),
            4 => {
                let kinetic = self.yes();
                PieceKind::Rope(Rope {
                    material: self.pick(&materials),
                    diameter: Length::from_mm(self.between(5.0, 30.0)),
                    length: self.length(2.0, 50.0),
                    kinetic,
                    stretching: self.stretching(kinetic),
                })
            }
            5 | 6 => PieceKind::Shackle { bow: self.yes(), pin: self.maybe(|d| d.length(0.01, 0.05)) },
            7 => PieceKind::SoftShackle,
            8 => PieceKind::Hook { latch: self.yes() },
            9 => PieceKind::Block {
                bearing: self.pick(&[Bearing::Plain, Bearing::Bronze, Bearing::Roller, Bearing::Unknown]),
                sheave: self.maybe(|d| d.length(0.05, 0.2)),
                line_max: self.maybe(|d| Length::from_mm(d.between(6.0, 20.0))),
            },
            10 => PieceKind::Ring {
                groove: self.maybe(|d| d.length(0.05, 0.2)),
                friction: self.maybe(|d| d.range::<f64>(0.0, 0.5)),
            },
            11 => PieceKind::HandWinch {
                line: self.length(1.0, 20.0),
                stall: self.maybe(|d| d.range::<Force>(10_000.0, 30_000.0)),
            },
            12 => PieceKind::Other(self.text()),
            13 => PieceKind::LoadCell,
            14 => PieceKind::Damper,
            15 => {
                self.pick(&[PieceKind::Shovel, PieceKind::Boards, PieceKind::Chock, PieceKind::Pump, PieceKind::Jack])
            }
            16 => self.pick(&[PieceKind::CurrentMeter, PieceKind::TiltMeter]),
            _ => PieceKind::MovementMarker,
        }
    }
    fn strap(&mut self, materials: &[Material]) -> PieceKind {
        let made_for = self.pick(&[
            StrapUse::TreeStrap,
            StrapUse::RoundSling,
            StrapUse::Extension,
            StrapUse::Bridle,
            StrapUse::Kinetic,
        ]);
        PieceKind::Strap(Strap {
            made_for,
            material: self.pick(materials),
            length: self.length(1.0, 30.0),
            width: self.maybe(|d| Length::from_mm(d.between(25.0, 120.0))),
            eyes: self.pick(&[
                EyeStyle::Flat,
                EyeStyle::Folded,
                EyeStyle::Twisted,
                EyeStyle::FoldedTwisted,
                EyeStyle::Unknown,
            ]),
            stitching: self.pick(&[Stitching::Along, Stitching::Across, Stitching::Unknown]),
            sleeve: self.yes(),
            choker_label: self.maybe(Self::rating),
            basket_label: self.maybe(Self::rating),
            stretch: self.maybe(|d| d.between(0.01, 0.4)),
            stretching: self.stretching(made_for == StrapUse::Kinetic),
        })
    }
    pub fn kit(&mut self) -> Vec<Piece> {
        let mut kit = Vec::new();
        for row in 0..self.below(12) {
            let piece = Piece {
                id: format!("K{row}"),
                kind: self.piece_kind(),
                label: self.label(),
                condition: match self.below(3) {
                    0 => Condition::Checked,
                    1 => Condition::NotChecked,
                    _ => Condition::Reject { reason: self.text() },
                },
                mass: self.maybe(|d| Mass::from_kg(d.between(0.1, 50.0))),
                line: 0,
            };
            match self.below(3) {
                0 => kit.extend((1..=1 + self.below(4)).map(|i| Piece { id: format!("K{row}-{i}"), ..piece.clone() })),
                _ => kit.push(piece),
            }
        }
        kit
    }
    fn anchor(&mut self, id: String) -> Anchor {
        let kind = anchors::kind(self);
        let height = self.length(0.02, anchors::top(&kind).min(2.0));
        Anchor {
            id,
            kind,
            position: self.place(),
            uncertainty: self.length(0.1, 3.0),
            attach_height: self.input(height),
            stated_capacity: self.maybe(|d| d.range::<Force>(1000.0, 90_000.0)),
            tied_back: None,
            line: 0,
        }
    }
    /// Ties some anchors back to later ones, each with a piece of its own; gives back the pieces that are left.
    fn tie_back(&mut self, anchors: &mut [Anchor], kit: &[Piece]) -> Vec<String> {
        let lines = kit.iter().filter(|p| matches!(p.kind, PieceKind::Strap(_) | PieceKind::Rope(_)));
        let mut lines: Vec<String> = lines.map(|p| p.id.clone()).collect();
        for i in 1..anchors.len() {
            if self.yes()
                && let Some(with) = lines.pop()
            {
                let to = anchors[i + self.below((anchors.len() - i) as u64) as usize].id.clone();
                anchors[i - 1].tied_back = Some(TieBack { to, with });
            }
        }
        lines
    }
    /// A whole case.
    pub fn case(&mut self) -> Case {
        let vehicle = self.vehicle("wagon");
        let depth = self.pick(&[Depth::NotMired, Depth::Wheel, Depth::WheelArch, Depth::Cab]);
        let turn = |d: &mut Self| {
            let v = d.between(-179.0, 180.0);
            d.pick(&[Angle::ZERO, Angle::HALF_TURN, Angle::from_deg(v), Angle::from_rad(v / 60.0)])
        };
        let slope = |d: &mut Self| Angle::from_deg(d.between(-40.0, 40.0));
        let way = turn(self);
        let side = slope(self);
        let grade = {
            let r = self.range::<Angle>(-0.5, 0.7);
            if self.yes() { Input::new(Range::exact(slope(self)).unwrap(), r.origin) } else { r }
        };
        let unloadable = vehicle.payload.as_ref().map(|_| self.range::<Mass>(100.0, 2000.0));
        let kit = self.kit();
        let count = self.below(5);
        let mut anchors: Vec<Anchor> = (0..count).map(|i| self.anchor(format!("A{i}"))).collect();
        let mut lines = self.tie_back(&mut anchors, &kit);
        let helpers = self.below(3);
        let total = self.below(9) as u32;
        Case {
            title: self.text(),
            heading: self.maybe(|d| {
                (Angle::from_deg(d.between(0.0, 359.0)), d.pick(&[North::True, North::Magnetic, North::Grid]))
            }),
            vehicle,
            stuck: Stuck {
                depth: self.input(depth),
                mire_share: if depth == Depth::NotMired { None } else { self.maybe(|d| d.range::<f64>(0.1, 2.5)) },
                obstacle: self.maybe(|d| d.range::<Force>(100.0, 5000.0)),
                locked_share: self.maybe(|d| d.range::<f64>(0.0, 1.0)),
                drive_helps: self.yes(),
                bellied: self.yes(),
                unloadable,
                overturned: self.yes(),
            },
            ground: Ground {
                surface: self.input("wet_grass".to_owned()),
                soil: Some(self.input("snow_us".to_owned())),
                method: self.pick(&[NeedMethod::Doctrine, NeedMethod::Terramechanics]),
                saturated: self.yes(),
                season: self.maybe(|d| {
                    let s = d.pick(&[Season::Growing, Season::Dormant]);
                    d.input(s)
                }),
            },
            way_out: WayOut {
                bearing: self.input(way),
                grade,
                side_slope: self.input(side),
                distance: self.range::<Length>(1.0, 50.0),
            },
            path: (0..self.below(4)).map(|_| self.stretch()).collect(),
            anchors,
            obstacles: self
                .maybe(|d| Obstacle {
                    id: "ditch".into(),
                    what: d.text(),
                    bars: d.pick(&[Bars::Lines, Bars::EscapePath]),
                    outline: (0..2 + d.below(4)).map(|_| d.place()).collect(),
                    line: 0,
                })
                .into_iter()
                .collect(),
            helpers: (0..helpers)
                .map(|i| {
                    let nose = slope(self);
                    Helper {
                        vehicle: self.vehicle(&format!("V{i}")),
                        position: self.place(),
                        heading: turn(self),
                        friction: self.maybe(|d| d.range::<f64>(0.1, 0.9)),
                        slope: self.input(nose),
                        braked_share: self.range::<f64>(0.0, 1.0),
                        chocked: self.maybe(Self::yes),
                        backed_by: (i + 1 < helpers && self.yes())
                            .then(|| lines.pop())
                            .flatten()
                            .map(|with| TieBack { to: format!("V{}", i + 1), with }),
                        can_tow: self.yes(),
                        line: 0,
                    }
                })
                .collect(),
            people: People { total, trained: total.min(self.below(3) as u32) },
            kit,
            run_up: self.maybe(Self::run_up),
            rig: None,
            policy: self.maybe(|d| d.pick(&["regulator-stall", "trade"]).to_owned()),
        }
    }
}
