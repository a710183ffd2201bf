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

/// A studio with the small season's sheet and some of its photos.
fn season(photos: &[&str]) -> Studio {
    let studio = Studio::new();
    let sheet = Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/season/sheet.csv");
    crate::sheet::enter(&mut studio.journal(), &sheet).expect("entered");
    studio.photos(photos);
    studio
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

/// The same question, asked of the area that answers it.
#[test]
fn the_desk_answers_as_the_journal_does() {
    let studio = season(&["LB001-dry.jpg", "LB002-dry.jpg", "LB003-dry.jpg"]);
    let question = "Which mordant gave the warmest yellows?";
    let answer = crate::ask::of_journal(
        &studio.journal(),
        question,
        crate::journal::Degrees::Celsius,
        today(),
    )
    .expect("an answer");
    let sentence = answer.sentence().replace('>', "&#62;");
    let desk = studio
        .get("/desk?q=Which+mordant+gave+the+warmest+yellows%3F")
        .good();
    shows(
        &desk,
        &[
            &sentence,
            "<svg xmlns",
            "<table id=\"groups\">",
            "/piece/LB001",
            "id=\"evidence\"",
        ],
    );
    let table = studio
        .get("/desk/evidence.csv?q=Which+mordant+gave+the+warmest+yellows%3F")
        .good();
    assert_eq!(table.text(), answer.csv().expect("a table"));
    let odd = studio.get("/desk?q=wich+mordnat");
    assert_eq!(odd.status, StatusCode::BAD_REQUEST);
    shows(
        &odd,
        &["“mordnat” was not understood", "Below stands a question"],
    );
    assert!(!odd.text().contains("--help"));
    for such in [
        "/desk?q=How+many+pieces+have+yellows%3F",
        "/desk?q=nearest+to+LB001",
        "/desk?q=what+should+I+try+next+for+warm+yellows",
    ] {
        shows(&studio.get(such).good(), &["id=\"answer\""]);
    }
}

#[test]
fn drying_is_shown_piece_by_piece() {
    let studio = season(&["LB001-wet.jpg", "LB001-dry.jpg"]);
    shows(
        &studio.get("/desk/drying").good(),
        &["LB001", "steps of lightness", "wet above, dry below"],
    );
    shows(
        &studio.get("/desk/washing").good(),
        &["No piece has been photographed both dry and washed"],
    );
    shows(&studio.get("/piece/LB001").good(), &["It dried "]);
}

#[test]
fn notes_and_tags_come_from_the_market() {
    let studio = season(&["LB001-dry.jpg"]);
    shows(
        &studio.get("/market?pieces=LB001").good(),
        &["value=\"LB001\"", "Tags as PDF"],
    );
    let notes = studio.get("/market/notes?pieces=LB001+LB002+nobody").good();
    shows(
        &notes,
        &[
            "3 notes",
            "/market/note/LB001",
            "no measured photo of LB002",
            "No piece is called nobody",
        ],
    );
    let note = studio.get("/market/note/LB001").good();
    // It holds its style and picture itself, and no script may run in it.
    let policy = note.header("content-security-policy");
    assert!(
        policy.contains("default-src 'none'") && !policy.contains("script-src"),
        "{policy}"
    );
    shows(&note, &["LB001", "data:image/jpeg;base64,"]);
    let tags = studio
        .get("/market/tags.pdf?pieces=LB001,LB002&states=yes&paper=letter")
        .good();
    // ISO 32000: a PDF begins with its version.
    assert!(tags.bytes.starts_with(b"%PDF-1.") && tags.header("content-type") == "application/pdf");
    assert_eq!(
        studio.get("/market/tags.pdf?pieces=").status,
        StatusCode::BAD_REQUEST
    );
    assert_eq!(
        studio.get("/market/note/nobody").status,
        StatusCode::NOT_FOUND
    );
}

/// What is printed or fetched keeps its words; looking at a note does not.
#[test]
fn what_goes_out_of_the_house_keeps_its_words() {
    let studio = season(&["LB001-dry.jpg"]);
    let page = "/market/notes?pieces=LB001+nobody&lang=de";
    shows(
        &studio.get(page).good(),
        &["in English", "I have used these words", "Pflanzenfarben"],
    );
    assert_eq!(studio.journal().issued("LB001").expect("read"), None);
    let cards = studio
        .send("/market/cards", "pieces=LB001&paper=a4&lang=de")
        .good();
    assert!(cards.bytes.starts_with(b"%PDF-1."));
    let issued = studio
        .journal()
        .issued("LB001")
        .expect("read")
        .expect("kept");
    assert_eq!(issued.on, "2026-05-20");
    let after = studio.get(page).good();
    assert!(!after.text().contains("I have used these words"));
    let strip = studio.send("/market/strip", "pieces=LB001").good();
    // PNG, third edition, section 5.2: its signature.
    assert!(strip.bytes.starts_with(b"\x89PNG\r\n\x1a\n"));
    let used = studio.send("/market/words", "pieces=LB001&take=today");
    assert_eq!(
        used.header("location"),
        "/market/notes?pieces=LB001&lang=en"
    );
    assert_eq!(
        studio.send("/market/cards", "pieces=nobody").status,
        StatusCode::NOT_FOUND
    );
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
