//! What a hand mends in a photo.

use super::*;
use crate::reading::{Part, State};

/// A studio with one photo, and the photo.
fn one() -> (Studio, crate::journal::record::Photo) {
    let studio = Studio::new();
    let season = Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/season/sheet.csv");
    crate::sheet::enter(&mut studio.journal(), &season).expect("entered");
    studio.photos(&["LB001-dry.jpg"]);
    let photo = photo(&studio);
    (studio, photo)
}

fn photo(studio: &Studio) -> crate::journal::record::Photo {
    studio.journal().photos().expect("photos").remove(0)
}

/// The edition that the photo's page sends with its forms.
fn edition(studio: &Studio) -> String {
    let page = studio.get("/photo/1").good().text();
    let after = page
        .split("name=\"based_on\" value=\"")
        .nth(1)
        .expect("a form");
    after.split('"').next().expect("its value").to_owned()
}

#[test]
fn a_photo_shows_its_outline_and_its_colours() {
    let (studio, photo) = one();
    let page = studio.get("/photo/1").good().text();
    let colours = photo.reading.swatches.len();
    assert_eq!(page.matches("class=\"blob\"").count(), colours);
    assert_eq!(page.matches("<polygon").count(), 2);
    for words in ["LB001", "print of walnut", "data-corners=\"free\""] {
        assert!(page.contains(words), "no “{words}” in {page}");
    }
    // Without a chart in the journal there is none to place.
    assert!(!page.contains("chart-form"));
    assert_eq!(studio.get("/photo/99").status, StatusCode::NOT_FOUND);
}

#[test]
fn piece_and_state_are_said() {
    let (studio, _) = one();
    let form = format!(
        "based_on={}&piece=lb002&state=washed&washes=5&next=/line",
        edition(&studio)
    );
    let sent = studio.send("/photo/1/shows", &form);
    assert_eq!(
        (sent.status, sent.header("location")),
        (StatusCode::SEE_OTHER, "/line?done=1#told")
    );
    let photo = photo(&studio);
    assert_eq!(
        (photo.piece.as_deref(), photo.state, photo.washes),
        (Some("LB002"), Some(State::Washed), Some(5))
    );
    for (form, words) in [
        ("piece=a%3Ab&state=dry", "cannot be a piece"),
        ("piece=LB002&state=washed&washes=many", "how often"),
    ] {
        let form = format!("based_on={}&{form}", edition(&studio));
        let sent = studio.send("/photo/1/shows", &form);
        assert_eq!(sent.status, StatusCode::BAD_REQUEST);
        assert!(sent.text().contains(words), "{}", sent.text());
    }
    let elsewhere = format!(
        "based_on={}&piece=LB002&next=//evil.test/",
        edition(&studio)
    );
    assert_eq!(
        studio.send("/photo/1/shows", &elsewhere).header("location"),
        "/photo/1?done=shows#told"
    );
    let told = studio.get("/photo/1?done=shows").good().text();
    assert!(
        told.contains("Kept. LB001-dry.jpg shows LB002, washed 5 times."),
        "{told}"
    );
}

#[test]
fn a_drawn_outline_is_measured_at_once() {
    let (studio, before) = one();
    let corners = "300,300 900,300 900,900 300,900";
    let form = |rest: &str| format!("based_on={}&{rest}", edition(&studio));
    let sent = studio.send(
        "/photo/1/outline",
        &form(&format!("corners={}", corners.replace(' ', "+"))),
    );
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text());
    let drawn = photo(&studio);
    assert_eq!(drawn.told.outline.as_ref().map(Vec::len), Some(4));
    assert_eq!(
        (drawn.earlier.len(), &drawn.earlier[0]),
        (1, &before.reading)
    );
    let back = studio.send("/photo/1/outline", &form("corners=&back=yes"));
    assert_eq!(back.status, StatusCode::SEE_OTHER, "{}", back.text());
    assert_eq!(photo(&studio).told.outline, None);
    let told = studio.get(back.header("location")).good().text();
    assert!(
        told.contains("Measured with the outline that is found"),
        "{told}"
    );
    let bad = studio.send("/photo/1/outline", &form("corners=1,1+2,2"));
    assert_eq!(bad.status, StatusCode::BAD_REQUEST);
    assert!(bad.text().contains("three corners"), "{}", bad.text());
}

#[test]
fn a_colour_is_said_to_be_ground_or_print() {
    let (studio, _) = one();
    let say = |what: &str| {
        let form = format!("based_on={}&place=0&is={what}", edition(&studio));
        assert_eq!(
            studio.send("/photo/1/colour", &form).status,
            StatusCode::SEE_OTHER
        );
        let swatch = photo(&studio).reading.swatches.remove(0);
        (swatch.part, swatch.plant)
    };
    assert_eq!(say("ground"), (Some(Part::Ground), None));
    let told = studio.get("/photo/1?done=colour-0").good().text();
    assert!(
        told.contains("<p role=\"status\">Kept: ground.</p>"),
        "{told}"
    );
    let piece = studio.get("/piece/LB001").good().text();
    assert!(piece.contains("<em>ground</em>"), "{piece}");
    assert_eq!(
        say("print%3Awalnut"),
        (Some(Part::Print), Some("walnut".to_owned()))
    );
    // It outlives another measurement of the photo.
    let form = format!("based_on={}&corners=&back=yes", edition(&studio));
    studio.send("/photo/1/outline", &form);
    assert_eq!(
        photo(&studio).reading.swatches[0].plant.as_deref(),
        Some("walnut")
    );
    assert_eq!(say(""), (None, None));
    let far = format!("based_on={}&place=99&is=ground", edition(&studio));
    assert_eq!(
        studio.send("/photo/1/colour", &far).status,
        StatusCode::BAD_REQUEST
    );
}

/// Measured anew, another colour may stand where the one that was meant stood.
#[test]
fn a_colour_is_meant_and_not_its_place() {
    let (studio, _) = one();
    let hex = |place: usize| crate::colour::lab_to_hex(photo(&studio).reading.swatches[place].lab);
    let say = |place: usize, colour: &str, is: &str| {
        let colour = colour.replace('#', "%23");
        let form = format!(
            "based_on={}&place={place}&colour={colour}&is={is}",
            edition(&studio)
        );
        studio.send("/photo/1/colour", &form)
    };
    let second = hex(1);
    assert_eq!(say(0, &second, "ground").status, StatusCode::SEE_OTHER);
    let parts: Vec<_> = photo(&studio)
        .reading
        .swatches
        .iter()
        .map(|swatch| swatch.part)
        .collect();
    assert_eq!(parts[..2], [None, Some(Part::Ground)]);
    let gone = say(0, "#123456", "ground");
    assert_eq!(gone.status, StatusCode::CONFLICT);
    assert!(gone.text().contains("measured anew"), "{}", gone.text());
    for odd in ["rubbish".to_owned(), format!("print%3A{}", "x".repeat(200))] {
        assert_eq!(say(1, &second, &odd).status, StatusCode::BAD_REQUEST);
    }
    assert_eq!(photo(&studio).reading.swatches[1].part, Some(Part::Ground));
}

/// Two people open the same photo; the later one is told, sees both, and can still have it their way.
#[test]
fn the_later_save_is_told_and_not_lost() {
    let (studio, _) = one();
    let old = edition(&studio);
    let first = studio.send(
        "/photo/1/shows",
        &format!("based_on={old}&piece=LB003&state=dry"),
    );
    assert_eq!(first.status, StatusCode::SEE_OTHER);
    for (path, form) in [
        ("shows", "piece=LB004&state=wet"),
        ("outline", "corners=1,1+9,1+9,9"),
        ("colour", "place=0&is=print%3Awalnut"),
    ] {
        let late = studio.send(
            &format!("/photo/1/{path}"),
            &format!("based_on={old}&{form}"),
        );
        assert_eq!(late.status, StatusCode::CONFLICT, "{path}");
        let text = late.text();
        assert!(
            text.contains("piece LB003") && text.contains("id=\"mine\""),
            "{text}"
        );
        // Only what this form would change differs from what is there.
        let differs = match path {
            "shows" => &["piece LB003", "dry", "piece LB004", "wet"][..],
            "outline" => &[
                "no outline given by hand",
                "outline given by hand",
                "the outline as you drew it just now",
            ],
            _ => &["colour 1: nothing said", "colour 1: print of walnut"],
        };
        let marked: Vec<_> = text
            .split("<mark>")
            .skip(1)
            .filter_map(|rest| rest.split("</mark>").next())
            .collect();
        assert_eq!(marked, differs, "{path}");
    }
    let late = studio
        .send(
            "/photo/1/shows",
            &format!("based_on={old}&piece=LB004&state=wet"),
        )
        .text();
    let field = |name: &str| {
        let after = late
            .split(&format!("name=\"{name}\" value=\""))
            .nth(1)
            .expect("a field");
        after.split('"').next().expect("its value").to_owned()
    };
    let form = format!(
        "based_on={}&piece={}&state={}",
        field("based_on"),
        field("piece"),
        field("state")
    );
    assert_eq!(
        studio.send("/photo/1/shows", &form).status,
        StatusCode::SEE_OTHER
    );
    assert_eq!(photo(&studio).piece.as_deref(), Some("LB004"));
}
