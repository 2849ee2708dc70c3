//! `new`: ten questions at most, and the case that their answers make. All else is a visible, wide range that is
//! marked as assumed, or a comment that says so.

mod answer;
mod pieces;
mod text;

use std::collections::BTreeMap;

/// A question.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Question {
    /// Its stable word; the key of its answer.
    pub id: &'static str,
    /// The question.
    pub text: &'static str,
    /// What helps to answer it.
    pub help: &'static str,
    /// An answer.
    pub example: &'static str,
    /// What is written if nobody knows.
    pub unknown: &'static str,
}

static QUESTIONS: [Question; 10] = [
    Question {
        id: "mass",
        text: "What does the stuck vehicle weigh, with people and load?",
        help: "A value or a range with its unit. The plate gives the greatest allowed mass; mud that sticks counts too.",
        example: "2.2 t .. 2.6 t",
        unknown: "1.2 t .. 2.2 t .. 3.5 t",
    },
    Question {
        id: "depth",
        text: "How deep is it in?",
        help: "not mired: the wheels spin on top. wheel: in to the hubs. wheel arch: over the hubs. cab: over the arches.",
        example: "wheel",
        unknown: "over the hubs, with the mire holding anything from a fifth to three times the weight",
    },
    Question {
        id: "slope",
        text: "How does the ground slope along the way out, and across it?",
        help: "Along with up or down, then across with left high or right high, seen along the way out; or level.",
        example: "4 deg up, 6 deg left high",
        unknown: "5 deg down .. 15 deg up along, 15 deg across",
    },
    Question {
        id: "distance",
        text: "How far is it to ground that it can drive on?",
        help: "Along the way out, straight ahead. If the way out is behind, change `direction` in the file.",
        example: "6 m .. 10 m",
        unknown: "5 m .. 30 m",
    },
    Question {
        id: "anchor",
        text: "Where is the best tree, seen from the vehicle?",
        help: "Distance or paces, direction from the vehicle's heading, and how much higher (up) or lower (down) it stands. none: no tree.",
        example: "22 m ahead, 1 m up",
        unknown: "no tree is written: one that nobody placed can't be reckoned with",
    },
    Question {
        id: "girth",
        text: "How thick is that tree round the stem at breast height, and does it show a sign that rules it out?",
        help: "Put a strap round it and measure the strap. Then walk round it and look for each of these: dead, leaning, fungus, cavity, lifted roots (or cut, or undercut), bank edge, flooded (or saturated) soil, frozen top over wet soil. After a semicolon name what you found, or say no signs if you looked for every one and found none. Say not looked if nobody looked.",
        example: "1.9 m; no signs",
        unknown: "a diameter of 15 cm .. 40 cm; no sign is answered, and then the tree is 'unknown', which never passes",
    },
    Question {
        id: "winch",
        text: "What pull is printed on the vehicle's winch?",
        help: "The number on its label with its unit. none: it has no winch.",
        example: "9,500 lb",
        unknown: "a rated pull of 20 kN that may stop as late as 60 kN",
    },
    Question {
        id: "line",
        text: "What line is on it?",
        help: "Length, thickness, synthetic or wire, and its breaking strength as printed; separate by semicolons, leave out what you don't know.",
        example: "28 m; 10 mm; synthetic; MBS 88 kN",
        unknown: "20 m of 10 mm line without a label: 'unknown', which never passes",
    },
    Question {
        id: "people",
        text: "How many people are there, and how many of them were trained for this?",
        help: "Two numbers.",
        example: "3, 1",
        unknown: "one, not trained",
    },
    Question {
        id: "pieces",
        text: "What is in the bag?",
        help: "Number and kind, then what its label says, its length, its width; a comma between, a semicolon between pieces. What has no label is 'unknown' and never passes.",
        example: "tree strap, WLL 3 t (7:1), 3 m, 75 mm; 2 bow shackle, WLL 4.75 t (6:1); block, WLL 8 t; shovel",
        unknown: "an empty bag",
    },
];

/// The questions, in the order in which they are asked.
#[must_use]
pub fn questions() -> &'static [Question] {
    &QUESTIONS
}

/// An answer that can't be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AnswerError {
    /// Which question; empty if it is not one answer's fault.
    pub id: String,
    /// What is wrong, what was expected, an example.
    pub message: String,
}

/// Whether somebody said that he doesn't know.
pub(crate) fn is_unknown(answer: &str) -> bool {
    let t = answer.trim().to_ascii_lowercase().replace('\u{2019}', "'");
    matches!(
        t.as_str(),
        "" | "?" | "-" | "don't know" | "dont know" | "do not know" | "unknown" | "not known" | "no idea"
    )
}

impl Question {
    /// Whether an answer can be used. Not knowing can.
    ///
    /// # Errors
    /// What is wrong with it, to be shown before asking again.
    pub fn check(&self, answer: &str) -> Result<(), String> {
        if is_unknown(answer) {
            return Ok(());
        }
        let mut answers = BTreeMap::from([(self.id.to_owned(), answer.to_owned())]);
        // Some answers are only used beside another.
        match self.id {
            "girth" => drop(answers.insert("anchor".into(), "10 m ahead, 0 m up".into())),
            "line" => drop(answers.insert("winch".into(), "8,000 lb".into())),
            _ => {}
        }
        case_from_answers(&answers).map(drop).map_err(|e| {
            let mut all: Vec<String> = e.into_iter().map(|e| e.message).collect();
            all.dedup();
            all.join("\n")
        })
    }
}

/// The case that answers make, as a file's text. A missing answer, an empty one and `don't know` are the same.
///
/// # Errors
/// Every answer that can't be used.
pub fn case_from_answers(answers: &BTreeMap<String, String>) -> Result<String, Vec<AnswerError>> {
    let stray = answers.keys().find(|k| QUESTIONS.iter().all(|q| q.id != k.as_str()));
    if let Some(id) = stray {
        return Err(vec![AnswerError { id: id.clone(), message: "there is no such question".into() }]);
    }
    let parsed = answer::parse(answers)?;
    let text = text::case(&parsed);
    match crate::read(&text, &mut |_| Err("no kit file is asked for".into())) {
        Ok(_) => Ok(text),
        Err(told) => Err(told
            .into_iter()
            .map(|d| {
                let mut message = d.message;
                if !d.expected.is_empty() {
                    message.push_str(&format!("; expected {}", d.expected));
                }
                if let Some(h) = d.hint {
                    message.push_str(&format!("; {h}"));
                }
                AnswerError { id: String::new(), message }
            })
            .collect()),
    }
}
