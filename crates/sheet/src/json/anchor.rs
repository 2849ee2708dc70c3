//! The shape `unmire.anchor/1`: what anchors hold, and whether they may be used.

use super::shape::{Finding, RangeN, RangeRatio, RangeS, TrailStep};
use super::write::{number, range_n, range_ratio, range_s};
use schemars::JsonSchema;
use serde::Serialize;
use unmire_model::Force;
use unmire_planner::anchor::{Advice, AnchorPart, AnchorReport, BuildKind, BuildSheet, Measure, SharedReport};

/// The name of the shape, first in every document.
pub const SCHEMA: &str = "unmire.anchor/1";

/// The answer of `unmire anchor`. SI, numbers unrounded, `null` for what is not known or does not apply.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct AnchorDocument {
    /// The name of this shape: `unmire.anchor/1`.
    #[schemars(extend("const" = "unmire.anchor/1"))]
    pub schema: String,
    /// Name of the policy that the answers use.
    pub policy: String,
    /// Whether one of them may be used for the load alone, or for some load if none was asked: exit status 0.
    pub passes: bool,
    /// The anchors, in the order in which they were asked for; none where they were asked for together.
    pub anchors: Vec<AnchorEntry>,
    /// Several on one pull; null where each was asked for alone.
    pub shared: Option<SharedEntry>,
}

/// Several anchors on one pull.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SharedEntry {
    /// The pull at the high end of the need, N.
    pub load_work_n: Option<f64>,
    /// The pull at winch stall, N.
    pub load_stall_n: Option<f64>,
    /// Where the ring lies: ahead, left, up, m.
    pub ring: [Option<f64>; 3],
    /// Widest angle between two legs, rad.
    pub included_rad: Option<f64>,
    /// The ways to join them, the more even first.
    pub ways: Vec<SharedWayEntry>,
}

/// One way to join them.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SharedWayEntry {
    /// In words.
    pub how: String,
    /// The worst word of the policy.
    pub verdict: String,
    /// Pull of all together at which to stop, N.
    pub stop_load_n: Option<f64>,
    /// Greatest force of any anchor over an even part.
    pub unevenness: Option<f64>,
    /// What each gets.
    pub anchors: Vec<SharedPartEntry>,
    /// The working, if it was asked for.
    pub trail: Vec<TrailStep>,
}

/// What one gets.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SharedPartEntry {
    /// Its id.
    pub id: String,
    /// The policy's word on the most that it gets.
    pub verdict: String,
    /// What it gets at work.
    pub work: RangeN,
    /// The most at stall, N.
    pub stall_n: Option<f64>,
    /// What it gets at work, as shares of the pull.
    pub share: RangeRatio,
    /// Whether its leg may hang slack.
    pub may_hang_slack: bool,
}

/// One anchor.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct AnchorEntry {
    /// Its id.
    pub id: String,
    /// The stable word of its kind.
    pub kind: String,
    /// What it is, in words.
    pub what: String,
    /// Height of the attachment, m.
    pub attach_height_m: Option<f64>,
    /// `use it`, `use it below a stop load`, `share it`, `find another`, `not known`.
    pub advice: String,
    /// How many in all, where the advice is to share it.
    pub share_among: Option<u32>,
    /// Why, in a sentence.
    pub why: String,
    /// What it holds before it gives; null if not known or ruled out.
    pub holds: Option<RangeN>,
    /// What gives first at the low end, in words.
    pub gives: String,
    /// Whether the case stated what it holds.
    pub stated: bool,
    /// Whether a sign rules it out.
    pub ruled_out: bool,
    /// Every way of giving, the weakest first.
    pub ways: Vec<WayEntry>,
    /// Load asked about at the high end of the need, N.
    pub load_work_n: Option<f64>,
    /// Load asked about at winch stall, N.
    pub load_stall_n: Option<f64>,
    /// The policy's word on that load, alone.
    pub verdict: Option<String>,
    /// Line pull at which to stop, N.
    pub stop_load_n: Option<f64>,
    /// Where it does not pass alone: line pull at which to stop, N, if watching it would make it pass.
    pub watched_stop_n: Option<f64>,
    /// What it may be given under the policy; the first is alone.
    pub limits: Vec<LimitEntry>,
    /// How far its base may turn before the pull stops, rad.
    pub watch_tilt_rad: Option<f64>,
    /// The sentence about watching it.
    pub watch: Option<String>,
    /// Its bark.
    pub bark: Option<BarkEntry>,
    /// How to build one that holds the load.
    pub build: Vec<BuildEntry>,
    /// What it would hold if a measure were another.
    pub chart: Option<ChartEntry>,
    /// What must be told beside it.
    pub findings: Vec<Finding>,
    /// The working, if it was asked for.
    pub trail: Vec<TrailStep>,
}

/// One way of giving.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WayEntry {
    /// In words.
    pub way: String,
    /// What it holds against that.
    pub holds: RangeN,
}

/// What one or several may be given.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LimitEntry {
    /// How many share.
    pub anchors: u32,
    /// The most that one of them may get, as a share of the pull.
    pub greatest_share: f64,
    /// The most at work, N.
    pub work_n: Option<f64>,
    /// The most at stall, N; null where the policy does not judge it there.
    pub stall_n: Option<f64>,
}

/// Bark.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BarkEntry {
    /// Season reckoned with.
    pub season: String,
    /// What gives at the limit.
    pub gives: String,
    /// Pressure that it stands, Pa.
    pub limit_pa: Option<f64>,
    /// Least width of a strap in a basket for the load, m.
    pub width_basket_m: Option<f64>,
    /// The same in a choker, m.
    pub width_choker_m: Option<f64>,
    /// Pressure of the strap that was asked about, in a basket, Pa.
    pub strap_pa: Option<f64>,
    /// Key of the source.
    pub source: String,
}

/// A build sheet.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BuildEntry {
    /// `pickets`, `deadman`, `plates`.
    pub kind: String,
    /// Pull that it is for, N.
    pub pull_n: Option<f64>,
    /// Whether it is enough; if not, the strongest that the rules allow.
    pub enough: bool,
    /// Why it is not enough.
    pub reason: Option<String>,
    /// What it holds.
    pub holds: Option<RangeN>,
    /// What is needed.
    pub pieces: Vec<BuildPieceEntry>,
    /// Its measures.
    pub measures: Vec<MeasureEntry>,
    /// What to do, in order.
    pub steps: Vec<String>,
    /// How long it takes.
    pub time: Option<RangeS>,
}

/// Something that is needed.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BuildPieceEntry {
    /// What.
    pub what: String,
    /// How many.
    pub count: u32,
    /// Its length, m.
    pub length_m: Option<f64>,
    /// Its diameter or the height of its face, m.
    pub thickness_m: Option<f64>,
}

/// A measure: one of the three is not null.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct MeasureEntry {
    /// What is measured.
    pub what: String,
    /// A length, m.
    pub length_m: Option<f64>,
    /// An angle, rad.
    pub angle_rad: Option<f64>,
    /// A volume, m³.
    pub volume_m3: Option<f64>,
}

/// Capacity against a measure.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ChartEntry {
    /// What is varied, in words.
    pub axis: String,
    /// The measure of this anchor, m.
    pub here_m: Option<f64>,
    /// The points, by rising measure.
    pub points: Vec<ChartPoint>,
}

/// One point of a chart.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ChartPoint {
    /// The measure, m.
    pub measure_m: Option<f64>,
    /// What it would hold.
    pub holds: RangeN,
}

/// The document of several answers, as data.
#[must_use]
pub fn document(all: &[AnchorReport], policy: &str) -> AnchorDocument {
    AnchorDocument {
        schema: SCHEMA.to_owned(),
        policy: policy.to_owned(),
        passes: all.iter().any(AnchorReport::passes),
        anchors: all.iter().map(entry).collect(),
        shared: None,
    }
}

/// The document of several anchors on one pull.
#[must_use]
pub fn document_shared(r: &SharedReport) -> AnchorDocument {
    let part = |p: &AnchorPart| SharedPartEntry {
        id: p.id.clone(),
        verdict: p.verdict.word().to_owned(),
        work: range_n(&p.work),
        stall_n: p.stall.and_then(n),
        share: range_ratio(&p.share),
        may_hang_slack: p.may_hang_slack,
    };
    AnchorDocument {
        schema: SCHEMA.to_owned(),
        policy: r.policy.clone(),
        passes: r.passes(),
        anchors: Vec::new(),
        shared: Some(SharedEntry {
            load_work_n: n(r.load.work),
            load_stall_n: r.load.stall.and_then(n),
            ring: [r.ring.x, r.ring.y, r.ring.z].map(number),
            included_rad: number(r.included.as_rad()),
            ways: r
                .ways
                .iter()
                .map(|w| SharedWayEntry {
                    how: w.how.to_owned(),
                    verdict: w.verdict.word().to_owned(),
                    stop_load_n: w.stop_load().and_then(n),
                    unevenness: number(w.unevenness),
                    anchors: w.parts.iter().map(part).collect(),
                    trail: w.trail.steps.iter().map(super::trail::step).collect(),
                })
                .collect(),
        }),
    }
}

/// The document as text: two spaces a level, a newline at the end.
///
/// # Errors
/// If it cannot be written as JSON, which no answer is known to bring about.
pub fn to_text(document: &AnchorDocument) -> Result<String, serde_json::Error> {
    let mut text = serde_json::to_string_pretty(document)?;
    text.push('\n');
    Ok(text)
}

/// The JSON Schema of the shape.
#[must_use]
pub fn schema() -> serde_json::Value {
    let settings = schemars::generate::SchemaSettings::draft2020_12().for_serialize();
    let mut schema = settings.into_generator().into_root_schema_for::<AnchorDocument>();
    schema.insert("title".to_owned(), SCHEMA.into());
    schema.into()
}

fn n(f: Force) -> Option<f64> {
    number(f.as_n())
}

fn entry(r: &AnchorReport) -> AnchorEntry {
    let alone = r.limits.map(|l| LimitEntry {
        anchors: 1,
        greatest_share: 1.0,
        work_n: n(l.work),
        stall_n: l.stall.and_then(n),
    });
    let together = r.shared.iter().map(|s| LimitEntry {
        anchors: s.anchors,
        greatest_share: s.greatest_share,
        work_n: n(s.work),
        stall_n: s.stall.and_then(n),
    });
    AnchorEntry {
        id: r.id.clone(),
        kind: r.kind.to_owned(),
        what: r.what.clone(),
        attach_height_m: number(r.attach_height.as_m()),
        advice: r.advice.words().to_owned(),
        share_among: match r.advice {
            Advice::Share { anchors } => Some(anchors),
            _ => None,
        },
        why: r.why.clone(),
        holds: r.holds.as_ref().map(range_n),
        gives: r.gives.to_owned(),
        stated: r.stated,
        ruled_out: r.ruled_out,
        ways: r.ways.iter().map(|w| WayEntry { way: w.words.to_owned(), holds: range_n(&w.holds) }).collect(),
        load_work_n: r.load.and_then(|l| n(l.work)),
        load_stall_n: r.load.and_then(|l| l.stall).and_then(n),
        verdict: r.verdict.map(|v| v.word().to_owned()),
        stop_load_n: r.stop_load.and_then(n),
        watched_stop_n: r.watched_stop.and_then(n),
        limits: alone.into_iter().chain(together).collect(),
        watch_tilt_rad: r.watch.as_ref().and_then(|w| w.tilt).and_then(|t| number(t.as_rad())),
        watch: r.watch.as_ref().map(|w| w.text.clone()),
        bark: r.bark.as_ref().map(|b| BarkEntry {
            season: b.season.to_owned(),
            gives: b.gives.to_owned(),
            limit_pa: number(b.limit.as_pa()),
            width_basket_m: b.width_basket.and_then(|w| number(w.as_m())),
            width_choker_m: b.width_choker.and_then(|w| number(w.as_m())),
            strap_pa: b.strap.and_then(|s| number(s.1.as_pa())),
            source: b.source.to_owned(),
        }),
        build: r.build.iter().map(build).collect(),
        chart: r.chart.as_ref().map(|c| ChartEntry {
            axis: c.axis.words().to_owned(),
            here_m: number(c.here.as_m()),
            points: c
                .points
                .iter()
                .map(|(m, h)| ChartPoint { measure_m: number(m.as_m()), holds: range_n(h) })
                .collect(),
        }),
        findings: r
            .warnings
            .iter()
            .map(|w| Finding {
                code: w.code.to_owned(),
                effect: "caution".to_owned(),
                subject: r.id.clone(),
                text: unmire_planner::demand::sentence(&w.text),
                remedy: crate::codes::find(w.code).map(|n| n.to_do.to_owned()).unwrap_or_default(),
            })
            .collect(),
        trail: r.trail.steps.iter().map(super::trail::step).collect(),
    }
}

fn build(b: &BuildSheet) -> BuildEntry {
    let kind = match b.kind {
        BuildKind::Pickets => "pickets",
        BuildKind::Deadman => "deadman",
        BuildKind::Plates => "plates",
    };
    let m = |l: unmire_model::Length| number(l.as_m());
    BuildEntry {
        kind: kind.to_owned(),
        pull_n: n(b.pull),
        enough: b.enough,
        reason: b.reason.clone(),
        holds: b.capacity.ultimate.as_ref().map(range_n),
        pieces: b
            .pieces
            .iter()
            .map(|p| BuildPieceEntry {
                what: p.what.clone(),
                count: p.count,
                length_m: p.length.and_then(m),
                thickness_m: p.thickness.and_then(m),
            })
            .collect(),
        measures: b
            .measures
            .iter()
            .map(|x| MeasureEntry {
                what: x.what.to_owned(),
                length_m: if let Measure::Length(l) = x.measure { m(l) } else { None },
                angle_rad: if let Measure::Angle(a) = x.measure { number(a.as_rad()) } else { None },
                volume_m3: if let Measure::Volume(v) = x.measure { number(v) } else { None },
            })
            .collect(),
        steps: b.steps.clone(),
        time: b.time.as_ref().map(range_s),
    }
}
