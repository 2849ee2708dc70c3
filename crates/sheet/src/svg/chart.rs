//! A chart: curves and bands against one axis, in the look of the plan view. Drawn by a charting library; only words,
//! colours and marks are ours.

use super::write::escape;
use plotters::prelude::*;

/// Size of the picture.
const SIZE: (u32, u32) = (640, 420);
/// Ink, as in the plan view.
const INK: RGBColor = RGBColor(28, 39, 51);
/// Colour of each curve in turn; each has its own name beside it, so that nothing hangs on colour.
const CURVES: [RGBColor; 4] =
    [RGBColor(23, 74, 124), RGBColor(143, 67, 34), RGBColor(42, 107, 69), RGBColor(106, 61, 120)];

/// A curve by name.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Curve {
    /// What it is.
    pub name: String,
    /// Its points, by rising x.
    pub points: Vec<(f64, f64)>,
}

/// What is drawn. Numbers are in the units that the axes name.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Chart {
    /// Title.
    pub title: String,
    /// What stands along the axis across, with its unit.
    pub across: String,
    /// What stands along the axis upwards, with its unit.
    pub up: String,
    /// A band: x, low, high.
    pub band: Vec<(f64, f64, f64)>,
    /// What the band is.
    pub band_name: String,
    /// Curves.
    pub curves: Vec<Curve>,
    /// Places along the axis across, with a word each.
    pub marks: Vec<(f64, String)>,
    /// Heights that must not be passed, with a word each.
    pub levels: Vec<(f64, String)>,
}

/// Charts one under the other as one SVG file; nothing if none of them has anything to draw.
#[must_use]
pub fn stacked(title: &str, charts: &[Chart]) -> Option<String> {
    let drawn: Vec<String> = charts.iter().filter_map(draw).collect();
    if drawn.is_empty() {
        return None;
    }
    let (wide, one) = SIZE;
    let high = one * u32::try_from(drawn.len()).ok()?;
    let mut out = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide}\" height=\"{high}\" viewBox=\"0 0 {wide} {high}\" role=\"img\">\n<title>{}</title>\n",
        escape(title)
    );
    for (i, c) in drawn.iter().enumerate() {
        // A chart is a picture of its own: put inside at its place.
        let body = c.replacen("<svg ", &format!("<svg y=\"{}\" ", one * i as u32), 1);
        out.push_str(&body);
        if !body.ends_with('\n') {
            out.push('\n');
        }
    }
    out.push_str("</svg>\n");
    Some(out)
}

/// The chart as an SVG file; nothing if there are no two points to draw.
#[must_use]
pub fn draw(c: &Chart) -> Option<String> {
    let all = || {
        let curves = c.curves.iter().flat_map(|k| k.points.iter().copied());
        curves.chain(c.band.iter().flat_map(|&(x, low, high)| [(x, low), (x, high)]))
    };
    let finite = |v: f64| v.is_finite();
    let across = bounds(all().map(|p| p.0).chain(c.marks.iter().map(|m| m.0)).filter(|v| finite(*v)))?;
    let up = bounds(all().map(|p| p.1).chain(c.levels.iter().map(|l| l.0)).chain([0.0]).filter(|v| finite(*v)))?;
    let up = (up.0, up.1 + (up.1 - up.0) * 0.06);
    let mut out = String::new();
    {
        let root = SVGBackend::with_string(&mut out, SIZE).into_drawing_area();
        paint(&root, c, across, up).ok()?;
        root.present().ok()?;
    }
    Some(named(&out, c))
}

/// Least and greatest, if they differ.
fn bounds(values: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    let (low, high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)));
    (low.is_finite() && high > low).then_some((low, high))
}

type Area<'a> = DrawingArea<SVGBackend<'a>, plotters::coord::Shift>;
type Failed<'a> = DrawingAreaErrorKind<<SVGBackend<'a> as DrawingBackend>::ErrorType>;

fn paint<'a>(root: &Area<'a>, c: &Chart, across: (f64, f64), up: (f64, f64)) -> Result<(), Failed<'a>> {
    root.fill(&WHITE)?;
    let mut chart = ChartBuilder::on(root)
        .caption(&c.title, ("sans-serif", 20).into_font().color(&INK))
        .margin(14)
        .x_label_area_size(46)
        .y_label_area_size(64)
        .build_cartesian_2d(across.0..across.1, up.0..up.1)?;
    chart
        .configure_mesh()
        .x_desc(&c.across)
        .y_desc(&c.up)
        .label_style(("sans-serif", 14).into_font().color(&INK))
        .axis_style(INK)
        .bold_line_style(RGBColor(195, 202, 208))
        .light_line_style(WHITE)
        .x_label_formatter(&plain)
        .y_label_formatter(&plain)
        .x_labels(8)
        .y_labels(7)
        .draw()?;
    if !c.band.is_empty() {
        let edge: Vec<(f64, f64)> =
            c.band.iter().map(|b| (b.0, b.1)).chain(c.band.iter().rev().map(|b| (b.0, b.2))).collect();
        chart
            .draw_series([Polygon::new(edge, RGBColor(207, 216, 198).mix(0.8).filled())])?
            .label(&c.band_name)
            .legend(|(x, y)| Rectangle::new([(x, y - 5), (x + 20, y + 5)], RGBColor(207, 216, 198).filled()));
    }
    for (curve, colour) in c.curves.iter().zip(CURVES.iter().cycle()) {
        let colour = *colour;
        chart
            .draw_series(LineSeries::new(curve.points.iter().copied(), colour.stroke_width(3)))?
            .label(&curve.name)
            .legend(move |(x, y)| PathElement::new([(x, y), (x + 20, y)], colour.stroke_width(3)));
    }
    for (x, word) in &c.marks {
        let top = up.1 - (up.1 - up.0) * 0.02;
        chart.draw_series(DashedLineSeries::new([(*x, up.0), (*x, top)], 6, 4, INK.stroke_width(2)))?;
        chart.draw_series([Text::new(
            format!("\u{a0}{word}"),
            (*x, top),
            ("sans-serif", 14).into_font().color(&INK),
        )])?;
    }
    for (y, word) in &c.levels {
        let red = RGBColor(179, 38, 30);
        chart.draw_series(DashedLineSeries::new([(across.0, *y), (across.1, *y)], 10, 5, red.stroke_width(2)))?;
        let at = (across.0 + (across.1 - across.0) * 0.02, *y);
        chart.draw_series([Text::new(word.clone(), at, ("sans-serif", 14).into_font().color(&red))])?;
    }
    chart
        .configure_series_labels()
        .background_style(WHITE.mix(0.85))
        .border_style(RGBColor(195, 202, 208))
        .label_font(("sans-serif", 14).into_font().color(&INK))
        .position(SeriesLabelPosition::UpperLeft)
        .draw()
}

/// A number on an axis, without needless zeros.
#[allow(clippy::trivially_copy_pass_by_ref, reason = "the library asks for a reference")]
fn plain(v: &f64) -> String {
    let text = format!("{v:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// With a name for readers who do not see the picture.
fn named(svg: &str, c: &Chart) -> String {
    let title = escape(&format!("{}: {} against {}", c.title, c.up, c.across));
    match svg.split_once('>') {
        Some((head, rest)) => format!("{head} role=\"img\" aria-label=\"{title}\"><title>{title}</title>{rest}\n"),
        None => svg.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regress_a_chart_names_its_axes_and_its_curves() {
        let c = Chart {
            title: "Holds <by> diameter".into(),
            across: "diameter, cm".into(),
            up: "force, kN".into(),
            band: vec![(20.0, 5.0, 15.0), (30.0, 10.0, 40.0)],
            band_name: "low to high".into(),
            curves: vec![Curve { name: "likely".into(), points: vec![(20.0, 9.0), (30.0, 24.0)] }],
            marks: vec![(25.0, "this one".into())],
            levels: vec![(12.0, "may get".into())],
        };
        let svg = draw(&c).unwrap_or_default();
        for word in
            ["diameter, cm", "force, kN", "likely", "low to high", "this one", "may get", "Holds &lt;by&gt; diameter"]
        {
            assert!(svg.contains(word), "{word} in {svg}");
        }
    }

    #[test]
    fn regress_nothing_is_drawn_of_nothing_and_of_what_is_no_number() {
        assert_eq!(draw(&Chart::default()), None);
        let nan = Curve { name: String::new(), points: vec![(f64::NAN, 1.0), (f64::NAN, 2.0)] };
        assert_eq!(draw(&Chart { curves: vec![nan], ..Chart::default() }), None);
    }
}
