//! The bag: labels as they are printed, in any unit; what has none is unknown and passes nothing.

use crate::cases::CLAY;
use unmire_browser::{DESKTOP, Key, Page};

/// The field for what stands on a piece.
const TEXT: &str = "Text on the piece, with its unit";

/// Opens an example in metric units, whatever the browser's language suggests.
pub(crate) fn open(page: &Page<'_>, title: &str) {
    page.click("link", "Settings");
    page.click("radio", "Metric: kN, kg, m");
    page.click("link", "Cases");
    page.click("button", title);
    page.reads("Pull needed:");
}
/// Opens an example and puts its best rig into it, so that the page judges it at every edit.
fn with_rig(page: &Page<'_>) {
    open(page, CLAY);
    page.click("button", "Put this rig into the case");
    page.reads("The case's own rig:");
    page.click("link", "Kit");
    page.find("heading", "Kit");
}
/// The verdict of the case's own rig, as it stands on the screen.
fn own(page: &Page<'_>) -> String {
    page.texts(".own .verdict").concat()
}
/// Opens or closes the card of a piece, once it is there.
fn card(page: &Page<'_>, id: &str) {
    let name = || page.names().into_iter().find(|(role, name)| role == "button" && name.starts_with(id));
    let (_, name) = page.eventually(&format!("there is a card of {id}"), name, Option::is_some).unwrap();
    let before = card_text(page);
    page.click("button", &name);
    page.eventually(&format!("the card of {id} opens or closes"), || card_text(page), |now| *now != before);
}
/// What stands on the card that is open.
fn card_text(page: &Page<'_>) -> String {
    page.texts(".fold[aria-expanded=true]").concat()
}
/// Writes into the label that is open, and leaves it.
fn print(page: &Page<'_>, text: &str) {
    page.fill(TEXT, text);
    page.key(Key::Tab);
}

/// A piece by hand: unknown at first, then with its label in whatever unit is printed on it; each is read back in words.
pub fn regress_a_label_is_taken_in_any_unit(page: &Page<'_>) {
    open(page, CLAY);
    page.click("link", "Kit");
    page.choose("Kind of the new piece", "dee shackle");
    page.click("button", "Add a piece");
    page.reads("K1");
    let glance = || card_text(page);
    let words = ["dee shackle", "label missing", "unknown", "not checked"];
    page.eventually(&format!("its card says {words:?}"), glance, |text| words.iter().all(|w| text.contains(w)));
    page.click("radio", "as printed");
    for (printed, read) in [
        ("WLL 2 t", "Read as a working load limit of 19.6 kN."),
        ("WLL 4,400 lbf (5:1)", "Read as a working load limit of 19.5 kN. It breaks at 5 times that."),
        ("MBS 80 kN", "Read as a breaking strength of 80 kN."),
        ("MBL 8,000 daN", "Read as a breaking strength of 80 kN."),
        ("17,600 lb", "Which kind of force is not printed, so it counts as the lower: a breaking strength."),
    ] {
        print(page, printed);
        page.eventually(&format!("{printed} is on its card"), glance, |t| t.contains(printed));
        page.reads(read);
        page.reads_no_more("! mistakes");
    }
    page.shot_whole("kit-piece-phone");
    page.is_accessible();
    page.size(DESKTOP);
    page.is_accessible();
    page.shot_whole("kit-piece-desktop");
    // The document says what was typed, as it was typed.
    page.click("button", "Take this piece out");
    page.reads_no_more("K1");
}

/// What can be read in two ways is not guessed: the field says so, and takes what is meant.
pub fn regress_a_doubtful_label_is_asked_back(page: &Page<'_>) {
    open(page, CLAY);
    page.click("link", "Kit");
    page.click("button", "Add a piece");
    page.click("radio", "as printed");
    print(page, "4.75 T");
    page.reads("mistakes: 1");
    let field = || {
        page.js("const f = document.querySelector('fieldset.label input[aria-invalid=true]'); \
             return [f.value, document.getElementById(f.getAttribute('aria-describedby')).innerText]")
    };
    page.eventually("the field says what is wrong", field, |f| {
        f[0] == "4.75 T" && f[1].as_str().is_some_and(|t| t.contains("expected"))
    });
    page.is_accessible();
    page.shot_whole("kit-mistake-phone");
    // Nothing is planned with it.
    page.click("link", "Rigs");
    page.click("button", "Look again");
    page.find("heading", "The case can't be read yet");
    page.click("link", "Mend it on the screen Kit");
    card(page, "K1");
    page.fill("The force it means", "4.75 t");
    page.key(Key::Tab);
    page.choose("Which kind of force", "working load limit");
    page.reads("Read as a working load limit of 46.5 kN.");
    page.reads_no_more("mistakes: ");
}

/// A missing label makes the rig that uses the piece unknown at once; read again it holds what it held; too weak a one
/// is overloaded. The page says so in words and shape.
pub fn regress_a_missing_label_never_passes(page: &Page<'_>) {
    with_rig(page);
    let own = || own(page);
    page.eventually("the rig holds below a stop load", own, |v| v.ends_with("holds below a stop load"));
    card(page, "bow");
    page.reads("Counted as done before the pull: unload, dig free");
    page.click("radio", "label missing");
    page.becomes("the verdict", own, "? unknown");
    page.click("radio", "label unreadable");
    page.eventually("the label is unreadable", || card_text(page), |t| t.contains("label unreadable"));
    page.becomes("the verdict", own, "? unknown");
    page.shot_whole("kit-unknown-phone");
    page.click("radio", "as printed");
    page.becomes("the verdict while nothing is printed yet", own, "");
    print(page, "WLL 3.25 t (6:1)");
    page.eventually("it holds again", own, |v| v.ends_with("holds below a stop load"));
    print(page, "WLL 100 kg (6:1)");
    page.becomes("the verdict", own, "■ overloaded");
    page.is_accessible();
    // The search finds no rig that passes with a bag without labels.
    for id in ["strap", "bow", "big", "block", "bridle"] {
        card(page, id);
        page.until(&format!("the label of {id} can be chosen"), || {
            page.js("const r = document.querySelector('fieldset.label input[value=missing]'); r.click(); return true")
                == true
        });
        page.eventually(&format!("the label of {id} is missing"), || card_text(page), |t| t.contains("label missing"));
        card(page, id);
    }
    page.click("link", "Rigs");
    page.click("button", "Look again");
    page.reads("Pull needed:");
    page.click("button", "Look for other rigs");
    // Its own rig was the only one; the search finds several.
    let words = || page.texts(".rig .verdict");
    let words =
        page.eventually("the search is over", words, |w| w.len() > 1 && !page.text().contains("Looking for rigs"));
    assert!(words.iter().all(|v| !v.contains("holds")), "{words:?}");
}

/// A wrong length is told at its field, in the words of the command line, and the mended one is taken.
pub fn regress_a_wrong_field_says_so_beside_itself(page: &Page<'_>) {
    open(page, CLAY);
    page.click("link", "Kit");
    card(page, "strap");
    page.fill("Length (needed)", "3");
    page.key(Key::Tab);
    page.reads("mistakes: 1");
    let told = || {
        page.js("const f = document.querySelector('input[aria-invalid=true]'); \
             return document.getElementById(f.getAttribute('aria-describedby')).innerText")
    };
    page.eventually("an example is told", told, |t| t.as_str().is_some_and(|t| t.contains("example")));
    page.fill("Length (needed)", "10 ft");
    page.key(Key::Tab);
    page.reads_no_more("mistakes");
}

/// A bag is kept on the device and used in another case; a kit file comes in, and what is none is refused.
pub fn regress_bags_are_kept_and_brought_in(page: &Page<'_>) {
    open(page, CLAY);
    page.click("link", "Kit");
    page.fill("Name of this bag", "The wagon's bag");
    page.key(Key::Tab);
    page.click("button", "Keep the case's pieces as a bag");
    page.reads("Use “The wagon's bag” in this case");
    let (name, text) = page.saves(|| page.click("button", "Save them as a kit file"));
    assert_eq!(name, "the-wagon-s-bag.toml");
    assert!(text.starts_with("schema = \"unmire.kit/1\"\ntitle = \"The wagon's bag\"\n"), "{text}");
    page.reload();
    page.click("link", "Cases");
    page.click("button", "Showground exit: no grip on wet grass, one oak ahead");
    page.click("link", "Kit");
    page.click("button", "Use “The wagon's bag” in this case");
    page.reads("Pieces in the kit file the-wagon-s-bag.toml");
    // Ids that both have are told.
    page.is_accessible();
    let bad = std::env::temp_dir().join(format!("unmire-no-kit-{}.toml", std::process::id()));
    std::fs::write(&bad, "schema = \"unmire.case/1\"\n").unwrap();
    page.give_files("#kit-file", &[&bad]);
    page.reads("is no kit file.");
    let _ = std::fs::remove_file(&bad);
    page.give_files("#kit-file", &[&unmire_browser::root().join("examples/kit/club-bag.toml")]);
    page.reads("Pieces in the kit file club-bag.toml");
    page.click("button", "Take the kit file out of the case");
    page.reads_no_more("Pieces in the kit file");
}

/// A piece is added, labelled and checked with keys alone.
pub fn regress_a_piece_needs_no_pointer(page: &Page<'_>) {
    open(page, CLAY);
    page.click("link", "Kit");
    page.find("heading", "Kit");
    page.tab_to("button", "Add a piece");
    page.key(Key::Enter);
    page.reads("K1");
    page.until("its card has the focus", || {
        page.js("const f = document.querySelector('.fold[aria-expanded=true]'); f.focus(); return document.activeElement === f") == true
    });
    page.tab_to("textbox", "Id (needed)");
    page.press("spare");
    page.key(Key::Tab);
    page.reads("spare");
    page.eventually("the next field has the focus", || page.focused(), |f| f.0 == "combobox");
    page.tab_to("radio", "label missing");
    page.key(Key::Left);
    page.eventually("the one before is chosen", || page.focused(), |f| f.1 == "as printed");
    page.tab_to("textbox", TEXT);
    page.press("WLL 2 t");
    page.key(Key::Tab);
    page.reads("Read as a working load limit of 19.6 kN.");
}
