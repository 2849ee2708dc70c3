//! Where labels go: each is tried at a number of places round its anchor and takes the one that hides least.
//! Greedy, so the important ones come first.

use super::frame::{Area, Spot};

/// About how wide a character is, as a share of the type size. Wide on purpose: the reader's typeface is not known.
const CHARACTER: f64 = 0.6;
/// The same in bold.
const BOLD: f64 = 0.68;

/// How many ordinary characters wide a text is: marks that stand on another take no room, the signs of the Far East and pictures take two.
/// A terminal's columns are counted by larger tables; the reader's typeface is not known here anyway.
#[must_use]
pub(super) fn columns(text: &str) -> usize {
    let wide = |c: char| match c {
        '\u{300}'..='\u{36f}' | '\u{20d0}'..='\u{20ff}' | '\u{fe00}'..='\u{fe0f}' => 0,
        '\u{1100}'..='\u{115f}'
        | '\u{2e80}'..='\u{303e}'
        | '\u{3041}'..='\u{a4cf}'
        | '\u{ac00}'..='\u{d7a3}'
        | '\u{f900}'..='\u{faff}'
        | '\u{ff01}'..='\u{ff60}'
        | '\u{1f300}'..='\u{1faff}'
        | '\u{20000}'..='\u{3fffd}' => 2,
        _ => 1,
    };
    text.chars().map(wide).sum()
}

/// About how wide a text is.
#[must_use]
pub(super) fn text_width(text: &str, size: f64) -> f64 {
    columns(text) as f64 * size * CHARACTER
}

/// About how wide a bold text is.
#[must_use]
pub(super) fn bold_width(text: &str, size: f64) -> f64 {
    columns(text) as f64 * size * BOLD
}

/// What is on the page already.
#[derive(Debug)]
pub(super) struct Places {
    panel: Area,
    taken: Vec<Area>,
    /// Lines that are better not covered.
    strokes: Vec<(Spot, Spot)>,
}

/// A place that was found: the box and, where the label had to go far, the leader's end on the box.
#[derive(Clone, Copy, Debug)]
pub(super) struct Place {
    pub area: Area,
    pub leader: Option<Spot>,
    /// The point that it belongs to.
    pub from: Spot,
}

impl Places {
    pub fn new(panel: Area) -> Self {
        Self { panel: panel.grown(-4.0), taken: Vec::new(), strokes: Vec::new() }
    }
    /// Bars a box.
    pub fn take(&mut self, area: Area) {
        self.taken.push(area);
    }
    /// Makes a line dear to cover.
    pub fn stroke(&mut self, a: Spot, b: Spot) {
        self.strokes.push((a, b));
    }
    /// Finds a place near a point for a box of this size, and bars it.
    pub fn near(&mut self, at: Spot, size: Spot, clear: f64) -> Place {
        self.best(&[at], size, clear)
    }
    /// Finds a place near one of several points, and bars it.
    pub fn near_any(&mut self, at: &[Spot], size: Spot, clear: f64) -> Place {
        self.best(at, size, clear)
    }
    /// What a box would cover: for things that may go into one corner or another.
    pub fn covered(&self, area: Area) -> f64 {
        self.cost(area)
    }
    /// Finds a place near one of several points of a leg, and bars it.
    pub fn along(&mut self, a: Spot, b: Spot, size: Spot, clear: f64) -> Place {
        let at = |t: f64| (a.0 + (b.0 - a.0) * t, a.1 + (b.1 - a.1) * t);
        self.best(&[0.5, 0.4, 0.6, 0.3, 0.7, 0.22, 0.78].map(at), size, clear)
    }

    fn best(&mut self, anchors: &[Spot], size: Spot, clear: f64) -> Place {
        let mut best: Option<(f64, Area, f64, Spot)> = None;
        for (i, at) in anchors.iter().enumerate() {
            for (ring, gap) in [clear, clear + 14.0, clear + 34.0, clear + 64.0, clear + 104.0].into_iter().enumerate()
            {
                for way in 0..12 {
                    let angle = f64::from(way) * core::f64::consts::TAU / 12.0;
                    let (dx, dy) = (libm::cos(angle), libm::sin(angle));
                    let middle = (at.0 + dx * (gap + 0.5 * size.0), at.1 + dy * (gap + 0.5 * size.1));
                    let area = Area {
                        min: (middle.0 - 0.5 * size.0, middle.1 - 0.5 * size.1),
                        max: (middle.0 + 0.5 * size.0, middle.1 + 0.5 * size.1),
                    };
                    let cost =
                        self.cost(area) + 260.0 * ring as f64 + 40.0 * i as f64 + if dx < -0.1 { 15.0 } else { 0.0 };
                    if best.is_none_or(|(least, ..)| cost < least) {
                        best = Some((cost, area, gap, *at));
                    }
                }
            }
        }
        let (area, leader, from) = match best {
            Some((_, area, gap, at)) => (area, (gap > clear + 10.0).then_some(at), at),
            None => (Area { min: self.panel.min, max: self.panel.min }, None, self.panel.min),
        };
        self.take(area.grown(2.0));
        if let Some(at) = leader {
            self.stroke(at, nearest(area, at));
        }
        Place { area, leader, from }
    }

    fn cost(&self, area: Area) -> f64 {
        let inside = area.shared(self.panel);
        let outside = area.width() * area.height() - inside;
        let hidden: f64 = self.taken.iter().map(|t| t.shared(area)).sum();
        let crossed: f64 = self.strokes.iter().map(|(a, b)| length_in(area, *a, *b)).sum();
        outside * 30.0 + hidden * 12.0 + crossed * 26.0
    }
}

/// The place on a box that is nearest to a point.
#[must_use]
pub(super) fn nearest(area: Area, p: Spot) -> Spot {
    (p.0.clamp(area.min.0, area.max.0), p.1.clamp(area.min.1, area.max.1))
}

/// How much of a line lies in a box.
fn length_in(area: Area, a: Spot, b: Spot) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (d, start, low, high) in [(dx, a.0, area.min.0, area.max.0), (dy, a.1, area.min.1, area.max.1)] {
        if d.abs() < 1e-12 {
            if start < low || start > high {
                return 0.0;
            }
        } else {
            let (t0, t1) = ((low - start) / d, (high - start) / d);
            from = from.max(t0.min(t1));
            to = to.min(t0.max(t1));
        }
    }
    if to > from { (to - from) * libm::hypot(dx, dy) } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_length_of_a_line_in_a_box() {
        let a = Area { min: (0.0, 0.0), max: (10.0, 4.0) };
        assert!((length_in(a, (-5.0, 2.0), (15.0, 2.0)) - 10.0).abs() < 1e-12);
        assert!((length_in(a, (2.0, 1.0), (2.0, 9.0)) - 3.0).abs() < 1e-12);
        assert!(length_in(a, (0.0, 5.0), (10.0, 5.0)).abs() < 1e-12);
    }

    #[test]
    fn regress_labels_of_crowded_points_do_not_overlap() {
        let mut p = Places::new(Area { min: (0.0, 0.0), max: (600.0, 600.0) });
        let boxes: Vec<Area> =
            (0..8).map(|i| p.near((300.0 + f64::from(i) * 6.0, 300.0), (90.0, 20.0), 8.0).area).collect();
        for (i, a) in boxes.iter().enumerate() {
            for b in boxes.iter().skip(i + 1) {
                assert!(a.shared(*b) < 1e-9, "{a:?} {b:?}");
            }
        }
    }
}
