//! Market: what is printed, read back from the PDF by an independent reader (`pdftotext` of Poppler).

use crate::browser::{self, Browser, Screen, on};
use crate::studio::Studio;
use base64::{Engine, engine::general_purpose::STANDARD};
use serde_json::{Value, json};
use std::process::{Command, Stdio};

/// Whether the reader is installed; says so where it is not.
fn reader() -> bool {
    let asked = Command::new("pdftotext")
        .arg("-v")
        .stderr(Stdio::null())
        .status();
    if asked.is_err() {
        browser::missing("pdftotext (Debian: apt-get install poppler-utils)");
    }
    asked.is_ok()
}

/// The words on the pages of a PDF, in the order in which they were written.
fn read(studio: &Studio, base64: &Value) -> String {
    let pdf = STANDARD
        .decode(base64.as_str().expect("base64"))
        .expect("base64");
    assert!(pdf.starts_with(b"%PDF-"));
    let file = studio.write("printed.pdf", &pdf);
    let output = Command::new("pdftotext")
        .arg("-raw")
        .arg(&file)
        .arg("-")
        .output()
        .expect("it runs");
    assert!(output.status.success());
    String::from_utf8(output.stdout).expect("UTF-8")
}

/// Letters alone: where lines are broken is the printer's.
fn letters(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

#[test]
fn a_note_is_printed_as_it_is_shown() {
    if !reader() {
        return;
    }
    on(&Screen::BOTH, Studio::season, |browser, studio| {
        browser.go("/piece/LB007");
        browser.touch("#note");
        browser.touch("a.button[href^='/market/note/']");
        browser.there(".colours");
        let printed = browser.devtools("Page.printToPDF", &json!({"preferCSSPageSize": true}));
        let text = read(studio, &printed["data"]);
        assert_eq!(
            text.matches('\u{c}').count(),
            1,
            "one sheet of paper: {text}"
        );
        let text = letters(&text);
        let shown = shown(browser);
        assert!(shown.len() > 6, "{shown:?}");
        for words in &shown {
            assert!(text.contains(&letters(words)), "“{words}” is not in {text}");
        }
        // The same words as at the terminal.
        let told = studio.run(&["note", "LB007"]);
        let words = browser.script("return [...document.querySelectorAll('.colours .word')].map((it) => it.textContent.trim())", ());
        let words = words.as_array().expect("words").clone();
        assert!(words.len() >= 3, "{words:?}");
        for word in words {
            assert!(
                told.contains(word.as_str().expect("a word")),
                "{word} is not in {told}"
            );
        }
    });
}

/// The PDF or file that a button's form is answered with, in base64: a browser without a window has no viewer for it.
fn fetched(browser: &Browser, button: &str) -> Value {
    browser.there(button);
    browser.awaited(&format!(
        "const done = arguments[0], button = document.querySelector('{button}');
         const form = button.form, data = new URLSearchParams(new FormData(form, button));
         fetch(button.getAttribute('formaction') ?? form.action, {{ method: 'POST', body: data }})
           .then((answer) => answer.bytes()).then((bytes) => done(bytes.toBase64()), (error) => done(String(error)))"
    ))
}

/// Market, the bundle, the button: three touches for the cards of three pieces, and the cover beside them.
#[test]
fn the_cards_of_a_bundle_are_three_touches() {
    if !reader() {
        return;
    }
    on(&Screen::BOTH, Studio::season, |browser, studio| {
        browser.go("/");
        browser.touch("#to-market");
        browser.touch("a[href='/market/notes?pieces=B03']");
        browser.there("#cards");
        assert_eq!(browser.text("h1"), "Bundle B03: 3 notes");
        let cards = read(studio, &fetched(browser, "#cards"));
        let cover = read(studio, &fetched(browser, "#cover"));
        for code in ["LB007", "LB008", "LB009"] {
            assert!(cards.contains(code), "{code} is not in {cards}");
            assert!(cover.contains(code), "{code} is not in {cover}");
        }
        assert!(cover.contains("B03"), "{cover}");
        browser.go("/market/notes?pieces=B03");
        let kept = browser.text("#note-0 + p");
        assert!(kept.contains("These words went out on"), "{kept}");
    });
}

#[test]
fn pieces_are_ticked_and_their_words_copied() {
    on(&Screen::BOTH, Studio::season, |browser, _| {
        browser.go("/market");
        browser.touch("#newest label:has([value=LB004])");
        browser.touch("#newest label:has([value=LB006])");
        browser.touch("#notes");
        browser.there("#note-1");
        assert_eq!(browser.text("h1"), "2 notes");
        browser.touch("[data-copies=short-1]");
        let told = "[data-copies=short-1] + [role=status]";
        browser.until("the words to be copied", || {
            browser.text(told).starts_with("Copied").then_some(())
        });
        browser.touch("a[href='/market/note/LB006']");
        browser.touch(".back a");
        browser.there("#note-0");
        assert_eq!(browser.text("h1"), "1 note");
        browser.touch("button[value=these]");
        browser.until("the words to be kept", || {
            let kept = browser.text("#note-0 + p");
            kept.contains("These words went out on").then_some(())
        });
    });
}

/// The paragraphs and headings of a note.
fn shown(browser: &Browser) -> Vec<String> {
    let shown = browser.script(
        "return [...document.querySelectorAll('main h1, main h2, main p, main li span, main footer')].map((it) => it.innerText).filter((words) => words.trim())",
        (),
    );
    let shown = shown.as_array().into_iter().flatten();
    shown
        .filter_map(|words| words.as_str().map(str::to_owned))
        .collect()
}

#[test]
fn tags_are_fetched_as_a_pdf() {
    if !reader() {
        return;
    }
    on(&Screen::BOTH, Studio::season, |browser, studio| {
        browser.go("/market");
        browser.touch("#pieces");
        browser.keys("LB101 LB102".chars());
        // A browser without a window has no viewer for a PDF: what the button fetches is fetched.
        browser.there("#tags-pdf");
        let pdf = browser.awaited(
            "const done = arguments[0], button = document.getElementById('tags-pdf');
             fetch(button.formAction + '?' + new URLSearchParams(new FormData(button.form, button)))
               .then((answer) => answer.bytes()).then((bytes) => done(bytes.toBase64()), (error) => done(String(error)))",
        );
        let text = read(studio, &pdf);
        assert!(text.contains("LB101") && text.contains("LB102"), "{text}");
    });
}
