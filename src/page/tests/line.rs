//! Photos sent from the Line.

use super::*;
use crate::reading::State;

pub(super) const BATCH: &str = "0123456789abcdef0123456789abcdef01234567";

pub(super) fn season(name: &str) -> Vec<u8> {
    let photos = Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/season/photos");
    std::fs::read(photos.join(name)).expect("a photo of the season")
}

impl Studio {
    /// Photos under these names in one form, with the state that was chosen.
    fn send_photos(&self, batch: &str, state: &str, photos: &[(&str, Vec<u8>)]) -> Reply {
        let path = format!("/line/photos/{batch}");
        self.send_parts(&path, &[("state", state)], "photos", photos)
    }

    /// Nothing of a photo on its way in is left.
    #[track_caller]
    fn nothing_arriving(&self) {
        assert!(!self.folder.path().join("arriving").exists());
    }
}

#[test]
fn photos_are_taken_in_as_an_ingest_would_and_told() {
    let studio = Studio::new();
    let photos = [
        ("LB001-dry.jpg", season("LB001-dry.jpg")),
        ("IMG_1.jpg", b"no photo".to_vec()),
        ("../../LB002-wet.jpg", season("LB002-wet.jpg")),
    ];
    let sent = studio.send_photos(BATCH, "", &photos);
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text());
    let beside = Studio::new();
    beside.photos(&["LB001-dry.jpg", "LB002-wet.jpg"]);
    let all = |studio: &Studio| {
        let mut photos = studio.journal().photos().expect("photos");
        photos.sort_by(|a, b| a.file.cmp(&b.file));
        photos.iter_mut().for_each(|photo| photo.id = None);
        photos
    };
    assert_eq!(all(&studio), all(&beside));
    studio.nothing_arriving();
    let page = studio.get(sent.header("location")).good().text();
    for words in [
        "2 photos new and measured, 1 refused.",
        "LB001",
        "Refused: IMG_1.jpg",
        "is not a photo",
    ] {
        assert!(page.contains(words), "no “{words}” in {page}");
    }
    let again = studio.send_photos(&BATCH.replace('0', "f"), "wet", &photos[..1]);
    let page = studio.get(again.header("location")).good().text();
    assert!(
        page.contains("0 photos new and measured, 1 known already."),
        "{page}"
    );
}

/// WHATWG HTML, “Server-sent events”: `id`, `event` and `data` lines, a blank one after each event; a browser that lost the
/// connection says the last id it saw.
#[test]
fn progress_is_told_from_wherever_the_watcher_stopped() {
    let studio = Studio::new();
    let photos = [
        ("LB001-dry.jpg", season("LB001-dry.jpg")),
        ("IMG_1.jpg", Vec::new()),
    ];
    studio.send_photos(BATCH, "", &photos);
    let path = format!("/line/progress/{BATCH}");
    let all = studio.get(&path).good();
    assert!(all.header("content-type").starts_with("text/event-stream"));
    let kinds = |reply: &Reply| {
        let text = reply.text();
        text.lines()
            .filter_map(|line| line.strip_prefix("event: ").map(str::to_owned))
            .collect::<Vec<_>>()
    };
    assert_eq!(kinds(&all), ["photo", "photo", "done"]);
    let rest = studio.ask(asked("GET", HOST, &path, &[("last-event-id", "1")], ""));
    assert_eq!(kinds(&rest), ["done"]);
}

#[test]
fn the_state_that_was_chosen_counts() {
    let studio = Studio::new();
    studio.send_photos(
        BATCH,
        "washed",
        &[("LB001-dry.jpg", season("LB001-dry.jpg"))],
    );
    assert_eq!(
        studio.journal().photos().expect("photos")[0].state,
        Some(State::Washed)
    );
    let fields = [("state", "washed"), ("washes", "3")];
    let again = [("LB002-dry.jpg", season("LB002-dry.jpg"))];
    let path = format!("/line/photos/{BATCH}");
    studio.send_parts(&path, &fields, "photos", &again);
    let photos = studio.journal().photos().expect("photos");
    assert_eq!(photos[1].washes, Some(3));
    let fields = [("state", "washed"), ("washes", "many")];
    let told = studio.send_parts(&path, &fields, "photos", &again);
    assert!(
        told.text().contains("a number from 1 to 500"),
        "{}",
        told.text()
    );
}

#[test]
fn what_breaks_off_keeps_what_came_before() {
    let studio = Studio::new();
    let mut body = b"--cut\r\nContent-Disposition: form-data; name=\"photos\"; filename=\"LB001-dry.jpg\"\r\n\r\n".to_vec();
    body.extend(season("LB001-dry.jpg"));
    body.extend(b"\r\n--cut\r\nContent-Disposition: form-data; name=\"photos\"; filename=\"LB002.jpg\"\r\n\r\n\xff\xd8\xff");
    let sent = studio.send_body(&format!("/line/photos/{BATCH}"), body);
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text());
    assert_eq!(studio.journal().photos().expect("photos").len(), 1);
    studio.nothing_arriving();
    let sent = studio.send_body(&format!("/line/photos/{BATCH}"), b"nonsense".to_vec());
    assert_eq!(sent.status, StatusCode::BAD_REQUEST);
    assert!(
        sent.text().contains("did not come whole"),
        "{}",
        sent.text()
    );
}

#[test]
fn photos_only_come_by_a_batch_of_the_page() {
    let studio = Studio::new();
    for batch in ["x", "..%2F..%2Fphotos", &"z".repeat(40)] {
        let sent = studio.send_photos(batch, "", &[("LB001-dry.jpg", season("LB001-dry.jpg"))]);
        assert_eq!(sent.status, StatusCode::NOT_FOUND, "{batch}");
    }
    assert!(studio.journal().photos().expect("photos").is_empty());
}

#[test]
fn what_nobody_told_waits_for_a_hand() {
    let studio = Studio::new();
    let mut untold = season("LB001-dry.jpg");
    // Another ending makes another photo of it; the marker after the picture's end is of no meaning (ITU-T T.81).
    untold.extend(b"\0\0");
    studio.send_photos(BATCH, "", &[("IMG_1.jpg", untold)]);
    let photo = studio.journal().photos().expect("photos").remove(0);
    let line = studio.get("/line").good().text();
    let waits = photo.piece.is_none() || photo.reading.has_caution(crate::reading::TAKEN_AS_DRY);
    assert!(waits && line.contains("class=\"waiting\""), "{line}");
    assert!(line.contains(&format!("/photo/{}/shows", photo.id.expect("kept"))));
}
