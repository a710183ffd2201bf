//! What the places show.

use super::*;

#[test]
fn an_empty_journal_leads_on() {
    let studio = Studio::new();
    shows(
        &studio.get("/").good(),
        &[
            "Nothing stands here yet",
            "href=\"/market#tags\"",
            "href=\"/line\"",
        ],
    );
    for path in ["/pot", "/line", "/desk", "/market", "/studio"] {
        shows(&studio.get(path).good(), &["<h1>", "aria-current=\"page\""]);
    }
}

#[test]
fn pieces_stand_on_the_shelf_and_are_found_by_words() {
    let studio = season(&["LB001-dry.jpg", "LB002-wet.jpg"]);
    let shelf = studio.get("/").good();
    shows(
        &shelf,
        &[
            "/piece/LB001",
            "/piece/LB002",
            "/picture/1/small",
            "class=\"strip\"",
            "no photo yet",
        ],
    );
    let found = studio.get("/?words=lb001").good();
    shows(&found, &["1 piece found", "LB001"]);
    assert!(!found.text().contains("LB002"));
    shows(
        &studio.get("/?words=%3Cb%3E").good(),
        &["No piece has “&#60;b&#62;” with it"],
    );
    let one = studio.get("/piece/lb001").good();
    shows(&one, &["<h1>LB001</h1>", "/photo/", "Round 1", "mordant"]);
    assert_eq!(studio.get("/piece/LB999").status, StatusCode::NOT_FOUND);
}

/// Of what is written on the pages every place is reached by a link.
#[test]
fn every_link_leads_somewhere() {
    let studio = season(&["LB001-wet.jpg", "LB001-dry.jpg"]);
    let (mut seen, mut next) = (std::collections::BTreeSet::new(), vec!["/".to_owned()]);
    while let Some(path) = next.pop() {
        let reply = studio.get(&path);
        assert!(
            reply.status.is_success() || path.starts_with("/market/notes"),
            "{path}: {}",
            reply.status
        );
        if !reply.header("content-type").starts_with("text/html") {
            continue;
        }
        let text = reply.text().replace("&#38;", "&").replace("&amp;", "&");
        for quote in ["href=\"", "src=\""] {
            for link in text
                .split(quote)
                .skip(1)
                .filter_map(|rest| rest.split('"').next())
            {
                let link = link.split('#').next().unwrap_or_default();
                if link.starts_with('/') && seen.insert(link.to_owned()) {
                    next.push(link.to_owned());
                }
            }
        }
    }
    assert!(seen.len() > 30, "{seen:?}");
    for reached in ["/desk/drying", "/market/note/LB001", "/piece/LB001"] {
        assert!(seen.contains(reached), "{reached} in {seen:?}");
    }
}
