//! What adds up along the way: time, charge, heat, and the account of the work.

use super::place::Place;
use super::report::Account;
use super::walk::Setup;
use unmire_mechanics::rig::Equilibrium;
use unmire_mechanics::winch::{Electric, net_current};
use unmire_model::{Charge, Current, Energy, Force, Range, Time, Vec3};

/// Low, likely, high.
type Three = [f64; 3];

/// What has added up.
#[derive(Clone, Debug, Default)]
pub(crate) struct Tally {
    time: Three,
    charge: Three,
    heat: Three,
    pub account: Account,
}

fn range<Q: unmire_model::range::Scalar>(v: &Three) -> Range<Q> {
    Range::hull(Q::of_si(v[0]), Q::of_si(v[1]), Q::of_si(v[2]))
}

impl Tally {
    /// Time of pulling.
    pub fn time(&self) -> Range<Time> {
        range(&self.time)
    }
    /// Charge from the battery.
    pub fn charge(&self) -> Range<Charge> {
        range(&self.charge)
    }
    /// Heat of the motor, in runs from cold.
    pub fn heat(&self) -> Range<f64> {
        range(&self.heat)
    }

    /// From one place to the next.
    pub fn step(&mut self, w: &Setup<'_, '_>, a: &Place, b: &Place, hauled: bool) {
        // Line that comes in; a towing vehicle drives the way itself.
        let moved = if hauled { (a.line - b.line).max(0.0) } else { b.s - a.s };
        if let (Some(x), Some(y)) = (&a.running, &b.running) {
            let seconds = |v0: f64, v1: f64| if moved > 0.0 { 0.5 * moved * (1.0 / v0 + 1.0 / v1) } else { 0.0 };
            let dt = [
                seconds(x.speed.high().as_m_s(), y.speed.high().as_m_s()),
                seconds(x.speed.likely().as_m_s(), y.speed.likely().as_m_s()),
                seconds(x.speed.low().as_m_s(), y.speed.low().as_m_s()),
            ];
            for (t, d) in self.time.iter_mut().zip(dt) {
                *t += d;
            }
            let electric = w.motor.as_ref().and_then(|m| m.electric.as_ref());
            if let (Some(e), Some(i), Some(j)) = (electric, &x.current, &y.current) {
                self.electric(e, i, j, dt);
            }
        }
        self.work(w, a, b, hauled);
    }

    fn electric(&mut self, e: &Electric, i: &Range<Current>, j: &Range<Current>, dt: Three) {
        let (n, m) = (net_current(i, &e.alternator), net_current(j, &e.alternator));
        let ends = |r: &Range<Current>| r.values().map(Current::as_a);
        let run = [e.run.high().as_s(), e.run.likely().as_s(), e.run.low().as_s()];
        let (n, m, i, j) = (ends(&n), ends(&m), ends(i), ends(j));
        let rated = e.at_rated.as_a();
        for k in 0..3 {
            let mean = 0.5 * (n[k] + m[k]);
            // No current over an endless time is still no charge.
            self.charge[k] += if mean > 0.0 { mean * dt[k] } else { 0.0 };
            let (x, y) = (i[k] / rated, j[k] / rated);
            self.heat[k] += if dt[k] > 0.0 { 0.5 * (x * x + y * y) * dt[k] / run[k] } else { 0.0 };
        }
    }

    /// The account: the winch's work against all that it goes into.
    fn work(&mut self, w: &Setup<'_, '_>, a: &Place, b: &Place, hauled: bool) {
        let (e, f) = (&a.poor, &b.poor);
        if e.legs.len() != f.legs.len() || e.legs.is_empty() {
            return;
        }
        let acc = &mut self.account;
        let add = |sum: &mut Energy, j: f64| *sum += Energy::from_j(j);
        let first = |q: &Equilibrium| q.tensions.first().map_or(0.0, |t| t.as_n());
        let line = |q: &Equilibrium| q.legs_of(0).map(|l| l.length.as_m()).sum::<f64>();
        if hauled {
            add(&mut acc.puller, 0.5 * (first(e) + first(f)) * (line(e) - line(f)));
        }
        // What goes with the vehicle is pulled along with it.
        for (i, node) in w.built.structure.nodes.iter().enumerate() {
            let (Some(p), Some(q)) = (e.positions.get(i), f.positions.get(i)) else { continue };
            let way = b.pose.on_site(*q) - a.pose.on_site(*p);
            if w.goes_along(i) {
                let at =
                    |eq: &Equilibrium, pl: &Place| eq.forces.get(i).map_or(Vec3::ZERO, |v| v.turned(pl.pose.turned));
                let done = ((at(e, a) + at(f, b)) * 0.5).dot(way);
                if w.built.stuck.contains(&i) {
                    add(&mut acc.turning, done);
                } else {
                    add(&mut acc.puller, -done);
                }
            } else if !node.fixed {
                add(&mut acc.potential, node.weight.as_n() * way.z);
            }
        }
        // Of what was done on the vehicle, its way against the need lifted it or went against resistance; the rest turned it.
        let against = 0.5 * (a.need.high().as_n() + b.need.high().as_n()) * (b.s - a.s);
        let lifted = w.lift(b.leg).as_n() * (b.s - a.s);
        add(&mut acc.potential, lifted);
        add(&mut acc.resistance, against - lifted);
        add(&mut acc.turning, -against);
        for (sling, (x, y)) in w.built.structure.slings.iter().zip(e.slings.iter().zip(&f.slings)) {
            let rest = sling.rest_length.as_m();
            let stored = |l: f64| {
                let long = (l - rest).max(0.0);
                0.5 * sling.ea.as_n() / rest * long * long
            };
            add(&mut acc.elastic, stored(y.length.as_m()) - stored(x.length.as_m()));
        }
        // Line that passes a sheave: what lies beyond it grows shorter by that much.
        let beyond = |q: &Equilibrium, k: usize| q.legs_of(0).skip(k + 1).map(|l| l.length.as_m()).sum::<f64>();
        let lost = |q: &Equilibrium, k: usize| {
            let mut legs = q.legs_of(0).skip(k).map(|l| l.tension);
            let (x, y) = (legs.next().unwrap_or(Force::ZERO), legs.next().unwrap_or(Force::ZERO));
            (x - y).as_n()
        };
        for k in 0..e.turns_of(0).count() {
            add(&mut acc.sheaves, 0.5 * (lost(e, k) + lost(f, k)) * (beyond(e, k) - beyond(f, k)));
        }
    }
}
