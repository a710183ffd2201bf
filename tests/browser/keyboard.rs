//! The whole way by keyboard alone: a photo added, mended, and a note of it.

use crate::browser::{Browser, Screen, key, on};
use crate::studio::{Studio, unheard};
use serde_json::json;

/// How many times Tab is pressed before one would give up.
const MOST: usize = 200;

impl Browser {
    /// Presses Tab until this has the focus. Wherever the focus goes on the way it is seen (WCAG 2.2, 2.4.7), and nothing that
    /// stands fixed lies over it (2.4.11).
    #[track_caller]
    fn tab_to(&self, css: &str) {
        self.there(css);
        for _ in 0..MOST {
            self.keys([key::TAB]);
            let hidden = self.script(FOCUS, ());
            assert_eq!(hidden, "", "on the way to {css}");
            if self.script("return document.activeElement.matches(arguments[0])", css) == true {
                return;
            }
        }
        panic!("Tab does not lead to {css}");
    }
}

/// Why the focus cannot be seen; empty where it can.
const FOCUS: &str = "
    const it = document.activeElement;
    if (it === document.body) return '';
    const name = it.outerHTML.slice(0, 120);
    const framed = (one) => { const style = getComputedStyle(one); return style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2; };
    if (!framed(it) && !framed(it.parentElement) && !it.matches('.corner.chosen')) return 'no frame around ' + name;
    const box = it.getBoundingClientRect();
    const over = [[0.5, 0.5], [0.1, 0.2], [0.9, 0.8]].map(([x, y]) => document.elementFromPoint(box.x + box.width * x, box.y + box.height * y));
    return over.some((other) => other && (it.contains(other) || other.contains(it))) ? '' : 'something lies over ' + name + ' at ' + [box.x, box.y, box.width, box.height];
";

#[test]
fn from_a_photo_to_a_note_by_keyboard() {
    on(&Screen::BOTH, Studio::season, |browser, studio| {
        let photo = studio.write("IMG_0601.jpg", &unheard("LB005-wet.jpg"));
        browser.go("/");
        browser.tab_to(".skip");
        browser.tab_to("#to-line");
        browser.keys([key::ENTER]);
        // Which photos is asked by the system's own window, which is answered here.
        browser.tab_to("#files");
        browser.devtools(
            "Page.setInterceptFileChooserDialog",
            &json!({"enabled": true}),
        );
        browser.keys([' ']);
        let window = browser.told("Page.fileChooserOpened");
        let chosen = json!({"files": [photo.to_str()], "backendNodeId": window["backendNodeId"]});
        browser.devtools("DOM.setFileInputFiles", &chosen);
        browser.until("the photo to be measured", || {
            browser
                .text("#news")
                .starts_with("1 photo new and measured")
                .then_some(())
        });
        browser.tab_to("#arrived li a");
        browser.keys([key::ENTER]);
        mends(browser);
        assert!(
            studio
                .run(&["show", "LB005"])
                .contains("worn: IMG_0601.jpg")
        );
        browser.tab_to("h1 a");
        browser.keys([key::ENTER]);
        browser.tab_to("#note");
        browser.keys([key::ENTER]);
        browser.tab_to("a[href='/market/note/LB005']");
        browser.keys([key::ENTER]);
        browser.there(".colours .word");
        assert_eq!(browser.text("h1"), "LB005");
    });
}

/// On the photo's page: what it shows, one of its colours, and its outline.
fn mends(browser: &Browser) {
    browser.tab_to("#keep-shows");
    if browser.screen() == Screen::Phone {
        browser.tab_to("#colour-0 summary");
        browser.keys([key::ENTER]);
    }
    browser.tab_to("#colour-0 button[value=ground]");
    browser.keys([key::ENTER]);
    browser.there("#colour-0 button[value=ground][aria-pressed=true]");
    browser.tab_to("input[name=state]");
    while browser.script("return document.activeElement.value", ()) != "worn" {
        browser.keys([key::DOWN]);
    }
    browser.tab_to("#keep-shows");
    browser.keys([key::ENTER]);
    browser.until("the state to be kept", || {
        browser.text(".head .state").eq("worn").then_some(())
    });
    browser.tab_to("#outline-form .corner");
    let before = browser.value("#outline-text");
    browser.keys([key::RIGHT, key::RIGHT, key::DOWN]);
    let drawn = browser.value("#outline-text");
    assert_ne!(drawn, before);
    browser.tab_to("#measure-outline");
    browser.keys([key::ENTER]);
    browser.there("#outline-form button[name=back]");
}
