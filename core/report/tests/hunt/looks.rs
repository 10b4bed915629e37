//! How a report looks, by two engines that know nothing of one another: poppler and MuPDF
//! for a PDF, Chromium and html5ever for a page.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use scraper::{Html, Node};

/// What the two engines show: a picture a page, or the words in their tags.
#[derive(PartialEq, Eq)]
pub struct Looks([Vec<Vec<u8>>; 2]);

impl Looks {
    /// How many pages each engine shows.
    pub fn pages(&self) -> [usize; 2] {
        [self.0[0].len(), self.0[1].len()]
    }

    /// Whether every engine shows another thing than there.
    pub fn both_differ(&self, other: &Looks) -> bool {
        self.0.iter().zip(&other.0).all(|(is, was)| is != was)
    }
}

/// Looks at a report's file.
pub fn of(file: &[u8]) -> Looks {
    let dir = tempfile::tempdir().unwrap();
    if file.starts_with(b"%PDF-") {
        let path = dir.path().join("report.pdf");
        std::fs::write(&path, file).unwrap();
        Looks([poppler(&path), mupdf(&path)])
    } else {
        let path = dir.path().join("report.html");
        std::fs::write(&path, file).unwrap();
        Looks([
            chromium(&path),
            vec![html5ever(&String::from_utf8_lossy(file))],
        ])
    }
}

fn poppler(file: &Path) -> Vec<Vec<u8>> {
    let mut tool = Command::new("pdftoppm");
    tool.args(["-gray", "-r", "40"]).arg(file);
    pictures(tool.arg(file.with_file_name("poppler")), file, "poppler")
}

fn mupdf(file: &Path) -> Vec<Vec<u8>> {
    let mut tool = Command::new("mutool");
    tool.args(["draw", "-q", "-r", "40", "-c", "gray", "-F", "pgm", "-o"]);
    tool.arg(file.with_file_name("mupdf-%03d.pgm")).arg(file);
    pictures(&mut tool, file, "mupdf")
}

/// A page's picture in a browser that reaches nothing, as tall as the longest report.
fn chromium(file: &Path) -> Vec<Vec<u8>> {
    let profile = file.with_file_name("profile");
    let shot = file.with_file_name("chromium.png");
    let mut tool = Command::new("chromium");
    tool.args(["--headless=new", "--no-sandbox", "--disable-gpu"])
        .args(["--hide-scrollbars", "--window-size=500,9000"])
        .arg("--host-resolver-rules=MAP * ~NOTFOUND")
        .arg(format!("--user-data-dir={}", profile.display()))
        .arg(format!("--screenshot={}", shot.display()))
        .arg(format!("file://{}", file.display()));
    pictures(&mut tool, file, "chromium")
}

fn pictures(tool: &mut Command, file: &Path, engine: &str) -> Vec<Vec<u8>> {
    let ran = tool
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .unwrap_or_else(|why| panic!("{engine} is not here (.ci/packages test): {why}"));
    let folder = file.parent().unwrap();
    let mut all: Vec<PathBuf> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| {
            let name = path.file_name().unwrap().to_string_lossy();
            path.is_file() && name.starts_with(engine)
        })
        .collect();
    all.sort();
    // A file that an engine refuses shows nothing, which is a look as well.
    assert!(ran.success() || all.is_empty(), "{engine}: {ran}");
    all.iter()
        .map(|path| std::fs::read(path).unwrap())
        .collect()
}

/// Tags and words as the standard's parser reads them, without the seal, which is hidden.
fn html5ever(page: &str) -> Vec<u8> {
    let mut seen = String::new();
    for node in Html::parse_document(page).tree.root().descendants() {
        let sealed = node.parent().is_some_and(|parent| {
            parent.value().as_element().is_some_and(|element| {
                element.attr("id") == Some("seal") && element.attr("hidden").is_some()
            })
        });
        match node.value() {
            Node::Text(_) if sealed => {}
            other => seen += &format!("{other:?}\n"),
        }
    }
    seen.into_bytes()
}
