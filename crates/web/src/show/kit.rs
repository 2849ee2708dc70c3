//! The pieces of a bag as cards; the one that is open with its fields and what is wrong with each beside it. What a field edits
//! stands in `data-path`, and how in `data-how`: see [`bag::typed`].

use super::{Html, Reader, verdict};
use crate::bag::{self, Field, Label, PieceKey, Print};
use crate::document::{CaseText, Complaint};
use crate::units;
use unmire_casefile::keys::label::RATING;
use unmire_model::gear::RatingKind;

/// A bag that is edited.
#[derive(Clone, Copy, Debug)]
pub struct Bag<'a> {
    /// The document in which the pieces stand.
    pub doc: &'a CaseText,
    /// What is wrong with it.
    pub wrong: &'a [Complaint],
    /// The card that is open.
    pub shown: Option<usize>,
    /// A word that tells its cards from others.
    pub group: &'static str,
}
impl Bag<'_> {
    fn get(&self, path: &str, key: &str) -> String {
        self.doc.get(&format!("{path}.{key}")).unwrap_or_default()
    }
    /// What is wrong at a path or within it.
    fn wrong_at(&self, path: &str) -> impl Iterator<Item = &Complaint> {
        let within = move |c: &&Complaint| {
            c.path.strip_prefix(path).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
        };
        self.wrong.iter().filter(within)
    }
    fn id(&self, path: &str) -> String {
        let plain = path.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' });
        format!("{}-{}", self.group, plain.collect::<String>())
    }
}

/// All cards.
#[must_use]
pub fn kit(r: Reader<'_>, b: Bag<'_>) -> String {
    let mut h = Html::default();
    for i in 0..b.doc.count("piece") {
        piece(&mut h, r, b, i);
    }
    h.done()
}

fn piece(h: &mut Html, r: Reader<'_>, b: Bag<'_>, i: usize) {
    let path = format!("piece[{i}]");
    let (open, kind, count) = (b.shown == Some(i), b.get(&path, "kind"), b.get(&path, "count"));
    let at = i.to_string();
    h.raw("<li class=\"piece\"><h3><button class=\"fold\" aria-expanded=\"").raw(if open { "true" } else { "false" });
    h.put("\" id=\"", &b.id(&path), "\" data-fold=\"").text(&at);
    h.put("\"><span class=\"what\"><span class=\"name\">", &b.get(&path, "id"), "");
    if !["", "1"].contains(&count.as_str()) {
        h.raw(" × ").text(&count);
    }
    h.raw("</span> ").text(&r.words.translate("piece-word", &kind)).raw("</span> ");
    glance(h, r, &Label::at(b.doc, &format!("{path}.label")), &kind);
    let condition = b.get(&path, "condition");
    h.maybe(" <span class=\"small\">", Some(r.words.translate("piece-word", &condition)).as_deref(), "</span>");
    let mistakes = b.wrong_at(&path).count();
    if mistakes > 0 {
        h.raw(" <span class=\"mistakes\"><span aria-hidden=\"true\">! </span>");
        h.text(&r.words.fill("kit.mistakes", &[("n", &mistakes.to_string())])).raw("</span>");
    }
    h.raw("</button></h3>");
    if open {
        h.raw("<div class=\"fields\">");
        fields(h, r, b, &path, &kind);
        h.put("<p class=\"buttons\"><button class=\"quiet\" data-remove=\"", &at, "\">");
        h.text(&r.words.say("kit.remove")).raw("</button></p></div>");
    }
    h.raw("</li>");
}

/// The label as printed; what has none is unknown, in so many words.
fn glance(h: &mut Html, r: Reader<'_>, label: &Label, kind: &str) {
    let rated = || bag::keys(kind).iter().any(|k| k.name == "label" && k.must);
    match label {
        Label::Printed(p) => {
            h.put("<span class=\"printed\" lang=\"en\">", &p.text, "</span>");
        }
        Label::Unsaid if !rated() => {}
        _ => {
            h.raw("<span>");
            if *label != Label::Unsaid {
                h.text(&r.words.translate("label", label.word())).raw(": ");
            }
            verdict(h, r, unmire_audit::verdict::Verdict::Unknown.word());
            h.raw("</span>");
        }
    }
}

fn fields(h: &mut Html, r: Reader<'_>, b: Bag<'_>, path: &str, kind: &str) {
    let id = PieceKey { name: "id", field: Field::Text, must: true, example: "K1" };
    field(h, r, b, path, id);
    let kinds = |w: &str| r.words.translate("piece-word", w);
    h.put("<label class=\"field\"><b>", &r.words.say("kit.kind"), "</b>");
    select(h, b, path, "kind", "kind", "");
    options(h, None, bag::PIECE_KINDS, kind, kinds);
    h.raw("</label>");
    for key in bag::keys(kind) {
        let at = format!("{path}.{}", key.name);
        // Nobody is asked why a piece was rejected that was not.
        if key.name == "reason" && b.get(path, "condition") != "rejected" && !b.doc.has(&at) {
            continue;
        }
        match key.field {
            Field::Label => label(h, r, b, &at, key),
            _ => field(h, r, b, path, key),
        }
    }
}

/// What a control carries: its id, what it edits and how, and what is wrong with it.
fn about(h: &mut Html, b: Bag<'_>, path: &str, how: &'static str, part: &str) {
    h.put(" id=\"", &b.id(path), "").text(part).put("\" data-path=\"", path, "\" data-how=\"").raw(how).raw("\"");
    if b.wrong_at(path).next().is_some() {
        h.put(" aria-invalid=\"true\" aria-describedby=\"", &b.id(path), "-notes\"");
    }
}
fn input(h: &mut Html, r: Reader<'_>, value: &str, example: &str) {
    h.put(" type=\"text\" autocomplete=\"off\" autocapitalize=\"off\" spellcheck=\"false\" value=\"", value, "");
    h.put("\" placeholder=\"", &r.words.fill("kit.for-example", &[("example", example)]), "\">");
}
fn select(h: &mut Html, b: Bag<'_>, path: &str, how: &'static str, name: &str, part: &str) {
    h.raw("<select");
    if how == "kind" {
        h.put(" id=\"", &b.id(path), "-").text(name).put("\" data-path=\"", path, "\" data-how=\"kind\"");
    } else {
        about(h, b, path, how, part);
    }
    h.raw(">");
}
/// The options of a list, its end with them. What stands there and nobody knows is shown, not lost.
fn options(h: &mut Html, unsaid: Option<&str>, all: &[&str], value: &str, name: impl Fn(&str) -> String) {
    let mut one = |word: &str, name: &str| {
        h.put("<option value=\"", word, if word == value { "\" selected>" } else { "\">" }).text(name).raw("</option>");
    };
    if let Some(name) = unsaid {
        one("", name);
    }
    for word in all {
        one(word, &name(word));
    }
    if !value.is_empty() && !all.contains(&value) {
        one(value, value);
    }
    h.raw("</select>");
}

fn field(h: &mut Html, r: Reader<'_>, b: Bag<'_>, piece: &str, key: PieceKey) {
    let path = &format!("{piece}.{}", key.name);
    let (value, unsaid) = (b.doc.get(path).unwrap_or_default(), r.words.say("kit.unsaid"));
    h.put("<div class=\"field\"><label><b>", &r.words.translate("piece", key.name), "");
    if key.must {
        h.put(" <span class=\"small\">", &r.words.say("kit.must"), "</span>");
    }
    h.raw("</b>");
    match key.field {
        Field::Words(words) => {
            select(h, b, path, "text", key.name, "");
            options(h, Some(&unsaid), words, &value, |w| r.words.translate("piece-word", w));
        }
        Field::Flag => {
            select(h, b, path, "flag", key.name, "");
            let name = |w: &str| if w == "true" { r.words.say("kit.yes") } else { r.words.say("kit.no") };
            options(h, Some(&unsaid), &["true", "false"], &value, name);
        }
        Field::Whole | Field::Label | Field::Text => {
            let whole = key.field == Field::Whole;
            h.raw("<input");
            about(h, b, path, if whole { "whole" } else { "text" }, "");
            input(h, r, &value, key.example);
        }
    }
    h.raw("</label>");
    wrong(h, r, b, path);
    h.raw("</div>");
}

/// What is wrong with a field, in the words of the command line.
fn wrong(h: &mut Html, r: Reader<'_>, b: Bag<'_>, path: &str) {
    h.put("<div role=\"status\" id=\"", &b.id(path), "-notes\">");
    for c in b.wrong_at(path) {
        h.put("<p class=\"wrong\"><span aria-hidden=\"true\">! </span><span lang=\"en\">", &c.message, "</span>");
        for (name, text) in [("complaint.expected", &c.expected), ("complaint.example", &c.example)] {
            if !text.is_empty() {
                h.put("<br>", &r.words.say(name), ": ").put("<span lang=\"en\">", text, "</span>");
            }
        }
        h.maybe("<br><span lang=\"en\">", c.hint.as_deref(), "</span>").raw("</p>");
    }
    h.raw("</div>");
}

/// A label: as printed, missing, or unreadable; with what it means where the text can be read in two ways.
fn label(h: &mut Html, r: Reader<'_>, b: Bag<'_>, path: &str, key: PieceKey) {
    let is = Label::at(b.doc, path);
    h.put(
        "<fieldset class=\"label\"><legend>",
        &r.words.translate("piece", key.name),
        "</legend><div class=\"options\">",
    );
    for word in ["printed", "missing", "unreadable", "unsaid"] {
        if word == "unsaid" && key.must {
            continue;
        }
        h.put("<label class=\"option\"><input type=\"radio\" name=\"", &b.id(path), "\" id=\"");
        h.text(&b.id(path)).raw("-").text(word).put("\" data-path=\"", path, "\" data-how=\"label\" value=\"");
        h.text(word).raw(if is.word() == word { "\" checked>" } else { "\">" });
        h.put("<span>", &r.words.translate("label", word), "</span></label>");
    }
    h.raw("</div>");
    if let Label::Printed(p) = &is {
        h.put("<label class=\"field\"><b>", &r.words.say("kit.as-printed"), "</b><input");
        about(h, b, path, "label.text", "");
        input(h, r, &p.text, key.example);
        h.put("</label><p class=\"meaning\" role=\"status\">", &means(r, &is), "</p><details");
        let said = *p != Print { text: p.text.clone(), ..Print::default() };
        h.raw(if said || b.wrong_at(path).next().is_some() { " open" } else { "" });
        h.put("><summary>", &r.words.say("kit.two-ways"), "</summary>");
        h.put("<label class=\"field\"><b>", &r.words.say("kit.means"), "</b><input");
        about(h, b, path, "label.means", "-means");
        input(h, r, &p.means, "4.75 t");
        h.put("</label><label class=\"field\"><b>", &r.words.say("kit.rating"), "</b>");
        select(h, b, path, "label.rating", "", "-rating");
        options(h, Some(&r.words.say("kit.unsaid")), RATING, &p.rating, |w| r.words.translate("piece-word", w));
        h.put("</label><label class=\"field\"><b>", &r.words.say("kit.factor"), "</b><input");
        about(h, b, path, "label.factor", "-factor");
        input(h, r, &p.design_factor, "6");
        h.raw("</label></details>");
    }
    wrong(h, r, b, path);
    h.raw("</fieldset>");
}

/// How a label is read.
fn means(r: Reader<'_>, label: &Label) -> String {
    let Some(rating) = bag::meaning(label) else { return String::new() };
    let force = units::capacity(r.units, Some(rating.force.as_n()));
    let with = [("force", force.as_str())];
    let means = match rating.kind {
        RatingKind::Working => r.words.fill("kit.means-working", &with),
        RatingKind::Breaking => r.words.fill("kit.means-breaking", &with),
        RatingKind::Unstated => r.words.fill("kit.means-unstated", &with),
    };
    let factor = rating.design_factor.map(|n| r.words.fill("kit.means-factor", &[("n", &units::asked(Some(n)))]));
    format!("{means} {}", factor.unwrap_or_default())
}
