//! Photos sent from the Line.

use super::*;
use crate::page::progress::News;
use crate::reading::State;

pub(super) const BATCH: &str = "0123456789abcdef0123456789abcdef01234567";

pub(super) fn season(name: &str) -> Vec<u8> {
    let photos = Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/season/photos");
    std::fs::read(photos.join(name)).expect("a photo of the season")
}

/// The middle of a photo, where there is cloth and no tag.
pub(super) fn bare() -> Vec<u8> {
    let photo = image::load_from_memory(&season("LB006-dry.jpg")).expect("a picture");
    let (width, height) = (photo.width(), photo.height());
    let middle = photo.crop_imm(width / 4, height / 4, width / 2, height / 2);
    let mut bytes = std::io::Cursor::new(Vec::new());
    let written = middle.write_to(&mut bytes, image::ImageFormat::Jpeg);
    written.expect("written");
    bytes.into_inner()
}

impl Studio {
    /// Photos under these names in one form, with the state that was chosen.
    pub(super) fn send_photos(
        &self,
        batch: &str,
        state: &str,
        photos: &[(&str, Vec<u8>)],
    ) -> Reply {
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
    assert_eq!(kinds(&all), ["photo", "refused", "done"]);
    let rest = studio.ask(asked("GET", HOST, &path, &[("last-event-id", "1")], ""));
    assert_eq!(kinds(&rest), ["done"]);
    assert_eq!(
        kinds(&studio.get(&format!("{path}?seen=1"))),
        ["refused", "done"]
    );
}

/// A page loaded anew while photos come goes on watching; what was not sent by then is told at the end.
#[test]
fn a_page_loaded_anew_finds_its_photos_again() {
    let studio = Studio::new();
    let look = || {
        studio
            .get(&format!("/line?batch={BATCH}&of=3"))
            .good()
            .text()
    };
    assert!(!look().contains("data-watched"));
    // Who watches begins nothing.
    let batch = studio.house.batches.named(BATCH);
    assert!(!look().contains("data-watched"));
    batch.begin();
    batch.tell(News::Photo, "<li>one</li>".to_owned());
    let page = look();
    for words in [
        format!("data-watched=\"/line/progress/{BATCH}\" data-seen=\"1\" data-of=\"3\"").as_str(),
        "1 of 3 done",
        "<li>one</li>",
    ] {
        assert!(page.contains(words), "no “{words}” in {page}");
    }
    batch.tell(News::Done, "1 photo new and measured.".to_owned());
    let page = look();
    assert!(!page.contains("data-watched"));
    assert!(
        page.contains("1 photo new and measured. 2 photos were not sent yet"),
        "{page}"
    );
}

/// What needs a hand comes before what came, which is folded away where it is much.
#[test]
fn what_waits_comes_first() {
    let studio = Studio::new();
    let batch = studio.house.batches.named(BATCH);
    batch.begin();
    for _ in 0..7 {
        batch.tell(News::Photo, "<li>one</li>".to_owned());
    }
    batch.tell(News::Refused, "<li>none</li>".to_owned());
    batch.tell(News::Done, "7 photos new and measured.".to_owned());
    let look = || studio.get(&format!("/line?batch={BATCH}")).good().text();
    assert!(look().contains("<details id=\"came\" open>"));
    studio.send_photos(&BATCH.replace('0', "f"), "", &[("IMG_1.jpg", bare())]);
    let page = look();
    assert!(page.contains("<details id=\"came\">"), "{page}");
    let place = |words: &str| page.find(words).unwrap_or_else(|| panic!("no {words}"));
    assert!(place("<li>none</li>") < place("id=\"unclaimed\""));
    assert!(place("id=\"unclaimed\"") < place("id=\"came\""));
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
    // Nobody waits for it: the end is told.
    assert!(
        !studio
            .get(&format!("/line?batch={BATCH}"))
            .text()
            .contains("data-watched")
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
