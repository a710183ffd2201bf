//! What a hand mends, with a finger or a mouse.

use crate::access::{checked, engine};
use crate::browser::{Browser, Screen, key, on};
use crate::studio::Studio;
use serde_json::Value;

/// Opens the page of LB007's dry photo.
fn open_photo(browser: &Browser) {
    browser.go("/piece/LB007");
    browser.touch(".stages li:last-child a.stage");
    browser.there("#outline-form .corner");
}

/// The dry photo of LB007 as the journal holds it.
fn kept(studio: &Studio) -> Value {
    let export: Value = serde_json::from_str(&studio.run(&["export"])).expect("JSON");
    let photos = export["photos"].as_array().expect("photos").clone();
    let mut dry = photos
        .into_iter()
        .filter(|photo| photo["file"] == "LB007-dry.jpg");
    dry.next().expect("the photo")
}

#[test]
fn an_outline_is_drawn_and_measured() {
    on(&Screen::BOTH, Studio::season, |browser, studio| {
        let before = kept(studio);
        open_photo(browser);
        let corners = || browser.value("#outline-text");
        let found = corners();
        browser.drag("#outline-form .corner", [24, 18]);
        let dragged = corners();
        assert_ne!(dragged, found);
        assert_eq!(
            others(&dragged),
            others(&found),
            "only the corner that was dragged moves"
        );
        browser.keys([key::RIGHT, key::RIGHT, key::DOWN]);
        browser.shifted(key::DOWN);
        let moved = corners();
        let [from, to] = [&dragged, &moved].map(|corners| first(corners));
        assert!(to[0] > from[0] && to[1] > from[1], "{from:?} to {to:?}");
        let handles = browser.count("#outline-form .corner");
        browser.touch("#outline-form .deeds button:first-child");
        assert_eq!(browser.count("#outline-form .corner"), handles + 1);
        let drawn = corners();
        browser.touch("#measure-outline");
        browser.there("#outline-form button[name=back]");
        let shown = browser.script(
            "return document.querySelector('.over polygon:last-child').getAttribute('points')",
            (),
        );
        assert_eq!(shown, drawn);
        let after = kept(studio);
        assert_ne!(after["outline"], before["outline"]);
        browser.touch("#outline-form button[name=back]");
        browser.until("the outline found before", || {
            (browser.count("#outline-form button[name=back]") == 0).then_some(())
        });
        browser.there("#outline-form .corner");
        assert_eq!(corners(), found);
    });
}

fn first(corners: &str) -> [f64; 2] {
    let numbers = corners
        .split([' ', ','])
        .map(|number| number.parse().expect("a number"));
    let numbers: Vec<f64> = numbers.take(2).collect();
    [numbers[0], numbers[1]]
}

fn others(corners: &str) -> &str {
    corners.split_once(' ').expect("corners").1
}

#[test]
fn a_touched_colour_is_said_to_be_ground() {
    on(&Screen::BOTH, Studio::season, |browser, studio| {
        open_photo(browser);
        for (value, words) in [("ground", "ground"), ("print:alder", "print of alder")] {
            unfold(browser);
            browser.touch(&format!("#colour-1 button[value='{value}']"));
            browser.there(&format!(
                "#colour-1 button[value='{value}'][aria-pressed=true]"
            ));
            assert_eq!(browser.text("#colour-1 [aria-pressed=true]"), words);
        }
        let said = &kept(studio)["swatches"][1];
        assert_eq!(
            (&said["part"], &said["plant"]),
            (&"print".into(), &"alder".into())
        );
    });
}

/// On a phone the buttons beneath a colour are folded away.
fn unfold(browser: &Browser) {
    browser.there("#colour-1 details");
    if browser.screen() == Screen::Phone && browser.count("#colour-1 details[open]") == 0 {
        browser.touch("#colour-1 summary");
        browser.there("#colour-1 details[open]");
    }
}

#[test]
fn what_waits_is_said_in_a_few_touches() {
    on(&Screen::BOTH, Studio::waiting, |browser, studio| {
        browser.go("/");
        browser.touch("#to-line");
        browser.touch(".waiting form.chips button[value=worn]");
        browser.until("the state to be said", || {
            (browser.count("#state") == 0).then_some(())
        });
        browser.touch(".waiting input[name=piece]");
        browser.keys("LB006".chars());
        browser.touch(".waiting form.claim p.one button");
        browser.until("the piece to be said", || {
            (browser.count("#unclaimed") == 0).then_some(())
        });
        let told = browser.text("#told");
        assert!(told.starts_with("IMG_0413.jpg shows LB006, dry."), "{told}");
        assert!(
            studio
                .run(&["show", "LB004"])
                .contains("worn: IMG_0412.jpg")
        );
        assert!(studio.run(&["show", "LB006"]).contains("IMG_0413.jpg"));
    });
}

/// A code that nobody has is asked back, and a photo that came in by mistake waits no more.
#[test]
fn a_mistyped_code_makes_no_piece() {
    on(&Screen::BOTH, Studio::waiting, |browser, studio| {
        browser.go("/line");
        browser.touch(".waiting input[name=piece]");
        browser.keys("LB66".chars());
        browser.touch(".waiting form.claim p.one button");
        browser.there("#make");
        if let Some(engine) = engine() {
            assert_eq!(checked(browser, &engine), Vec::<String>::new());
        }
        assert_eq!(browser.text("h1"), "No piece is called LB66 yet");
        browser.touch("main a.button.quiet");
        browser.touch(".waiting button[value=aside]");
        browser.until("the photo to be set aside", || {
            (browser.count("#unclaimed") == 0).then_some(())
        });
        assert!(browser.text("#told").contains("is set aside"));
        assert!(!studio.run(&["show"]).contains("LB66"));
    });
}

/// Somebody else changes the photo while its page is open: the later one is told, and can still have it their way.
#[test]
fn the_later_of_two_is_told() {
    on(&Screen::BOTH, Studio::season, |browser, studio| {
        open_photo(browser);
        studio.run(&["claim", "LB007-dry.jpg", "LB007", "--state", "washed"]);
        browser.touch("label:has([name=state][value=worn])");
        browser.touch("#keep-shows");
        browser.there("#mine");
        browser.forget("409");
        if let Some(engine) = engine() {
            assert_eq!(checked(browser, &engine), Vec::<String>::new());
        }
        assert!(
            studio
                .run(&["show", "LB007"])
                .contains("washed: LB007-dry.jpg")
        );
        browser.touch("#mine");
        browser.there("#outline-form");
        assert!(
            studio
                .run(&["show", "LB007"])
                .contains("worn: LB007-dry.jpg")
        );
    });
}
