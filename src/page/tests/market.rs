//! Market: notes of ticked pieces and of whole bundles, and what is made of them.

use super::*;

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
            "Fetch it as a file (HTML)",
            "no measured photo of LB002",
            "No piece or bundle is called nobody",
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

/// Words that nobody saw are not kept: another photo counted meanwhile.
#[test]
fn only_words_that_were_seen_are_kept() {
    let studio = season(&["LB001-dry.jpg", "LB002-dry.jpg"]);
    let seen = |page: &str| -> Vec<String> {
        let parts = page.split("name=\"seen\" value=\"").skip(1);
        parts
            .filter_map(|rest| rest.split('"').next().map(str::to_owned))
            .collect()
    };
    let page = "/market/notes?pieces=LB001";
    let before = seen(&studio.get(page).good().text());
    let photos = studio.journal().photos().expect("photos");
    let other = photos
        .iter()
        .find(|photo| photo.piece.as_deref() == Some("LB002"));
    let id = other.and_then(|photo| photo.id).expect("a photo");
    studio
        .journal()
        .claim(id, "LB001", Some(crate::reading::State::Washed), None)
        .expect("said");
    for place in ["words", "cards", "strip", "file"] {
        let form = format!("pieces=LB001&take=these&seen={}", before[0]);
        let told = studio.send(&format!("/market/{place}"), &form);
        assert_eq!(told.status, StatusCode::CONFLICT, "{place}");
        shows(&told, &["The words of LB001 have changed"]);
    }
    assert_eq!(studio.journal().issued("LB001").expect("read"), None);
    let now = seen(&studio.get(page).good().text());
    assert!(now[0] == now[1] && now[0] != before[0]);
    studio.send(
        "/market/words",
        &format!("pieces=LB001&take=these&seen={}", now[0]),
    );
    assert!(studio.journal().issued("LB001").expect("read").is_some());
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
    shows(&after, &["These words went out on 2026-05-20"]);
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

#[test]
fn a_bundle_is_taken_as_a_whole() {
    let studio = season(&["LB001-dry.jpg", "LB002-dry.jpg", "LB003-wet.jpg"]);
    shows(
        &studio.get("/market").good(),
        &["/market/notes?pieces=B01", "3 pieces", "value=\"LB009\""],
    );
    let notes = studio.get("/market/notes?pieces=b01&pieces=").good();
    shows(
        &notes,
        &[
            "Bundle B01: 2 notes",
            "/market/note/LB002",
            "no photo shows it dry or washed yet: LB003.",
            "All cards as PDF",
            "Cover sheet as PDF",
            "name=\"pieces\" value=\"B01\"",
        ],
    );
    let cover = studio
        .send("/market/cover", "pieces=B01&paper=letter")
        .good();
    assert!(cover.bytes.starts_with(b"%PDF-1."));
    let out = ["LB001", "LB002", "LB003"].map(|code| {
        let issued = studio.journal().issued(code).expect("read");
        issued.is_some()
    });
    assert_eq!(out, [true, true, false]);
    let tags = studio.get("/market/tags.pdf?pieces=B02").good();
    assert!(tags.bytes.starts_with(b"%PDF-1."));
}

#[test]
fn ticked_and_named_pieces_are_meant_alike() {
    let studio = season(&["LB001-dry.jpg", "LB002-dry.jpg"]);
    let ticked = studio
        .get("/market/notes?pieces=LB002&pieces=lb001+LB002&paper=a4")
        .good();
    shows(
        &ticked,
        &[
            "2 notes",
            ">LB001</a></h2>",
            "pieces=LB002&#38;pieces=LB001",
        ],
    );
    assert!(!ticked.text().contains("Bundle "));
    let both = studio.get("/market/notes?pieces=B01+nobody").good();
    shows(&both, &["3 notes", "No piece or bundle is called nobody"]);
    let none = studio.get("/market/notes?pieces=");
    assert_eq!(none.status, StatusCode::NOT_FOUND);
    shows(&none, &["Choose pieces first"]);
    let used = studio.send("/market/words", "pieces=LB002&shown=LB001&shown=LB002");
    assert_eq!(
        used.header("location"),
        "/market/notes?pieces=LB001&pieces=LB002&lang=en"
    );
}

/// What a customer is sent is the note and nothing of the page; what is looked at has a way back.
#[test]
fn a_note_is_fetched_as_the_customers_own_file() {
    let studio = season(&["LB001-dry.jpg"]);
    let looked = studio.get("/market/note/LB001").good();
    shows(
        &looked,
        &["href=\"/market/notes?pieces=LB001&#38;lang=en\""],
    );
    let file = studio.send("/market/file", "pieces=LB001").good();
    assert_eq!(
        file.header("content-disposition"),
        "attachment; filename=\"LB001-note.html\""
    );
    let mut journal = studio.journal();
    let piece = journal.piece("LB001").expect("read").expect("a piece");
    let note = crate::note::of_piece(&journal, &piece, &crate::note::Options::default());
    assert_eq!(file.text(), note.expect("a note").html().expect("written"));
    // A word of the studio's own makes today's note another; the page names its button, not the terminal's command.
    let swatch = &journal.photos_of("LB001").expect("photos")[0]
        .reading
        .swatches[0];
    let (name, value) = crate::journal::colour_word_value("old gold", swatch.lab, 20.0);
    journal.set(&name, Some(&value)).expect("set");
    let notes = studio.get("/market/notes?pieces=LB001").good();
    shows(
        &notes,
        &["Only “Take today’s words” changes them", "old gold"],
    );
    assert!(!notes.text().contains("--reissue"));
}
