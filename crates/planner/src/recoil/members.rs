//! Every member of a rig that stretches: its length, its tension, its stiffness, its mass a metre, and the energy in it.

use crate::build::length_of;
use crate::context::Context;
use crate::evaluate::Solved;
use crate::loads::{greatest_tension, last_tension, sling_tension};
use crate::rigging::{Grip, Leg, Pull, Rigging, Tie};
use unmire_audit::strength::{GearClass, label_strength, piece_strength};
use unmire_mechanics::hitch::{Hitched, Legs};
use unmire_mechanics::recoil::{Known, LinePiece, Stretchy, stored_energy, stretchy};
use unmire_mechanics::rig::Equilibrium;
use unmire_model::gear::{Material, Piece, PieceKind, StrapUse};
use unmire_model::trail::Mute;
use unmire_model::trail::Recorder;
use unmire_model::vehicle::WinchLine;
use unmire_model::{Energy, Force, Length, Mass, Range, Speed};

/// A force at work, and with the winch stalled where something can stall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Pulled {
    pub work: Force,
    pub stall: Option<Force>,
}
impl Pulled {
    /// The one that counts: at stall if something can stall.
    pub fn most(self) -> Force {
        self.stall.map_or(self.work, |s| s.max(self.work))
    }
}

/// What stretches.
#[derive(Clone, Debug)]
pub(crate) struct Member {
    /// As in the checks: a piece's id, or `line of W1`.
    pub name: String,
    /// What it does there, in words.
    pub what: String,
    /// Its length.
    pub length: Length,
    /// Its tension; of a strap in a hitch, the pull on the whole hitch.
    pub pull: Pulled,
    /// Its strap's hitch.
    pub hitched: Option<Hitched>,
    /// What it is made of, or why that is not known.
    pub stuff: Result<Stretchy, String>,
    /// The case, the kit or nobody: the piece was weighed.
    pub weighed: Option<Mass>,
}
impl Member {
    /// Energy at a pull: low, likely and high end of the stiffness, the softest storing most.
    pub fn energy(&self, pull: Force, rec: &mut impl Recorder) -> Option<Range<Energy>> {
        let stuff = self.stuff.as_ref().ok()?;
        let mut of = |ea: Force| match &self.hitched {
            // As one straight member from the trunk's middle to the connector.
            Some(h) => stored_energy(pull, h.reach, h.stiffness(ea), rec).ok(),
            None => stored_energy(pull, self.length, ea, rec).ok(),
        };
        let high = of(stuff.ea.low())?;
        let silent = |ea: Force| match &self.hitched {
            Some(h) => stored_energy(pull, h.reach, h.stiffness(ea), &mut Mute::default()).ok(),
            None => stored_energy(pull, self.length, ea, &mut Mute::default()).ok(),
        };
        Some(Range::hull(silent(stuff.ea.high())?, silent(stuff.ea.likely())?, high))
    }
    /// As a piece of a straight line: the ends of its ranges that make it fastest.
    pub fn piece(&self, pull: Force) -> Option<LinePiece> {
        let stuff = self.stuff.as_ref().ok()?;
        let share = self.hitched.as_ref().map_or(1.0, |h| h.leg_share(Legs::Equal));
        Some(LinePiece { tension: pull * share, ea: stuff.ea.low(), mass_per_metre: stuff.mass_per_metre.low() })
    }
    /// Its mass.
    pub fn mass(&self) -> Option<Range<Mass>> {
        if let Some(m) = self.weighed {
            return Some(Range::hull(m, m, m));
        }
        let stuff = self.stuff.as_ref().ok()?;
        Some(stuff.mass_per_metre.increasing(|m| m * self.length.as_m()))
    }
    /// Speed of its free end if it alone lets go.
    pub fn tip(&self, pull: Force) -> Option<Speed> {
        let p = self.piece(pull)?;
        unmire_mechanics::recoil::wave_speed(p.tension, p.ea, p.mass_per_metre).ok()
    }
    /// Whether two legs pull at an angle at its free end.
    pub fn is_bent(&self) -> bool {
        self.hitched.as_ref().is_some_and(|h| h.included.as_rad() > 0.0)
    }
}

/// What is known of a piece that stretches.
fn known(p: &Piece) -> Known {
    let strength = piece_strength(p);
    let rating = p.label.rating().map(|r| r.force);
    let base = Known { breaking: strength.breaking, weighed: p.mass.zip(length_of(p)), ..Known::default() };
    match &p.kind {
        PieceKind::Strap(s) => Known {
            material: Some(s.material),
            made_for: Some(s.made_for),
            printed_stretch: rating.zip(s.stretch),
            ..base
        },
        PieceKind::Rope(r) => Known { material: Some(r.material), diameter: Some(r.diameter), ..base },
        // Its own line: nobody says of what. Wire, chain or webbing; webbing stretches most and is lightest. The mass of the piece
        // is that of the whole winch.
        _ => Known { material: Some(Material::Polyester), made_for: Some(StrapUse::Extension), weighed: None, ..base },
    }
}

/// Stiffness and mass of a piece.
pub(crate) fn stuff_of(p: &Piece) -> Result<Stretchy, String> {
    let mut stuff = stretchy(&known(p), &mut Mute::default()).map_err(|e| e.to_string())?;
    stuff.material_assumed |= matches!(p.kind, PieceKind::HandWinch { .. });
    Ok(stuff)
}

/// Stiffness and mass of a winch's line.
pub(crate) fn stuff_of_line(line: &WinchLine) -> Result<Stretchy, String> {
    let known = Known {
        material: Some(line.material),
        diameter: Some(line.diameter),
        breaking: label_strength(&line.label, GearClass::of_line(line.material)).breaking,
        ..Known::default()
    };
    stretchy(&known, &mut Mute::default()).map_err(|e| e.to_string())
}

fn pulled(solved: &Solved, f: impl Fn(&Equilibrium) -> f64) -> Pulled {
    let stall = if solved.loads.stall_unknown { Some(Force::from_n(f64::NAN)) } else { solved.loads.at_stall(&f) };
    Pulled { work: solved.loads.work(&f), stall }
}

/// The members of a rig: where those of each station are.
#[derive(Clone, Debug, Default)]
pub(crate) struct Members {
    pub all: Vec<Member>,
    /// The line itself: one a leg for a winch, one a piece for a tow.
    pub line: Vec<usize>,
    /// What lengthens the line at its end.
    pub extensions: Vec<usize>,
    /// Per station, per leg of its grip: from the station outwards.
    pub grips: Vec<Vec<Vec<usize>>>,
    /// What holds a hand winch.
    pub start: Vec<Vec<usize>>,
}
impl Members {
    /// Everything that the line and its grips store.
    pub fn main(&self) -> impl Iterator<Item = usize> + '_ {
        let grips = self.grips.iter().chain(core::iter::once(&self.start)).flatten().flatten();
        self.line.iter().chain(&self.extensions).chain(grips).copied()
    }
}

/// All members between the puller and the dead end.
pub(crate) fn members(ctx: &Context<'_>, rigging: &Rigging<'_>, solved: &Solved) -> Members {
    let mut m = Members::default();
    let eq = &solved.loads.poor;
    let names = |i: usize| super::chain::name_of(solved, i);
    let legs: Vec<_> = eq.legs.iter().enumerate().filter(|(_, l)| l.line == 0).collect();
    let extended = solved.built.lengthened;
    let mut push = |member: Member| {
        m.all.push(member);
        m.all.len() - 1
    };
    match &rigging.pull {
        Pull::Winch { winch, .. } => {
            let stuff = stuff_of_line(&winch.line);
            for (k, (i, leg)) in legs.iter().enumerate() {
                let own = if k + 1 == legs.len() { leg.length - extended } else { leg.length };
                m.line.push(push(Member {
                    name: format!("line of {}", winch.id),
                    what: format!("from {} to {}", names(leg.from), names(leg.to)),
                    length: own.max(Length::ZERO),
                    pull: pulled(solved, |e| e.legs.get(*i).map_or(f64::NAN, |l| l.tension.as_n())),
                    hitched: None,
                    stuff: stuff.clone(),
                    weighed: None,
                }));
            }
        }
        Pull::Hand { piece, .. } => {
            let stuff = stuff_of(piece);
            for (k, (i, leg)) in legs.iter().enumerate() {
                let own = if k + 1 == legs.len() { leg.length - extended } else { leg.length };
                m.line.push(push(Member {
                    name: piece.id.clone(),
                    what: format!("its own line from {} to {}", names(leg.from), names(leg.to)),
                    length: own.max(Length::ZERO),
                    pull: pulled(solved, |e| e.legs.get(*i).map_or(f64::NAN, |l| l.tension.as_n())),
                    hitched: None,
                    stuff: stuff.clone(),
                    weighed: None,
                }));
            }
        }
        Pull::Tow { line, .. } => {
            for p in line {
                m.line.push(push(Member {
                    name: p.id.clone(),
                    what: "tow line".to_owned(),
                    length: length_of(p).unwrap_or(Length::ZERO),
                    pull: pulled(solved, greatest_tension),
                    hitched: None,
                    // A kinetic rope at its peak: the straight line to that point lies over its curved law, so neither its energy
                    // nor the speed of its end is more than by this.
                    stuff: stuff_of(p).map(|s| ctx.secant(p).map_or(s, |ea| Stretchy { ea, ..s })),
                    weighed: p.mass,
                }));
            }
        }
    }
    for p in rigging.stops.iter().flat_map(|s| &s.extensions) {
        m.extensions.push(push(Member {
            name: p.id.clone(),
            what: "lengthens the line".to_owned(),
            length: length_of(p).unwrap_or(Length::ZERO),
            pull: pulled(solved, last_tension),
            hitched: None,
            stuff: stuff_of(p),
            weighed: p.mass,
        }));
    }
    let mut grip_members = |grip: &Grip<'_>, map: &crate::build::GripMap| -> Vec<Vec<usize>> {
        match grip {
            Grip::Anchors(legs) => legs
                .iter()
                .zip(&map.legs)
                .map(|(leg, l)| {
                    let Some(sling) = l.sling else { return Vec::new() };
                    let pull = pulled(solved, |e| sling_tension(e, sling));
                    leg_members(leg, l.hitched, pull).into_iter().map(&mut push).collect()
                })
                .collect(),
            Grip::Bridle { strap: Some(strap), points, .. } => {
                let halves = map.bridle.map(|b| b.to_vec()).unwrap_or_default();
                halves
                    .iter()
                    .zip(points)
                    .map(|(sling, point)| {
                        vec![push(Member {
                            name: strap.id.clone(),
                            what: format!("leg of the bridle to point {}", point.id),
                            length: length_of(strap).unwrap_or(Length::ZERO) * 0.5,
                            pull: pulled(solved, |e| sling_tension(e, *sling)),
                            hitched: None,
                            stuff: stuff_of(strap),
                            weighed: strap.mass.map(|m| m * 0.5),
                        })]
                    })
                    .collect()
            }
            _ => vec![Vec::new()],
        }
    };
    let grips = rigging.stops.iter().zip(&solved.built.stops).map(|(s, map)| grip_members(&s.grip, map)).collect();
    if let (Pull::Hand { held_by, .. }, Some(map)) = (&rigging.pull, &solved.built.start_grip) {
        m.start = grip_members(held_by, map);
    }
    m.grips = grips;
    m
}

/// Extensions and strap of an anchor's leg, from the station outwards.
pub(crate) fn leg_members(leg: &Leg<'_>, hitched: Option<Hitched>, pull: Pulled) -> Vec<Member> {
    let mut out: Vec<Member> = leg
        .extensions
        .iter()
        .rev()
        .map(|p| Member {
            name: p.id.clone(),
            what: format!("lengthens the strap at {}", leg.anchor.id),
            length: length_of(p).unwrap_or(Length::ZERO),
            pull,
            hitched: None,
            stuff: stuff_of(p),
            weighed: p.mass,
        })
        .collect();
    if let Some(strap) = leg.strap {
        out.push(Member {
            name: strap.id.clone(),
            what: format!("strap in {} round {}", leg.hitch.word(), leg.anchor.id),
            length: length_of(strap).unwrap_or(Length::ZERO),
            pull,
            hitched,
            stuff: stuff_of(strap),
            weighed: strap.mass,
        });
    }
    out
}

/// The members of a tie-back or a holding line, from the vehicle outwards.
pub(crate) fn tie_members(tie: &Tie<'_>, what: &str, length: Length, pull: Pulled) -> Vec<Member> {
    let mut out: Vec<Member> = tie
        .line
        .iter()
        .map(|p| Member {
            name: p.id.clone(),
            what: what.to_owned(),
            length: length_of(p).unwrap_or(Length::ZERO),
            pull,
            hitched: None,
            stuff: stuff_of(p),
            weighed: p.mass,
        })
        .collect();
    match &tie.grip {
        Grip::Anchors(legs) => {
            for leg in legs {
                let hitched = leg.strap.and_then(length_of).and_then(|l| {
                    unmire_mechanics::hitch::hitch(leg.hitch, leg.anchor.kind.radius(), l, &mut unmire_model::Silent)
                        .ok()
                });
                out.extend(leg_members(leg, hitched, pull));
            }
        }
        Grip::Winch { winch, .. } => {
            let others: Length = out.iter().map(|m| m.length).sum();
            out.push(Member {
                name: format!("line of {}", winch.id),
                what: format!("winch line as the {what}"),
                length: (length - others).max(Length::ZERO),
                pull,
                hitched: None,
                stuff: stuff_of_line(&winch.line),
                weighed: None,
            });
        }
        Grip::Point { .. } | Grip::Bridle { .. } => {}
    }
    out
}
