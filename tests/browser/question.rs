//! Desk: a question asked, its answer with plot, table and evidence.

use crate::browser::{Screen, key, on};
use crate::studio::Studio;

#[test]
fn a_question_is_answered_with_plot_and_evidence() {
    on(&Screen::BOTH, Studio::season, |browser, studio| {
        browser.go("/desk");
        browser.touch("#q");
        browser.keys(
            "Which mordant gave the warmest yellows?"
                .chars()
                .chain([key::ENTER]),
        );
        let answer = browser.text("#answer");
        // The terminal gives the same answer.
        let told = studio.run(&["ask", "Which mordant gave the warmest yellows?"]);
        let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            flat(&told).contains(&flat(&answer)),
            "“{answer}” is not in {told}"
        );
        let drawn = browser.script(
            "const box = document.querySelector('.plot svg').getBoundingClientRect(); return box.width > 200 && box.height > 100",
            (),
        );
        assert_eq!(drawn, true);
        // What stands above the plot is not said in it again.
        let in_plot = browser.script("return document.querySelector('.plot').textContent", ());
        assert!(!in_plot.as_str().unwrap_or_default().contains("Read as"));
        assert!(browser.count("#groups tbody tr") >= 2);
        let shown = browser.count("#evidence li");
        assert!(shown >= 2 && browser.count("#evidence .strip rect") >= shown);
        browser.touch("#evidence li a");
        let piece = browser.text("main h1");
        assert!(piece.starts_with("LB00"), "{piece}");
        browser.there(".stages img");
    });
}

/// On the narrowest phone nothing of an answer is cut off: the table is a list of cards, and the plot says that it can be pushed.
#[test]
fn a_narrow_phone_shows_all_of_an_answer() {
    on(&[Screen::Phone], Studio::season, |browser, _| {
        browser.size(360, 740);
        browser.go("/desk?q=Which+mordant+gave+the+warmest+yellows%3F");
        browser.there("#groups");
        let hidden = browser.script(
            "return [...document.querySelectorAll('#groups tbody th, #groups tbody td')].filter((it) => {
               const box = it.getBoundingClientRect();
               return !(box.width > 0 && box.left >= 0 && box.right <= innerWidth);
             }).map((it) => it.textContent)",
            (),
        );
        assert_eq!(hidden.as_array().map(Vec::len), Some(0), "{hidden}");
        let named = browser.script(
            "return getComputedStyle(document.querySelector('#groups td:last-child'), '::before').content",
            (),
        );
        assert!(named.as_str().is_some_and(|it| it.len() > 2), "{named}");
        let pushed = browser.script(
            "const sheet = document.querySelector('.plot .sheet'); sheet.scrollLeft = 9999;
             return [sheet.scrollLeft > 100, getComputedStyle(document.querySelector('.push')).display, sheet.tabIndex]",
            (),
        );
        assert_eq!(pushed, serde_json::json!([true, "block", 0]));
    });
}

/// In the dark the plot's paper is dark and its ground the grey that colours lie on, but pieces keep their colours.
#[test]
fn a_plot_does_not_glare_in_the_dark() {
    on(&[Screen::Desk], Studio::season, |browser, _| {
        let painted = |scheme: &str| {
            browser.prefers("prefers-color-scheme", scheme);
            browser.go("/desk?q=Which+mordant+gave+the+warmest+yellows%3F");
            browser.there(".plot svg circle");
            browser.script(
                "const fill = (css) => [...document.querySelectorAll(css)].map((it) => getComputedStyle(it).fill);
                 return [fill('.plot svg > rect')[0], fill('.plot svg path')[0], fill('.plot circle')]",
                (),
            )
        };
        let (light, dark) = (painted("light"), painted("dark"));
        assert_eq!(light[0], "rgb(255, 255, 255)");
        assert_eq!(dark[0], "rgb(38, 38, 38)");
        assert_eq!(dark[1], "rgb(119, 119, 119)");
        assert!(light[2].as_array().is_some_and(|it| it.len() > 4));
        assert_eq!(light[2], dark[2]);
    });
}

#[test]
fn an_example_is_one_touch_away() {
    on(&Screen::BOTH, Studio::season, |browser, _| {
        browser.go("/");
        browser.touch("#to-desk");
        browser.touch(".such li:nth-child(3) a");
        browser.there("#answer");
        assert!(!browser.value("#q").is_empty());
    });
}
