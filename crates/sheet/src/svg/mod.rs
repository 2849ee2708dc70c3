//! The plan view to scale, as SVG: the way out points up the page; north, scale, slopes, vehicles, anchors, obstacles,
//! every leg with its tension at work and at stall, the weakest part, and the ground to keep clear.
//!
//! A near view shows the rig, a far view the whole ground to keep clear. Both are to scale, each with its own bar.
//! A kind of thing has a shape of its own; colour repeats what shape and words say.

pub mod anchor;
pub mod chart;
mod frame;
mod furniture;
mod keep;
pub mod kinetic;
mod labels;
mod marks;
mod panel;
mod pull;
pub mod recoil;
mod rig;
mod style;
mod text;
mod weakest;
mod write;

use frame::{Area, View};
use style::{CSS, MARGIN, TYPE, WIDTH};
use unmire_model::quantity::show::Units;
use unmire_planner::report::{Plan, Report};
use write::{Svg, n};

pub use pull::pull as draw_pull;

/// The drawing of the best rig; of the site alone if there is no rig.
#[must_use]
pub fn draw(r: &Report, u: Units) -> String {
    draw_plan(r, 0, u)
}

/// The drawing of the rig with this place in the ranking, the best being 0.
#[must_use]
pub fn draw_plan(r: &Report, index: usize, u: Units) -> String {
    let plan = r.plans.get(index);
    let mut body = Svg::default();
    let mut y = head(&mut body, r, plan, u);
    let view = view(r, plan);
    if matches!(view, View::Side { .. }) {
        y = text::block(&mut body, MARGIN, y, WIDTH - 2.0 * MARGIN, "small", "Seen from the side.");
    }
    match rig::draw(&mut body, r, plan, view, y + 12.0, u) {
        Some(frame) => y = frame.panel.max.1 + 14.0,
        None => y = text::block(&mut body, MARGIN, y, WIDTH - 2.0 * MARGIN, "", "There is nothing to draw."),
    }
    if let Some(p) = plan {
        y = text::legs(&mut body, p, y, u) + 14.0;
        if !p.keep_out.rings.is_empty() {
            y = keep::draw(&mut body, &r.site, p, view, y, u) + 14.0;
        }
        y = text::legend(&mut body, p, y) + 10.0;
    }
    let foot = if r.policy.is_some() {
        "Loads are rounded up. The drawing shows what was reckoned from the case file, not the ground itself. Local rules, \
         manufacturers' instructions and licensed practice come first."
    } else {
        "Statics alone: nothing is judged."
    };
    y = text::block(&mut body, MARGIN, y, WIDTH - 2.0 * MARGIN, "small", foot);
    page(r, plan, y + MARGIN, &body.finish())
}

/// Wraps the body in the page.
fn page(r: &Report, plan: Option<&Plan>, height: f64, body: &str) -> String {
    let mut out = Svg::default();
    out.raw("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    let (w, h) = (n(WIDTH), n(height));
    out.open(
        "svg",
        &[
            ("xmlns", "http://www.w3.org/2000/svg"),
            ("viewBox", &format!("0 0 {w} {h}")),
            ("width", &w),
            ("height", &h),
            ("role", "img"),
        ],
    );
    out.text_element("title", &[], &format!("Plan view: {}", r.title));
    out.text_element("desc", &[], plan.map_or("The site; no rig.", |p| p.summary.as_str()));
    out.raw(CSS);
    out.rect((0.0, 0.0), (WIDTH, height), "paper");
    out.raw(body);
    out.finish()
}

/// Title, verdict and the rig in words; gives the lower edge.
fn head(svg: &mut Svg, r: &Report, plan: Option<&Plan>, u: Units) -> f64 {
    let wide = WIDTH - 2.0 * MARGIN;
    let mut y = text::block(svg, MARGIN, MARGIN - 6.0, wide, "title", &r.title) + 4.0;
    let Some(p) = plan else {
        return text::block(svg, MARGIN, y, wide, "strong", "■ No rig could be made.");
    };
    if r.policy.is_some() {
        let stop = p.stop.line_pull.map_or_else(String::new, |f| format!(": stop at {} line pull", u.show_capacity(f)));
        let words = format!("{} {}{stop}", p.verdict.shape(), p.verdict.word());
        y = text::block(svg, MARGIN, y, wide, "strong", &words) + 2.0;
        if let Some(policy) = &r.policy {
            y = text::block(svg, MARGIN, y, wide, "small", &format!("Policy: {}", policy.name)) + 2.0;
        }
    }
    if !p.summary.is_empty() {
        y = text::block(svg, MARGIN, y, wide, "", &p.summary);
    }
    if let Some(c) = weakest::check(p) {
        y = text::block(svg, MARGIN, y + 2.0, wide, "", &format!("Weakest part: {}, {}.", c.part, c.what));
    }
    y.max(MARGIN + TYPE)
}

/// From above with the way out up the page; a bare rig that stands upright is seen from the side.
fn view(r: &Report, plan: Option<&Plan>) -> View {
    let above = View::Plan { up: r.site.way_out };
    let (None, Some(p)) = (&r.policy, plan) else { return above };
    let spread = |f: &dyn Fn(&unmire_planner::report::PlanPoint) -> f64| {
        Area::of(p.points.iter().map(|q| (f(q), 0.0))).map_or(0.0, Area::width)
    };
    let (x, y, z) = (spread(&|q| q.at.x), spread(&|q| q.at.y), spread(&|q| q.at.z));
    if z > 0.25 * x.max(y) && z > x.min(y) { View::Side { along_y: y > x } } else { above }
}
