//! Which piece a photo shows: a code that is not known, a photo of no piece, a piece offered.

use super::line::{BATCH, bare};
use super::*;
use crate::journal::record::Photo;
use crate::reading::State;

/// A studio with the small season's pieces and a photo that shows none of them for certain.
fn waiting(name: &str) -> Studio {
    let studio = Studio::new();
    let season = Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/season/sheet.csv");
    crate::sheet::enter(&mut studio.journal(), &season).expect("entered");
    studio.send_photos(BATCH, "", &[(name, bare())]);
    studio
}

fn photo(studio: &Studio) -> Photo {
    studio.journal().photos().expect("photos").remove(0)
}

/// Sends a form based on the photo as it is.
fn send(studio: &Studio, deed: &str, form: &str) -> Reply {
    let edition = super::super::edition::of(&photo(studio));
    studio.send(
        &format!("/photo/1/{deed}"),
        &format!("based_on={edition}&{form}"),
    )
}

#[test]
fn an_unknown_code_is_asked_back_once() {
    let studio = waiting("IMG_1.jpg");
    let asked = send(
        &studio,
        "shows",
        "piece=lb03&state=washed&washes=2&next=/line",
    )
    .good()
    .text();
    for words in [
        "No piece is called LB03 yet",
        "name=\"take\" value=\"LB003\">It is LB003<",
        "name=\"take\" value=\"LB03\" id=\"make\"",
        "name=\"state\" value=\"washed\"",
        "name=\"washes\" value=\"2\"",
        "name=\"next\" value=\"/line\"",
        "href=\"/line\">Change nothing",
    ] {
        assert!(asked.contains(words), "no “{words}” in {asked}");
    }
    assert_eq!(photo(&studio).piece, None);
    assert_eq!(studio.journal().codes().expect("codes").len(), 9);
    // The button says it once more, and all that was said is kept with it.
    let made = send(
        &studio,
        "shows",
        "take=LB03&state=washed&washes=2&next=/line",
    );
    assert_eq!(made.header("location"), "/line?done=1#told");
    let now = photo(&studio);
    assert_eq!(
        (now.piece.as_deref(), now.state, now.washes),
        (Some("LB03"), Some(State::Washed), Some(2))
    );
    let line = studio.get(made.header("location")).good().text();
    assert!(
        line.contains("IMG_1.jpg shows LB03, washed 2 times."),
        "{line}"
    );
    // Put right, nothing is left of the piece that was never there.
    send(&studio, "shows", "piece=lb003");
    assert_eq!(photo(&studio).piece.as_deref(), Some("LB003"));
    assert_eq!(studio.journal().piece("LB03").expect("read"), None);
}

#[test]
fn a_state_said_with_the_piece_is_not_asked_again() {
    let studio = waiting("IMG_1.jpg");
    send(&studio, "shows", "piece=LB004&state=&next=/line");
    let asks = |studio: &Studio| studio.get("/line").good().text();
    let line = asks(&studio);
    assert!(line.contains("1 photo taken as dry"), "{line}");
    assert!(line.contains("<strong>LB004</strong> IMG_1.jpg"), "{line}");
    send(&studio, "shows", "piece=LB004&state=dry&next=/line");
    let line = asks(&studio);
    assert!(!line.contains("taken as dry"), "{line}");
}

#[test]
fn a_photo_of_no_piece_is_set_aside_and_comes_back() {
    let studio = waiting("IMG_1.jpg");
    let line = || studio.get("/line").good().text();
    send(&studio, "shows", "take=LB03");
    let emptied = send(&studio, "aside", "deed=wait");
    assert_eq!(emptied.header("location"), "/photo/1?done=shows#told");
    assert_eq!(photo(&studio).piece, None);
    assert_eq!(studio.journal().piece("LB03").expect("read"), None);
    assert!(line().contains("1 photo without a piece"));
    send(&studio, "aside", "deed=aside&next=/line");
    let aside = line();
    assert!(
        aside.contains("1 photo set aside") && aside.contains("Nothing waits for a hand"),
        "{aside}"
    );
    let page = studio.get("/photo/1?done=shows").good().text();
    assert!(
        page.contains("Kept. IMG_1.jpg is set aside") && page.contains("id=\"let-wait\""),
        "{page}"
    );
    send(&studio, "aside", "deed=wait&next=/line");
    assert!(line().contains("1 photo without a piece"));
    let old = super::super::edition::of(&photo(&studio));
    send(&studio, "shows", "piece=LB001&state=wet");
    let late = studio.send("/photo/1/aside", &format!("based_on={old}&deed=aside"));
    assert_eq!(late.status, StatusCode::CONFLICT);
    assert!(
        late.text().contains("<mark>piece LB001</mark>"),
        "{}",
        late.text()
    );
}

#[test]
fn the_piece_in_the_name_and_the_one_before_are_offered() {
    let studio = waiting("LC001-dry-1.jpg");
    let line = studio.get("/line").good().text();
    assert!(
        line.contains("name=\"take\" value=\"LC001\" formnovalidate>LC001, a new piece<"),
        "{line}"
    );
    send(&studio, "shows", "take=LC001&next=/line");
    assert_eq!(photo(&studio).piece.as_deref(), Some("LC001"));
    let mut other = bare();
    other.extend(b"\0\0");
    studio.send_photos(&BATCH.replace('0', "f"), "", &[("IMG_2.jpg", other)]);
    let line = studio.get("/line?done=1").good().text();
    assert!(line.contains("LC001, as the one before"), "{line}");
}
