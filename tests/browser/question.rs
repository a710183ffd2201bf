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
