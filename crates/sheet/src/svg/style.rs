//! The look: paper, ink, and a mark of its own for every kind of thing, so that nothing hangs on colour.

/// Width of the page in its own units. Height follows.
pub(super) const WIDTH: f64 = 640.0;
/// Margin on every side.
pub(super) const MARGIN: f64 = 20.0;
/// Size of ordinary type.
pub(super) const TYPE: f64 = 15.0;
/// Size of type in the drawing.
pub(super) const LABEL: f64 = 16.0;

/// The style sheet inside the file.
pub(super) const CSS: &str = "<style>
text { font-family: 'DejaVu Sans', Verdana, 'Noto Sans', sans-serif; fill: #1c2733; font-size: 15px }
.title { font-size: 21px; font-weight: bold }
.strong { font-weight: bold }
.small { font-size: 13px; fill: #46535f }
.head { font-size: 13px; font-weight: bold; fill: #46535f }
.label, .label-strong { font-size: 16px; paint-order: stroke; stroke: #ffffff; stroke-width: 4px; stroke-linejoin: round }
.label-strong { font-weight: bold }
.badge-text { font-size: 13px; font-weight: bold; fill: #ffffff; text-anchor: middle }
.end { text-anchor: end }
.middle { text-anchor: middle }
.paper { fill: #ffffff }
.panel { fill: #f6f7f4 }
.frame { fill: none; stroke: #1c2733; stroke-width: 1.5 }
.keep { fill: #f5e9e2; stroke: none }
.keep-edge { fill: none; stroke: #8f4322; stroke-width: 4.5; stroke-dasharray: 9 5 }
.keep-key { fill: #f5e9e2; stroke: #8f4322; stroke-width: 1.6; stroke-dasharray: 9 5 }
.lane { fill: #ffffff; fill-opacity: 0.75; stroke: #7d8894; stroke-width: 1.2; stroke-dasharray: 2 4 }
.vehicle { fill: #e3e7ea; stroke: #1c2733; stroke-width: 2 }
.nose { fill: #1c2733; stroke: none }
.obstacle { fill: #8d969e; fill-opacity: 0.3; stroke: #3a4650; stroke-width: 2 }
.obstacle-line { fill: none; stroke: #3a4650; stroke-width: 4; stroke-dasharray: 1 6; stroke-linecap: round }
.escape { fill: #ffffff; fill-opacity: 0.6; stroke: #2a6b45; stroke-width: 2.5; stroke-dasharray: 14 4 3 4 }
.wood { fill: #cfd8c6; stroke: #44543a; stroke-width: 2 }
.wood-idle { fill: none; stroke: #7d8894; stroke-width: 1.5; stroke-dasharray: 3 3 }
.line-halo { stroke: #ffffff; stroke-width: 8; fill: none }
.line { stroke: #174a7c; stroke-width: 3.5; fill: none }
.sling { stroke: #6a3d78; stroke-width: 6; fill: none }
.sling-core { stroke: #ffffff; stroke-width: 1.6; fill: none }
.leader { stroke: #46535f; stroke-width: 1 }
.dot { fill: #ffffff; stroke: #1c2733; stroke-width: 2.2 }
.solid { fill: #1c2733; stroke: #ffffff; stroke-width: 1 }
.badge { fill: #174a7c; stroke: #ffffff; stroke-width: 1.5 }
.weak { fill: none; stroke: #b3261e; stroke-width: 4 }
.weak-box { fill: #ffffff; stroke: #b3261e; stroke-width: 2.5 }
.rule { stroke: #c3cad0; stroke-width: 1 }
.arrow { stroke: #1c2733; stroke-width: 2.2; fill: none }
.scale { fill: #1c2733 }
</style>
";
