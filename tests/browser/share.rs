//! A phone let in over the network by a link that works once.

use crate::access::{checked, engine};
use crate::browser::{Screen, on};
use crate::studio::{Studio, unheard};

#[test]
fn a_phone_is_let_in_once() {
    on(&[Screen::Phone], Studio::shared, |browser, studio| {
        let engine = engine();
        let accessible = || {
            if let Some(engine) = &engine {
                assert_eq!(checked(browser, engine), Vec::<String>::new());
            }
        };
        let closed = || {
            browser.there("[role=alert]");
            browser.forget("403");
            assert_eq!(browser.count("a[href^='/piece']"), 0);
        };
        browser.go("/");
        closed();
        accessible();
        browser.go(&studio.link);
        browser.there("#come-in");
        accessible();
        // Whoever only looked at the link has not used it up.
        browser.go("/");
        closed();
        browser.go(&studio.link);
        browser.touch("#come-in");
        browser.there("#camera");
        browser.go("/piece/LB007");
        browser.there(".stages img");
        // What the phone takes is measured on the computer.
        let photo = studio.write("IMG_0801.jpg", &unheard("LB003-wet.jpg"));
        browser.go("/line");
        browser.choose("#camera", &[&photo]);
        browser.until("the photo to be taken in", || {
            studio
                .run(&["show", "LB003"])
                .contains("IMG_0801")
                .then_some(())
        });
        // No script can read the key, and the link lets nobody else in.
        assert_eq!(browser.script("return document.cookie", ()), "");
        browser.devtools("Network.clearBrowserCookies", &serde_json::json!({}));
        browser.go(&studio.link);
        closed();
        accessible();
        // Browsers leave that header out where the way is not encrypted; it serves the computer's own door.
        browser.forget("Cross-Origin-Opener-Policy");
    });
}
