//! Line: photos dropped or chosen, and each told while the others are still measured.

use crate::browser::{Browser, Screen, on};
use crate::studio::{Studio, photo, unheard};
use serde_json::Value;
use std::path::Path;

#[test]
fn photos_dropped_on_the_desk_are_told_one_by_one() {
    on(&[Screen::Desk], Studio::season, |browser, studio| {
        takes_in(browser, studio, |files| {
            browser.drop_files("#photos", files)
        });
    });
}

#[test]
fn photos_chosen_on_a_phone_are_told_one_by_one() {
    on(&[Screen::Phone], Studio::season, |browser, studio| {
        takes_in(browser, studio, |files| browser.choose("#files", files));
    });
}

#[track_caller]
fn takes_in(browser: &Browser, studio: &Studio, send: impl Fn(&[&Path])) {
    let files = [
        studio.write("IMG_0501.jpg", &unheard("LB001-dry.jpg")),
        studio.write("LB002-wet-later.jpg", &unheard("LB002-wet.jpg")),
        studio.write("IMG_0502.jpg", b"no photo"),
        studio.write("IMG_0503.jpg", &photo("LB003-dry.jpg")),
    ];
    browser.go("/line");
    browser.script(
        "const [news, arrived, refused, progress] = ['news', 'arrived', 'refused', 'progress'].map((id) => document.getElementById(id));
         window.seen = [];
         const look = () => progress.hidden || window.seen.push([news.textContent, arrived.children.length + refused.children.length]);
         new MutationObserver(look).observe(document.querySelector('main'), {childList: true, subtree: true, characterData: true})",
        (),
    );
    send(&files.each_ref().map(|file| file.as_path()));
    browser.until("the end of the news", || {
        browser.text("#news").ends_with("refused.").then_some(())
    });
    assert_eq!(
        browser.text("#news"),
        "2 photos new and measured, 1 known already, 1 refused."
    );
    // One after the other came, each with its picture or its reason, while the bar stood there.
    let seen = browser.script("return window.seen", ());
    let seen: Vec<(&str, u64)> = seen
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(pair)
        .collect();
    for (done, words) in [
        "0 of 4 done",
        "1 of 4 done",
        "2 of 4 done",
        "3 of 4 done",
        "4 of 4 done",
    ]
    .iter()
    .enumerate()
    {
        assert!(
            seen.contains(&(words, done as u64)),
            "never “{words}” in {seen:?}"
        );
    }
    let refused = browser.text("#refused .refused");
    assert!(
        refused.contains("IMG_0502.jpg") && refused.contains("not a photo"),
        "{refused}"
    );
    assert!(browser.text("#arrived").contains("known already"));
    browser.until("the pictures of what came", || {
        let drawn = "return [...document.querySelectorAll('#arrived img')].filter((it) => it.naturalWidth > 0).length";
        (browser.script(drawn, ()) == 3).then_some(())
    });
    // What nobody said is asked for at once, without the page being loaded again.
    assert!(browser.text("#waits #state").contains("photo taken as dry"));
    // Loaded anew, the page still shows what came.
    let news = browser.text("#news");
    browser.script("location.reload()", ());
    browser.until("what came before the page was loaded anew", || {
        (browser.count("#waits #state") == 1 && browser.count("#arrived li") == 3).then_some(())
    });
    assert_eq!(browser.text("#news"), news);
    let shown = studio.run(&["show", "LB002"]);
    assert!(shown.contains("wet: LB002-wet-later.jpg"), "{shown}");
}

/// In the middle the page is loaded anew: it goes on watching, and says what had not been sent by then.
#[test]
fn photos_on_their_way_are_found_again() {
    on(&[Screen::Desk], Studio::season, |browser, studio| {
        let files: Vec<_> = (1..=8)
            .map(|n| {
                let name = format!("LB00{n}-dry.jpg");
                studio.write(&format!("LB00{n}-dry-later.jpg"), &unheard(&name))
            })
            .collect();
        browser.go("/line");
        let files: Vec<&Path> = files.iter().map(|file| file.as_path()).collect();
        browser.choose("#files", &files);
        browser.there("#arrived li");
        browser.script("location.reload()", ());
        browser.until("the end of the news", || {
            let news = browser.text("#news");
            let all = browser.count("#arrived li") == 8 && news.starts_with("8 photos new");
            let left = news.contains("not sent yet");
            ((all || left) && browser.count("#progress[hidden]") == 1).then_some(())
        });
    });
}

fn pair(pair: &Value) -> Option<(&str, u64)> {
    Some((pair[0].as_str()?, pair[1].as_u64()?))
}
