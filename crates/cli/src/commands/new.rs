//! `unmire new [FILE]`: at most ten questions, then a case.
//!
//! Questions go to standard error and answers come from standard input, so that the case itself may go to standard
//! output and the answers may come from a pipe. If the input ends too early nothing is written.

use crate::args::NewArgs;
use crate::status::{Status, Trouble};
use crate::{files, output};
use std::collections::BTreeMap;
use std::io::{self, BufRead, Write};
use std::path::Path;
use unmire_casefile::{Question, case_from_answers, questions};
use unmire_sheet::terminal::page::{Page, Paint};

pub fn run(a: &NewArgs) -> Result<Status, Trouble> {
    let file = a.file.as_deref().filter(|f| f.as_os_str() != "-");
    if let Some(f) = file.filter(|f| f.exists() && !a.force) {
        return Err(Trouble::hint(format!("{} is there already", f.display()), "--force writes over it"));
    }
    let width = output::width(None);
    let mut console = Console { input: io::stdin().lock(), told: io::stderr().lock(), width };
    let answers = console.interview()?;
    drop(console);
    let text = case_from_answers(&answers).map_err(|wrong| {
        let lines: Vec<String> = wrong.iter().map(|w| format!("{}: {}", w.id, w.message)).collect();
        Trouble::new(format!("the answers make no case: {}", lines.join("; ")))
    })?;
    match file {
        None => output::print(&text)?,
        Some(f) => {
            if a.force {
                files::write(f, &text)?
            } else {
                files::write_new(f, &text)?
            }
            output::tell(&told(f, width));
        }
    }
    Ok(Status::Passes)
}

fn told(file: &Path, width: usize) -> String {
    let mut page = Page::new(width, false);
    page.gap();
    page.para(
        0,
        &format!(
            "Written: {0}. What nobody answered stands in it as a wide range marked as assumed: put in what you measure. \
             Then: unmire plan {0}",
            file.display()
        ),
    );
    page.finish()
}

/// Where the questions go and the answers come from.
struct Console<R, W> {
    input: R,
    told: W,
    width: usize,
}

impl<R: BufRead, W: Write> Console<R, W> {
    /// Asks what is still to be asked.
    fn interview(&mut self) -> Result<BTreeMap<String, String>, Trouble> {
        self.say(
            0,
            &[(
                "At most ten questions. An empty answer means that nobody knows; '?' tells more; Ctrl-C gives up.",
                Paint::Plain,
            )],
        );
        let mut answers = BTreeMap::new();
        let of = questions().len();
        for (i, q) in questions().iter().enumerate() {
            // A thing that isn't there needs no measuring.
            let about = match q.id {
                "girth" => Some("anchor"),
                "line" => Some("winch"),
                _ => None,
            };
            let absent = about.and_then(|id| answers.get(id)).is_some_and(|a: &String| is_none(a));
            if !absent {
                let answer = self.ask(q, i + 1, of)?;
                answers.insert(q.id.to_owned(), answer);
            }
        }
        Ok(answers)
    }

    /// Asks until the answer can be used.
    fn ask(&mut self, q: &Question, number: usize, of: usize) -> Result<String, Trouble> {
        self.say(0, &[]);
        self.say(0, &[(&format!("{number}/{of} "), Paint::Plain), (q.text, Paint::Plain)]);
        self.say(3, &[("for example: ", Paint::Plain), (q.example, Paint::Plain)]);
        loop {
            let _ = self.told.write_all(b"> ").and_then(|()| self.told.flush());
            let mut line = String::new();
            match self.input.read_line(&mut line) {
                Ok(0) => {
                    return Err(Trouble::hint(
                        format!("the input ended at question {number} of {of} ({}); nothing was written", q.id),
                        "an empty line answers a question with 'nobody knows'",
                    ));
                }
                Ok(_) => {}
                Err(e) if e.kind() == io::ErrorKind::InvalidData => {
                    self.say(3, &[("That was no text in UTF-8. Once more, please.", Paint::Plain)]);
                    continue;
                }
                Err(e) => return Err(Trouble::new(format!("cannot read the answers: {e}"))),
            }
            let answer = line.trim();
            if matches!(answer, "?" | "help") {
                self.say(3, &[(q.help, Paint::Plain)]);
                self.say(3, &[("If nobody knows: ", Paint::Plain), (q.unknown, Paint::Plain)]);
                continue;
            }
            match q.check(answer) {
                Ok(()) => return Ok(answer.to_owned()),
                Err(why) => self.say(3, &[("That can't be used: ", Paint::Plain), (&why, Paint::Plain)]),
            }
        }
    }

    /// Tells something. If standard error is gone nobody is there to be told.
    fn say(&mut self, indent: usize, spans: &[(&str, Paint)]) {
        let mut page = Page::new(self.width, false);
        page.flow(indent, 3, spans);
        let _ = self.told.write_all(page.finish().as_bytes());
    }
}

fn is_none(answer: &str) -> bool {
    matches!(answer.to_lowercase().as_str(), "none" | "no" | "nothing")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn interview(input: &str) -> (Result<BTreeMap<String, String>, Trouble>, String) {
        let mut console = Console { input: input.as_bytes(), told: Vec::new(), width: 60 };
        let answers = console.interview();
        (answers, String::from_utf8(console.told).unwrap())
    }

    #[test]
    fn regress_at_most_ten_questions_and_each_example_will_do() {
        assert!(questions().len() <= 10);
        let lines: String = questions().iter().map(|q| format!("{}\n", q.example)).collect();
        let (answers, told) = interview(&lines);
        assert_eq!(answers.unwrap().len(), questions().len());
        assert!(!told.contains("can't be used"), "{told}");
    }

    #[test]
    fn regress_a_bad_answer_is_asked_again_with_the_reason() {
        let mut lines = String::from("2 tons\n?\n");
        lines.extend(questions().iter().map(|_| "\n"));
        let (answers, told) = interview(&lines);
        assert!(answers.is_ok());
        assert!(told.contains("That can't be used") && told.contains("ton"), "{told}");
        assert!(told.contains("If nobody knows"), "{told}");
        assert!(told.lines().all(|l| l.chars().count() <= 62), "{told}");
    }

    #[test]
    fn regress_what_is_absent_is_not_measured() {
        let lines = "\n\n\n\nnone\nnone\n\n\n";
        let (answers, told) = interview(lines);
        let answers = answers.unwrap();
        assert!(!answers.contains_key("girth") && !answers.contains_key("line"), "{answers:?}");
        assert!(told.contains("10/10") && !told.contains(" 6/10"), "{told}");
    }

    #[test]
    fn regress_input_that_ends_early_writes_nothing() {
        let (answers, _) = interview("2.4 t\n");
        match answers {
            Err(Trouble::Said { what, .. }) => assert!(what.contains("question 2 of 10"), "{what}"),
            other => panic!("{other:?}"),
        }
    }
}
