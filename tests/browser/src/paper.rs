//! What leaves the page: paper, codes that a camera reads, files.

use crate::Page;
use base64::Engine as _;
use serde_json::{Value, json};
use std::path::PathBuf;
use thirtyfour::By;
use thirtyfour::error::{WebDriverError, WebDriverErrorInner};

/// A sheet of paper, width and height in inches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Paper(pub f64, pub f64);
/// ISO A4.
pub const A4: Paper = Paper(8.27, 11.69);
/// US Letter.
pub const LETTER: Paper = Paper(8.5, 11.0);

/// What a camera in front of the screen sees of a code: grey dots, row by row, six to a square.
const SEEN: &str = "
    const image = document.querySelector('img.code');
    await image.decode();
    const side = 6 * image.naturalWidth;
    const c = new OffscreenCanvas(side, side).getContext('2d');
    c.drawImage(image, 0, 0, side, side);
    const dots = c.getImageData(0, 0, side, side).data;
    let grey = '';
    for (let i = 0; i < dots.length; i += 4) grey += String.fromCharCode(dots[i]);
    return [side, btoa(grey)];";

fn bytes(text: &Value) -> Vec<u8> {
    base64::engine::general_purpose::STANDARD.decode(text.as_str().unwrap_or_default()).expect("base64")
}

impl Page<'_> {
    /// Prints the page as the browser does, and gives the PDF.
    #[track_caller]
    pub fn print(&self, Paper(width, height): Paper) -> Vec<u8> {
        let wish =
            json!({ "paperWidth": width, "paperHeight": height, "printBackground": false, "preferCSSPageSize": true });
        bytes(&self.stage.devtools("Page.printToPDF", wish)["data"])
    }
    /// The text of the code that is shown, read off its picture by another program than the one that drew it.
    #[track_caller]
    pub fn read_code(&self) -> String {
        self.still();
        let seen = self.js_later(SEEN, Vec::new());
        let side = usize::try_from(seen[0].as_u64().unwrap_or_default()).expect("a side");
        let dots = bytes(&seen[1]);
        let mut picture = rqrr::PreparedImage::prepare_from_greyscale(side, side, |x, y| dots[y * side + x]);
        let found = picture.detect_grids();
        assert_eq!(found.len(), 1, "one code is shown");
        found[0].decode().expect("the code can be read").1
    }
    /// Does something that makes the browser save one file, and gives the name and the text of that file.
    #[track_caller]
    pub fn saves(&self, act: impl FnOnce()) -> (String, String) {
        let folder = std::env::temp_dir().join(format!("unmire-saved-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&folder);
        std::fs::create_dir_all(&folder).expect("a folder for files");
        let behaviour = json!({ "behavior": "allow", "downloadPath": folder.display().to_string() });
        self.stage.devtools("Browser.setDownloadBehavior", behaviour);
        act();
        let there = || -> Option<PathBuf> {
            let all = std::fs::read_dir(&folder).ok()?.filter_map(Result::ok).map(|e| e.path());
            let files: Vec<PathBuf> = all.collect();
            // Under another name it is on its way, empty it was only just made.
            let whole = |f: &PathBuf| {
                f.extension().is_some_and(|e| e == "toml") && f.metadata().is_ok_and(|about| about.len() > 0)
            };
            let all = files.iter().all(whole);
            files.into_iter().next().filter(|_| all)
        };
        let file = self.eventually("a file is saved", there, Option::is_some).expect("a file");
        let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let text = std::fs::read_to_string(&file).expect("a text");
        let _ = std::fs::remove_dir_all(&folder);
        (name, text)
    }
    /// Chooses an option of a list by the words of both.
    #[track_caller]
    pub fn choose(&self, list: &str, option: &str) {
        self.act(&format!("“{option}” of “{list}” is chosen"), "combobox", list, async |all| {
            for one in all.find_all(By::Tag("option")).await? {
                if one.text().await? == option {
                    return one.click().await;
                }
            }
            let here = all.text().await?;
            Err(WebDriverError::from_inner(WebDriverErrorInner::NotFound(option.to_owned(), here)))
        });
    }
}

/// How many pages a PDF has.
#[must_use]
pub fn pages(pdf: &[u8]) -> usize {
    let text = String::from_utf8_lossy(pdf);
    let page = text.match_indices("/Type /Page").filter(|(i, t)| !text[i + t.len()..].starts_with('s'));
    page.count()
}
