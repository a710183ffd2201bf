//! Pot: a bundle written down in a few touches, a wet piece foreseen from the camera.

use crate::browser::{Screen, on};
use crate::studio::{Studio, unheard};
use serde_json::Value;

fn pieces(studio: &Studio) -> Vec<Value> {
    let export: Value = serde_json::from_str(&studio.run(&["export"])).expect("JSON");
    export["pieces"].as_array().expect("pieces").clone()
}

#[test]
fn the_last_bundle_is_offered_again_and_written_in_a_few_touches() {
    on(&Screen::BOTH, Studio::season, |browser, studio| {
        let before = pieces(studio).len();
        browser.go("/");
        browser.touch("#to-pot");
        browser.touch("#new-bundle");
        let code = browser.value("#code-0");
        let pressed = |state: bool| format!("#plant-0-0[aria-pressed={state}]");
        browser.there("#plant-0-0");
        if browser.count("#layer-0[open]") == 0 {
            browser.touch("#layer-0 summary");
        }
        let laid = browser.count(&pressed(true)) > 0;
        browser.touch("#plant-0-0");
        browser.there(&pressed(!laid));
        browser.touch("#write");
        browser.there("#next");
        let after = pieces(studio);
        assert!(after.len() > before);
        let new = after.iter().find(|piece| piece["code"] == code.as_str());
        let plants = new.expect("the first layer")["rounds"][0]["plants"]
            .as_array()
            .map_or(0, Vec::len);
        assert!(plants > 0, "{new:?}");
    });
}

/// A phone lets the page go, or a finger draws it anew: what was typed is there again, until it is begun anew or written down.
#[test]
fn what_was_begun_is_taken_up_again() {
    on(&[Screen::Phone], Studio::season, |browser, _| {
        browser.go("/pot/bundle");
        let offered = browser.value("#name");
        browser.touch("#name");
        browser.keys(" of May".chars());
        browser.touch("#add");
        browser.until("the layer to be added", || {
            (browser.count("details.layer") > 3).then_some(())
        });
        browser.go("/pot/bundle");
        browser.there("#anew");
        assert_eq!(browser.value("#name"), format!("{offered} of May"));
        assert_eq!(browser.count("details.layer"), 4);
        browser.touch("#anew");
        browser.until("the bundle as it was offered", || {
            (browser.count("#anew") == 0 && browser.count("details.layer") == 3).then_some(())
        });
        assert_eq!(browser.value("#name"), offered);
    });
}

#[test]
fn a_wet_piece_is_foreseen_and_not_kept() {
    on(&Screen::BOTH, Studio::season, |browser, studio| {
        let photo = studio.write("IMG_0701.jpg", &unheard("LB006-wet.jpg"));
        browser.go("/pot");
        browser.choose("#wet-file", &[&photo]);
        browser.touch("#foresee");
        let answer = browser.text("#answer");
        assert!(
            !answer.is_empty() && browser.count("#colours svg") > 1,
            "{answer}"
        );
        assert!(!studio.run(&["show", "LB006"]).contains("IMG_0701"));
        browser.touch("#keep");
        browser.until("the photo to be kept", || {
            studio
                .run(&["show", "LB006"])
                .contains("wet: IMG_0701.jpg")
                .then_some(())
        });
    });
}
