//! A rig in the crew's words, every reference checked.

use super::kit::refer;
use crate::walk::{Mistake, Node, Walk, either, nearest};
use core::ops::Range as Span;
use std::collections::BTreeMap;
use unmire_model::case::Case;
use unmire_model::gear::PieceKind;
use unmire_model::layout::{AnchorLeg, Family, Hitch, Hold, HoldingLine, Layout, Puller, Station, Who};
use unmire_model::vehicle::Vehicle;

struct Rigger<'c> {
    /// What the references point into; nothing if that is itself wrong, and then only the rig's own shape is judged.
    case: Option<&'c Case>,
    /// Pieces that already have a place.
    used: BTreeMap<String, u32>,
}

fn is_connector(k: &PieceKind) -> bool {
    matches!(k, PieceKind::Shackle { .. } | PieceKind::SoftShackle | PieceKind::Hook { .. } | PieceKind::LoadCell)
}
fn is_strap(k: &PieceKind) -> bool {
    matches!(k, PieceKind::Strap(_))
}
pub(super) fn is_line(k: &PieceKind) -> bool {
    matches!(k, PieceKind::Strap(_) | PieceKind::Rope(_))
}
fn is_block(k: &PieceKind) -> bool {
    matches!(k, PieceKind::Block { .. } | PieceKind::Ring { .. })
}

/// Reads a rig.
pub(super) fn layout(w: &mut Walk<'_>, n: &Node<'_, '_>, case: Option<&Case>) -> Option<Layout> {
    let told = w.found.len();
    // What holds an anchor or a helper back can't be anywhere else.
    let anchors = case.iter().flat_map(|c| &c.anchors).map(|a| (&a.tied_back, a.line));
    let helpers = case.iter().flat_map(|c| &c.helpers).map(|h| (&h.backed_by, h.line));
    let ties = anchors.chain(helpers);
    let mut used = BTreeMap::new();
    used.extend(ties.filter_map(|(t, line)| t.as_ref().map(|t| (t.with.clone(), line))));
    let mut r = Rigger { case, used };
    let family = n.word(w, "family").and_then(|i| Family::ALL.get(i).copied());
    let puller = r.puller(w, n);
    let nodes = n.tables(w, "station").unwrap_or_default();
    let mut stations = Vec::new();
    let last = nodes.len().saturating_sub(1);
    for (i, s) in nodes.iter().enumerate() {
        if let Some(s) = r.station(w, s, i == last) {
            stations.push(s);
        }
    }
    if nodes.is_empty() && n.has("station") {
        w.tell(
            Mistake::new("missing-key", n.span_of("station"), "a line without a station goes nowhere")
                .expected("at least the place where the line ends")
                .example("[[rig.station]]"),
        );
    }
    let mut second = |r: &mut Rigger<'_>, name: &'static str| {
        n.has(name).then(|| n.table(w, name).and_then(|t| r.holding(w, &t, name, &puller)))
    };
    let tie_back = second(&mut r, "tie_back").flatten();
    let holding = second(&mut r, "holding").flatten();
    let beside = n.ids(w, "beside").unwrap_or_default();
    for (id, span) in &beside {
        r.piece(w, id, span.clone(), "beside the rig", |_| true);
    }
    let line = n.line(w);
    if w.found.len() > told {
        return None;
    }
    Some(Layout {
        family: family?,
        puller: puller?,
        stations,
        tie_back,
        holding,
        beside: beside.into_iter().map(|(id, _)| id).collect(),
        line,
    })
}

impl Rigger<'_> {
    fn piece(
        &mut self,
        w: &mut Walk<'_>,
        id: &str,
        span: Span<usize>,
        place: &str,
        fits: impl Fn(&PieceKind) -> bool,
    ) -> Option<()> {
        let Some(case) = self.case else { return Some(()) };
        refer(w, &case.kit, id, span.clone(), place, fits)?;
        let line = w.lines.line(span.start);
        if let Some(before) = self.used.insert(id.to_owned(), line) {
            w.tell(
                Mistake::new("used-twice", span, format!("\"{id}\" already has a place, on line {before}"))
                    .expected("each piece in one place"),
            );
            return None;
        }
        Some(())
    }
    fn pieces(
        &mut self,
        w: &mut Walk<'_>,
        n: &Node<'_, '_>,
        name: &'static str,
        place: &str,
        fits: impl Fn(&PieceKind) -> bool,
    ) -> Option<Vec<String>> {
        if !n.has(name) {
            return Some(Vec::new());
        }
        let ids = n.ids(w, name)?;
        let mut good = true;
        for (id, span) in &ids {
            good &= self.piece(w, id, span.clone(), place, &fits).is_some();
        }
        good.then(|| ids.into_iter().map(|(id, _)| id).collect())
    }
    fn connectors(&mut self, w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Vec<String>> {
        self.pieces(w, n, "connectors", "a connector", is_connector)
    }
    fn who(&self, w: &mut Walk<'_>, n: &Node<'_, '_>, key: &'static str) -> Option<Who> {
        if !n.has(key) {
            return Some(Who::Stuck);
        }
        let name = n.id(w, key)?;
        self.who_is(w, &name, n.span_of(key))
    }
    fn who_is(&self, w: &mut Walk<'_>, name: &str, span: Span<usize>) -> Option<Who> {
        let Some(case) = self.case else {
            return Some(if name == "stuck" { Who::Stuck } else { Who::Helper(name.to_owned()) });
        };
        if name == "stuck" || name == case.vehicle.name {
            return Some(Who::Stuck);
        }
        if case.helpers.iter().any(|h| h.vehicle.name == name) {
            return Some(Who::Helper(name.to_owned()));
        }
        let mut names = vec!["stuck"];
        names.extend(case.helpers.iter().map(|h| h.vehicle.name.as_str()));
        w.tell(
            Mistake::new("unknown-id", span, format!("no vehicle \"{name}\" in this case"))
                .expected(either(&names))
                .maybe_hint(nearest(name, names.iter().copied()).map(|x| format!("did you mean \"{x}\"?"))),
        );
        None
    }
    fn vehicle(&self, who: &Who) -> Option<&Vehicle> {
        let case = self.case?;
        match who {
            Who::Stuck => Some(&case.vehicle),
            Who::Helper(name) => case.helpers.iter().map(|h| &h.vehicle).find(|v| v.name == *name),
        }
    }
    fn point(&self, w: &mut Walk<'_>, who: &Who, id: &str, span: Span<usize>) -> Option<()> {
        let Some(vehicle) = self.vehicle(who) else { return Some(()) };
        if vehicle.points.iter().any(|p| p.id == id) {
            return Some(());
        }
        let ids: Vec<&str> = vehicle.points.iter().map(|p| p.id.as_str()).collect();
        w.tell(
            Mistake::new("unknown-id", span, format!("\"{}\" has no point \"{id}\"", vehicle.name))
                .expected(either(&ids))
                .maybe_hint(nearest(id, ids.iter().copied()).map(|x| format!("did you mean \"{x}\"?"))),
        );
        None
    }
    fn puller(&mut self, w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Puller> {
        let given: Vec<&str> = ["winch", "tow", "hand_winch"].into_iter().filter(|k| n.has(k)).collect();
        if given.len() != 1 {
            let m = if given.is_empty() {
                Mistake::new("missing-key", n.span.clone(), "nothing pulls in this rig")
            } else {
                Mistake::new(
                    "contradiction",
                    n.span_of(given.last().copied().unwrap_or("tow")),
                    format!("{} pull at once", given.join(" and ")),
                )
            };
            w.tell(m.expected("one of winch, tow and hand_winch").example("winch = \"stuck\""));
            return None;
        }
        if n.has("winch") {
            let on = self.who(w, n, "winch")?;
            if self.vehicle(&on).is_some_and(|v| v.winch.is_none()) {
                w.tell(
                    Mistake::new("unknown-id", n.span_of("winch"), "that vehicle has no winch")
                        .expected("a vehicle with a winch; or tow, or hand_winch"),
                );
                return None;
            }
            return Some(Puller::Winch { on });
        }
        if n.has("tow") {
            let t = n.table(w, "tow")?;
            let helper = t.id(w, "helper");
            let point = t.id(w, "point");
            let connectors = self.connectors(w, &t);
            let line = if t.has("line") {
                self.pieces(w, &t, "line", "a tow line", is_line)
            } else {
                t.ids(w, "line").map(|_| Vec::new())
            };
            let (helper, point) = (helper?, point?);
            let who = self.who_is(w, &helper, t.span_of("helper"))?;
            if who == Who::Stuck {
                w.tell(
                    Mistake::new("contradiction", t.span_of("helper"), "the stuck vehicle can't tow itself")
                        .expected("a helper's name"),
                );
                return None;
            }
            self.point(w, &who, &point, t.span_of("point"))?;
            return Some(Puller::Tow { helper, point, connectors: connectors?, line: line? });
        }
        let t = n.table(w, "hand_winch")?;
        let piece = t.id(w, "piece");
        let held_by = self.hold(w, &t);
        let piece = piece?;
        self.piece(w, &piece, t.span_of("piece"), "a hand winch", |k| matches!(k, PieceKind::HandWinch { .. }))?;
        Some(Puller::HandWinch { piece, held_by: Box::new(held_by?) })
    }
    fn station(&mut self, w: &mut Walk<'_>, n: &Node<'_, '_>, last: bool) -> Option<Station> {
        let block = if n.has("block") { n.id(w, "block") } else { None };
        if let Some(id) = &block {
            self.piece(w, id, n.span_of("block"), "a block", is_block);
        }
        match (last, n.has("block")) {
            (true, true) => w.tell(
                Mistake::new(
                    "contradiction",
                    n.span_of("block"),
                    "the last station is where the line ends, and a line does not end on a sheave",
                )
                .expected("one more [[rig.station]] for the dead end, or no block here"),
            ),
            (false, false) => {
                n.miss(w, "block", "the line goes on from here, so it turns round something");
            }
            _ => {}
        }
        let extensions = self.pieces(w, n, "extensions", "an extension of the line", is_line);
        let connectors = self.connectors(w, n);
        let hold = self.hold(w, n);
        Some(Station { block, extensions: extensions?, connectors: connectors?, hold: hold? })
    }
    fn hold(&mut self, w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Hold> {
        let holds = ["anchors", "point", "bridle", "winch"];
        let holds: Vec<&str> = holds.into_iter().filter(|k| n.section.key(k).is_some()).collect();
        let given: Vec<&str> = holds.iter().copied().filter(|k| n.has(k)).collect();
        if given.len() != 1 {
            let m = if given.is_empty() {
                Mistake::new("missing-key", n.span.clone(), format!("nothing holds this [{}]", n.section.name))
            } else {
                Mistake::new(
                    "contradiction",
                    n.span_of(given.last().copied().unwrap_or("point")),
                    format!("{} hold it at once", given.join(" and ")),
                )
            };
            w.tell(m.expected(format!("one of {}", either(&holds).replace('"', ""))).example(
                "anchors = [{ anchor = \"A1\", hitch = \"basket\", strap = \"K1\", connectors = [\"K2-1\"] }]",
            ));
            return None;
        }
        match given.first().copied() {
            Some("anchors") => {
                let legs = n.tables(w, "anchors")?;
                if legs.is_empty() {
                    w.tell(
                        Mistake::new("missing-key", n.span_of("anchors"), "an empty list of anchors holds nothing")
                            .expected("one to three anchors"),
                    );
                    return None;
                }
                let made: Vec<_> = legs.iter().map(|l| self.leg(w, l)).collect();
                made.into_iter().collect::<Option<Vec<_>>>().map(Hold::Anchors)
            }
            Some("point") => {
                let t = n.table(w, "point")?;
                let on = self.who(w, &t, "on");
                let point = t.id(w, "point");
                let connectors = self.connectors(w, &t);
                let (on, point) = (on?, point?);
                self.point(w, &on, &point, t.span_of("point"))?;
                Some(Hold::Point { on, point, connectors: connectors? })
            }
            Some("winch") => {
                let on = self.who(w, n, "winch")?;
                if self.vehicle(&on).is_some_and(|v| v.winch.is_none()) {
                    w.tell(
                        Mistake::new("unknown-id", n.span_of("winch"), "that vehicle has no winch")
                            .expected("a vehicle with a winch"),
                    );
                    return None;
                }
                Some(Hold::Winch { on })
            }
            _ => {
                let t = n.table(w, "bridle")?;
                let on = self.who(w, &t, "on");
                let points = t.ids(w, "points");
                let bridle = t.id(w, "strap");
                let connectors = self.connectors(w, &t);
                let (on, points, bridle) = (on?, points?, bridle?);
                let [(a, a_at), (b, b_at)] = <[_; 2]>::try_from(points)
                    .map_err(|p: Vec<_>| {
                        w.tell(
                            Mistake::new(
                                "wrong-type",
                                t.span_of("points"),
                                format!("a bridle joins two points, and this names {}", p.len()),
                            )
                            .expected("two ids")
                            .example("points = [\"F1\", \"F2\"]"),
                        );
                    })
                    .ok()?;
                if a == b {
                    w.tell(
                        Mistake::new("contradiction", b_at, "a bridle from a point to itself shares nothing")
                            .expected("two different points"),
                    );
                    return None;
                }
                let both = self.point(w, &on, &a, a_at).and(self.point(w, &on, &b, b_at));
                self.piece(w, &bridle, t.span_of("strap"), "a bridle", is_line)?;
                both?;
                Some(Hold::Bridle { on, points: [a, b], bridle, connectors: connectors? })
            }
        }
    }
    fn leg(&mut self, w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<AnchorLeg> {
        let anchor = n.id(w, "anchor");
        let hitch = n.word(w, "hitch").and_then(|i| [Hitch::Basket, Hitch::Choker, Hitch::Straight].get(i).copied());
        let strap = if n.has("strap") { n.id(w, "strap") } else { None };
        if let Some(id) = &strap {
            self.piece(w, id, n.span_of("strap"), "round an anchor", is_strap);
        }
        let extensions = self.pieces(w, n, "extensions", "an extension of a strap", is_line);
        let connectors = self.connectors(w, n);
        let (anchor, hitch) = (anchor?, hitch?);
        let Some(case) = self.case else {
            return Some(AnchorLeg { anchor, hitch, strap, extensions: extensions?, connectors: connectors? });
        };
        let Some(found) = case.anchor(&anchor) else {
            let ids: Vec<&str> = case.anchors.iter().map(|a| a.id.as_str()).collect();
            w.tell(
                Mistake::new("unknown-id", n.span_of("anchor"), format!("no anchor \"{anchor}\" in this case"))
                    .expected(either(&ids))
                    .maybe_hint(nearest(&anchor, ids.iter().copied()).map(|x| format!("did you mean \"{x}\"?"))),
            );
            return None;
        };
        let made = found.kind.is_made();
        if hitch != Hitch::Straight && !n.has("strap") {
            n.miss(w, "strap", "a basket or a choker is made with a strap");
        }
        if hitch != Hitch::Straight && made {
            w.tell(
                Mistake::new(
                    "contradiction",
                    n.span_of("hitch"),
                    format!("\"{anchor}\" is made, with a fitting: nothing goes round it"),
                )
                .expected("hitch = \"straight\""),
            );
        }
        if hitch == Hitch::Straight && !made && found.kind.radius().is_some() {
            w.tell(
                Mistake::new("contradiction", n.span_of("hitch"), format!("\"{anchor}\" has no fitting to hook to"))
                    .expected("hitch = \"basket\" or \"choker\""),
            );
        }
        Some(AnchorLeg { anchor, hitch, strap, extensions: extensions?, connectors: connectors? })
    }
    fn holding(
        &mut self,
        w: &mut Walk<'_>,
        n: &Node<'_, '_>,
        name: &str,
        puller: &Option<Puller>,
    ) -> Option<HoldingLine> {
        let point = n.id(w, "from");
        let connectors = self.connectors(w, n);
        let line = self.pieces(w, n, "line", "a holding line", is_line);
        let hold = self.hold(w, n);
        let point = point?;
        // A tie-back holds the helper that pulls, a holding line the stuck vehicle.
        let who = match (name, puller) {
            ("tie_back", Some(Puller::Winch { on: Who::Helper(h) })) => Who::Helper(h.clone()),
            ("tie_back", Some(Puller::Tow { helper, .. })) => Who::Helper(helper.clone()),
            ("tie_back", Some(_)) => {
                w.tell(
                    Mistake::new(
                        "contradiction",
                        n.span.clone(),
                        "a tie-back holds a helper that pulls, and no helper pulls here",
                    )
                    .expected("winch = the helper's name; or [rig.holding] for the stuck vehicle"),
                );
                return None;
            }
            ("tie_back", None) => return None,
            _ => Who::Stuck,
        };
        self.point(w, &who, &point, n.span_of("from"))?;
        Some(HoldingLine { point, connectors: connectors?, line: line?, hold: hold? })
    }
}
