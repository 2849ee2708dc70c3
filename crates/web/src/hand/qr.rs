//! The picture of a part.

use super::encode::encode;

/// The squares of a code.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Code {
    /// Squares a side, without the quiet margin.
    pub side: usize,
    dark: Vec<bool>,
}
impl Code {
    /// Whether a square is dark; beyond the code all is light.
    #[must_use]
    pub fn dark(&self, x: usize, y: usize) -> bool {
        x < self.side && self.dark.get(y * self.side + x).copied().unwrap_or_default()
    }
    /// The code as SVG with its quiet margin of four squares, black on white whatever the theme: a camera needs it so.
    #[must_use]
    pub fn svg(&self) -> String {
        use core::fmt::Write as _;
        let all = self.side + 8;
        let mut path = String::new();
        for y in 0..self.side {
            let mut x = 0;
            while x < self.side {
                let run = (x..self.side).take_while(|x| self.dark(*x, y)).count();
                if run > 0 {
                    // Writing to a text never fails.
                    let _ = write!(path, "M{} {}h{run}v1h-{run}z", x + 4, y + 4);
                }
                x += run.max(1);
            }
        }
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {all} {all}\" width=\"{all}\" height=\"{all}\" \
             shape-rendering=\"crispEdges\"><path fill=\"#fff\" d=\"M0 0h{all}v{all}H0z\"/><path d=\"{path}\"/></svg>"
        )
    }
}

/// The code of a part; nothing if it holds too much, which no part does.
#[must_use]
pub fn code(part: &str) -> Option<Code> {
    let (side, dark) = encode(part)?;
    Some(Code { side, dark })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::examples::{cases, kits};
    use crate::hand::{Handed, hear, join, split};

    /// What another program reads off the picture of a code, six dots a square, on white.
    fn read(code: &Code) -> String {
        const DOTS: usize = 6;
        let all = (code.side + 8) * DOTS;
        let square = |n: usize| (n / DOTS).checked_sub(4);
        let mut picture = rqrr::PreparedImage::prepare_from_greyscale(all, all, |x, y| match (square(x), square(y)) {
            (Some(x), Some(y)) if code.dark(x, y) => 0,
            _ => 255,
        });
        let found = picture.detect_grids();
        assert_eq!(found.len(), 1);
        found[0].decode().unwrap().1
    }

    #[test]
    fn other_program_reads_the_codes_of_every_example() {
        for example in cases() {
            let handed = Handed { name: example.file.to_owned(), text: example.text.to_owned(), kits: kits() };
            let parts = split(&handed).unwrap();
            let codes: Vec<Code> = parts.iter().map(|p| code(p).unwrap()).collect();
            let read: Vec<String> = codes.iter().map(read).collect();
            assert_eq!(read, parts);
            assert!(
                codes.iter().all(|c| c.side <= 85),
                "{}: {:?}",
                example.file,
                codes.iter().map(|c| c.side).collect::<Vec<_>>()
            );
            let heard: Vec<_> = read.iter().map(|p| hear(p).unwrap()).collect();
            assert_eq!(join(&heard), Ok(Some(handed)));
        }
    }
    #[test]
    fn other_program_reads_every_version_at_every_fill() {
        let letters = "UNMIRE1/ 0123456789$%*+-.:QXZ";
        for n in (1..=640).step_by(7) {
            let text: String = letters.chars().cycle().skip(n).take(n).collect();
            let code = code(&text).unwrap();
            assert_eq!(read(&code), text);
        }
        assert!(code("a").is_none() && code(&"A".repeat(2000)).is_none());
    }
    #[test]
    fn regress_the_drawing_has_every_dark_square_once() {
        let code = code("UNMIRE1/1/1/00000000/BB8").unwrap();
        let svg = code.svg();
        let dark = (0..code.side * code.side).filter(|n| code.dark(n % code.side, n / code.side)).count();
        let drawn: usize = svg
            .rsplit("d=\"")
            .next()
            .unwrap_or_default()
            .split('h')
            .filter_map(|r| r.split('v').next()?.parse::<usize>().ok())
            .sum();
        assert_eq!(drawn, dark);
        assert!(!code.dark(code.side, 0) && code.dark(0, 0));
    }
}
