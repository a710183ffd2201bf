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
