//! What the places show.

use super::*;

#[track_caller]
fn shows(reply: &Reply, all: &[&str]) {
    let text = reply.text();
    for words in all {
        assert!(text.contains(words), "no “{words}” in {text}");
    }
}

#[test]
fn an_empty_journal_leads_on() {
    let studio = Studio::new();
    shows(
        &studio.get("/").good(),
        &["Nothing stands here yet", "href=\"/line\""],
    );
    for path in ["/pot", "/line", "/desk", "/market", "/studio"] {
        shows(&studio.get(path).good(), &["<h1>", "aria-current=\"page\""]);
    }
}

#[test]
fn pieces_stand_on_the_shelf_and_are_found_by_words() {
    let studio = Studio::new();
    let season = Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/season/sheet.csv");
    crate::sheet::enter(&mut studio.journal(), &season).expect("entered");
    studio.photos(&["LB001-dry.jpg", "LB002-wet.jpg"]);
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
