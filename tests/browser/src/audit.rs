//! What axe-core finds: the checks of WCAG 2.2, levels A and AA, that a machine can make.

use crate::Page;

/// Vendored with its licence; see `vendor/README.md`.
const AXE: &str = include_str!("../vendor/axe.min.js");

/// What a machine can check of WCAG 2.2 at levels A and AA, and axe's own good practices.
const RUN: &str = "
    const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22a', 'wcag22aa', 'best-practice'];
    const r = await window.axe.run(document, { runOnly: tags });
    if (r.passes.length < 5) return ['axe looked at nothing'];
    return r.violations.flatMap(v => v.nodes.map(n => `${v.id}: ${v.help}: ${n.html}: ${n.failureSummary}`));";

impl Page<'_> {
    /// Fails if axe-core finds a violation on the page as it stands.
    #[track_caller]
    pub fn is_accessible(&self) {
        if self.js("return typeof window.axe") != "object" {
            self.js(AXE);
        }
        // What is on its way may be anything for a moment.
        self.still();
        let nothing = serde_json::json!([]);
        let run = || self.loose(|| self.js_later(RUN, Vec::new()));
        if run() != nothing {
            self.still();
            assert_eq!(run(), nothing, "axe-core objects");
        }
    }
}
