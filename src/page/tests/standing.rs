//! How a piece stands in the studio, and what its page and the shelf say of it.

use super::*;
use crate::journal::record::Standing;

fn standing(studio: &Studio) -> Standing {
    let piece = studio.journal().piece("LB001").expect("read");
    piece.expect("the piece").standing()
}

/// The edition that the piece's page sends with its form.
fn edition(studio: &Studio) -> String {
    let page = studio.get("/piece/LB001").good().text();
    let after = page.split("name=\"based_on\" value=\"").nth(1);
    let after = after.expect("a form");
    after.split('"').next().expect("its value").to_owned()
}

#[test]
fn status_price_and_remarks_are_said_on_the_page() {
    let studio = season(&[]);
    let page = studio.get("/piece/LB001").good().text();
    assert!(
        page.contains("value=\"for sale\" aria-pressed=\"true\""),
        "{page}"
    );
    let say = |form: &str| {
        let form = format!("based_on={}&{form}", edition(&studio));
        studio.send("/piece/lb001/stands", &form)
    };
    let sent = say("status=sold&price=94,50&remarks=+for+a+wedding%0D%0Ain+May+");
    assert_eq!(
        sent.header("location"),
        "/piece/LB001?done=stands#told",
        "{}",
        sent.text()
    );
    let sold = Standing {
        status: Some("sold".to_owned()),
        price: Some(94.5),
        remarks: Some("for a wedding\nin May".to_owned()),
    };
    assert_eq!(standing(&studio), sold);
    let told = studio.get(sent.header("location")).good().text();
    assert!(
        told.contains("Kept. LB001: sold; price 94.5; remarks"),
        "{told}"
    );
    // Without a touch on a status it stays, and what is emptied is taken back.
    say("price=94.5&remarks=");
    assert_eq!(
        standing(&studio),
        Standing {
            remarks: None,
            ..sold
        }
    );
    say("status=none&price=&remarks=");
    assert_eq!(standing(&studio), Standing::default());
    for (form, words) in [
        ("status=lent", "is no status"),
        ("price=much", "is not a price"),
        ("price=-3", "is not a price"),
    ] {
        let refused = say(form);
        assert_eq!(refused.status, StatusCode::BAD_REQUEST);
        assert!(refused.text().contains(words), "{}", refused.text());
    }
    assert_eq!(standing(&studio), Standing::default());
}

#[test]
fn the_later_word_on_a_piece_is_told() {
    let studio = season(&[]);
    let old = edition(&studio);
    let form = |status: &str| format!("based_on={old}&status={status}&price=95");
    studio.send("/piece/LB001/stands", &form("sold"));
    let late = studio.send("/piece/LB001/stands", &form("kept"));
    assert_eq!(late.status, StatusCode::CONFLICT);
    for words in [
        "<mark>sold</mark>",
        "<mark>kept</mark>",
        "<li>price 95</li>",
    ] {
        assert!(late.text().contains(words), "no {words} in {}", late.text());
    }
    assert_eq!(standing(&studio).status.as_deref(), Some("sold"));
}

#[test]
fn a_piece_leads_to_its_bundle_and_folds_what_always_holds() {
    let studio = season(&["LB002-dry.jpg"]);
    let page = studio.get("/piece/LB002").good().text();
    assert!(
        page.contains("<a href=\"/pot/bundle/B01\">bundle B01</a>"),
        "{page}"
    );
    let (open, folded) = page
        .split_once("What holds for every salt, pot and plant")
        .expect("folded cautions");
    assert!(open.contains("Iron salts") && !open.contains("safety sheet of every salt"));
    assert!(folded.contains("safety sheet of every salt"));
    // A piece that only a photo tells of.
    studio
        .journal()
        .claim(1, "LB077", None, None)
        .expect("claimed");
    let page = studio.get("/piece/LB077").good().text();
    assert!(page.contains("Nothing is written down of it yet"), "{page}");
    let photo = studio.get("/photo/1").good().text();
    assert!(
        photo.contains("Which plants lay on LB077 is not written down yet"),
        "{photo}"
    );
}

#[test]
fn the_studios_own_colour_words_come_first() {
    let studio = season(&["LB001-dry.jpg", "LB002-dry.jpg"]);
    let named = crate::ask::name_colour(&mut studio.journal(), "old gold", "LB001", 5.0, today());
    named.expect("named");
    let largest = studio
        .journal()
        .photos_of("LB001")
        .expect("photos")
        .remove(0);
    let standard = largest.reading.swatches[0].word.clone().expect("a word");
    let photo = format!("/photo/{}", largest.id.expect("kept"));
    for path in ["/?words=old+gold", "/piece/LB001", &photo] {
        let page = studio.get(path).good().text();
        assert!(
            page.contains("old gold") && page.contains(&standard),
            "{path}: {page}"
        );
    }
    let found = studio.get("/?words=Old+gold").good().text();
    assert!(
        found.contains("1 piece found") && !found.contains("LB002"),
        "{found}"
    );
    studio.photos(&["LB001-wet.jpg"]);
    let known = studio.send_parts(
        &format!("/line/photos/{}", super::line::BATCH),
        &[],
        "photos",
        &[("LB001-dry.jpg", super::line::season("LB001-dry.jpg"))],
    );
    let line = studio.get(known.header("location")).good().text();
    assert!(line.contains("old gold"), "{line}");
}

#[test]
fn a_borrowed_light_is_called_so() {
    use crate::error::Caution;
    use crate::reading::LIGHT_BORROWED;
    let studio = season(&["LB001-dry.jpg"]);
    let light = "light known from the tag";
    assert!(studio.get("/photo/1").good().text().contains(light));
    let mut reading = studio
        .journal()
        .photo(1)
        .expect("read")
        .expect("kept")
        .reading;
    reading
        .cautions
        .push(Caution::new(LIGHT_BORROWED, "It is that of another photo."));
    studio.journal().add_reading(1, &reading).expect("kept");
    for path in ["/photo/1", "/piece/LB001"] {
        let page = studio.get(path).good().text();
        assert!(
            page.contains("light borrowed from a photo of the same minutes with the tag")
                && !page.contains(light),
            "{path}: {page}"
        );
    }
}
