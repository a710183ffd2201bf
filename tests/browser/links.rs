//! Every link of every view leads to a page, and every page that a link leads to is among the views that are looked at here.

use crate::browser::{Screen, on};
use crate::studio::Studio;
use crate::views::{SELDOM, VIEWS};
use std::collections::BTreeSet;

/// Links of the page that is open: address, then status, kind, and whether the place behind `#` is there.
const FOLLOW: &str = "
    const done = arguments[0];
    const links = [...document.links].map((it) => it.href).filter((href) => href.startsWith(location.origin));
    Promise.all([...new Set(links)].map(async (href) => {
      const answer = await fetch(href), kind = answer.headers.get('content-type') ?? '', place = new URL(href).hash.slice(1);
      const page = kind.startsWith('text/html') && place ? new DOMParser().parseFromString(await answer.text(), 'text/html') : null;
      return [new URL(href).pathname, answer.status, kind, !page || !!page.getElementById(place)];
    })).then(done, (error) => done([[String(error), 0, '', false]]));
";

#[test]
fn every_link_leads_somewhere() {
    on(&[Screen::Desk], Studio::waiting, |browser, _| {
        let mut reached = BTreeSet::new();
        // From a note no script may ask for anything; its one link, the way back, is touched where a note is looked at.
        for view in VIEWS.iter().filter(|view| view.name != "note") {
            view.open(browser);
            let links = browser.awaited(FOLLOW);
            for link in links.as_array().expect("links") {
                assert_eq!(
                    (&link[1], &link[3]),
                    (&200.into(), &true.into()),
                    "from {}: {link}",
                    view.name
                );
                if link[2]
                    .as_str()
                    .is_some_and(|kind| kind.starts_with("text/html"))
                {
                    reached.insert(pattern(link[0].as_str().expect("a path")));
                }
            }
        }
        let known: BTreeSet<String> = VIEWS
            .iter()
            .chain(&SELDOM)
            .map(|view| pattern(view.path()))
            .collect();
        let unseen: Vec<_> = reached
            .iter()
            .filter(|path| !known.contains(*path) && *path != "/photo/*")
            .collect();
        assert!(
            reached.len() > 10 && unseen.is_empty(),
            "not among the views: {unseen:?}"
        );
    });
}

/// A path without its codes and numbers: `/piece/LB007` is `/piece/*`.
fn pattern(path: &str) -> String {
    let path = path.split('?').next().unwrap_or_default();
    let parts = path.split('/').map(|part| {
        if part.contains(|c: char| c.is_ascii_digit()) {
            "*"
        } else {
            part
        }
    });
    parts.collect::<Vec<_>>().join("/")
}
