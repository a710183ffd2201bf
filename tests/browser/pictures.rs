//! The pictures of the page in `docs/`, made by this test where `PICTURES` is set, so that they stay true.

use crate::browser::{Browser, Screen, on};
use crate::palette;
use crate::studio::Studio;
use crate::views::VIEWS;
use base64::{Engine, engine::general_purpose::STANDARD};
use serde_json::json;
use std::path::{Path, PathBuf};

/// All pictures together, in bytes: they are fetched with the program.
const MOST: u64 = 1_500_000;

fn picture(name: &str, screen: Screen) -> PathBuf {
    let docs = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs");
    docs.join(format!("page-{name}-{}.png", screen.name()))
}

#[test]
fn every_view_has_its_pictures() {
    if std::env::var_os("PICTURES").is_some() {
        on(&Screen::BOTH, Studio::waiting, |browser, _| {
            for view in &VIEWS {
                view.open(browser);
                let png = taken(browser);
                std::fs::write(picture(view.name, browser.screen()), png).expect("written");
            }
        });
    }
    let text = std::fs::read_to_string(picture("", Screen::Desk).with_file_name("page.md"))
        .expect("docs/page.md");
    let mut all = 0;
    for (view, screen) in VIEWS
        .iter()
        .flat_map(|view| Screen::BOTH.map(|screen| (view, screen)))
    {
        let path = picture(view.name, screen);
        let (width, height) = image::image_dimensions(&path)
            .unwrap_or_else(|error| panic!("{}: {error}; PICTURES=1 makes it", path.display()));
        assert_eq!([width, height], screen.size(), "{}", path.display());
        all += path.metadata().expect("a file").len();
        let name = path.file_name().expect("a name").to_string_lossy();
        assert!(
            text.contains(name.as_ref()),
            "docs/page.md does not show {name}"
        );
    }
    assert!(all <= MOST, "the pictures have {all} bytes");
}

/// What is seen now, once all pictures on it are there.
fn taken(browser: &Browser) -> Vec<u8> {
    browser.until("the pictures on it", || {
        let waiting = "return [...document.images].filter((it) => it.getBoundingClientRect().top < innerHeight && !(it.complete && it.naturalWidth)).length";
        (browser.script(waiting, ()) == 0).then_some(())
    });
    let taken = browser.devtools("Page.captureScreenshot", &json!({"format": "png"}));
    let png = STANDARD.decode(taken["data"].as_str().expect("base64"));
    let picture = image::load_from_memory(&png.expect("base64")).expect("a picture");
    palette::png(&picture.to_rgb8())
}
