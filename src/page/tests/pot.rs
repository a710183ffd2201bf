//! Bundles written down, and wet pieces foreseen.

use super::line::season as season_photo;
use super::*;
use crate::journal::record::{HeatKind, Piece};
use crate::reading::State;

/// The value of a field by the id of its input.
pub(super) fn value(page: &str, id: &str) -> String {
    let input = page
        .split("<input")
        .find(|input| input.contains(&format!("id=\"{id}\"")));
    let rest = input
        .and_then(|input| input.split_once("value=\""))
        .map(|(_, rest)| rest);
    rest.and_then(|rest| rest.split('"').next())
        .unwrap_or_default()
        .to_owned()
}

/// All fields of the bundle's form as a browser would send them.
pub(super) fn fields(page: &str) -> Vec<(String, String)> {
    let form = page.split("<form id=\"bundle\"").nth(1).expect("the form");
    let form = form.split("</form>").next().unwrap_or_default();
    let text = |input: &str, name: &str| {
        let rest = input.split_once(&format!("{name}=\""))?.1;
        let value = rest.split('"').next().unwrap_or_default();
        Some(value.replace("&#62;", ">").replace("&#38;", "&"))
    };
    let inputs = form
        .split("<input")
        .skip(1)
        .filter_map(|rest| rest.split('>').next());
    let sent =
        inputs.filter(|input| !input.contains("type=\"radio\"") || input.contains(" checked"));
    sent.filter_map(|input| {
        Some((
            text(input, " name")?,
            text(input, " value").unwrap_or_default(),
        ))
    })
    .collect()
}

pub(super) fn encoded(fields: &[(String, String)]) -> String {
    let code = |text: &str| -> String {
        let bytes = text.bytes().map(|byte| match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' => char::from(byte).to_string(),
            _ => format!("%{byte:02X}"),
        });
        bytes.collect()
    };
    let pair = |(name, value): &(String, String)| format!("{}={}", code(name), code(value));
    fields.iter().map(pair).collect::<Vec<_>>().join("&")
}

impl Studio {
    pub(super) fn season() -> Self {
        let studio = Self::new();
        let sheet = Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/season/sheet.csv");
        crate::sheet::enter(&mut studio.journal(), &sheet).expect("entered");
        studio
    }

    pub(super) fn deed(&self, fields: &[(String, String)], deed: &str) -> Reply {
        let mut all = fields.to_vec();
        all.push(("deed".to_owned(), deed.to_owned()));
        self.send("/pot/bundle", &encoded(&all))
    }

    pub(super) fn piece(&self, code: &str) -> Option<Piece> {
        self.journal().piece(code).expect("read")
    }
}

pub(super) fn set(fields: &mut [(String, String)], name: &str, nth: usize, value: &str) {
    let mut named = fields.iter_mut().filter(|(known, _)| known == name);
    named.nth(nth).expect(name).1 = value.to_owned();
}

#[test]
fn the_last_bundle_is_offered_again_and_written_in_one_touch() {
    let studio = Studio::season();
    let pieces = studio.journal().pieces().expect("pieces");
    let (last, count) = (pieces.last().expect("one").clone(), pieces.len());
    let page = studio.get("/pot/bundle").good().text();
    let bundle = last.rounds[0].bundle.clone().expect("its bundle");
    assert!(page.contains(&format!("As {bundle} was.")), "{page}");
    let offered = fields(&page);
    let next = value(&page, "code-0");
    assert!(studio.piece(&next).is_none() && next > last.code, "{next}");
    assert_eq!(value(&page, "made"), "2026-05-20");
    let written = studio.deed(&offered, "write").good().text();
    assert!(
        written.contains("is written down") && written.contains("/market?pieces="),
        "{written}"
    );
    let new = studio.piece(&next).expect("it is written");
    let first = pieces
        .iter()
        .find(|p| p.rounds[0].bundle == last.rounds[0].bundle)
        .expect("one");
    assert_eq!(new.rounds[0].soaks, first.rounds[0].soaks);
    assert_eq!(new.rounds[0].heat, first.rounds[0].heat);
    assert_eq!((new.fibre, new.gsm), (first.fibre.clone(), first.gsm));
    assert_eq!(new.rounds[0].made.as_deref(), Some("2026-05-20"));
    // A wet finger touches twice.
    let again = studio.deed(&offered, "write").good().text();
    assert!(again.contains("It was there already"), "{again}");
    let now = studio.journal().pieces().expect("pieces");
    assert_eq!(
        now.len() - count,
        pieces
            .iter()
            .filter(|p| p.rounds[0].bundle == last.rounds[0].bundle)
            .count()
    );
}

#[test]
fn nothing_is_half_saved_and_what_was_typed_stays() {
    let studio = Studio::season();
    let before = studio.journal().pieces().expect("pieces");
    let mut typed = fields(&studio.get("/pot/bundle").good().text());
    for (name, nth, text) in [
        ("mordant", 0, "alum 12"),
        ("high", 0, "300"),
        ("plants", 1, "moonwort; <b>"),
    ] {
        set(&mut typed, name, nth, text);
    }
    let told = studio.deed(&typed, "write");
    assert_eq!(told.status, StatusCode::BAD_REQUEST);
    let page = told.text();
    for words in [
        "nothing of it is saved",
        "Layer 1, mordants:",
        "Highest temperature:",
        "moonwort; &#60;b&#62;",
    ] {
        assert!(page.contains(words), "no “{words}” in {page}");
    }
    assert_eq!(value(&page, "mordant-0"), "alum 12");
    assert_eq!(studio.journal().pieces().expect("pieces"), before);
    set(&mut typed, "bundle", 0, "B01");
    set(&mut typed, "code", 0, "LB001");
    let told = studio.deed(&typed, "write");
    assert_eq!(told.status, StatusCode::CONFLICT);
    for words in [
        "There is a bundle B01 already",
        "LB001 went through round 1 already, in bundle B01: if it is bundled again, make it round 2",
    ] {
        assert!(
            told.text().contains(words),
            "no “{words}” in {}",
            told.text()
        );
    }
    assert_eq!(studio.journal().pieces().expect("pieces"), before);
}

#[test]
fn a_dull_piece_is_bundled_again() {
    let studio = Studio::season();
    let cloth = studio.piece("LB001").expect("known");
    let mut typed = fields(&studio.get("/pot/bundle").good().text());
    set(&mut typed, "code", 0, "LB001");
    set(&mut typed, "round", 0, "2");
    for name in ["fibre", "weave", "width_cm", "length_cm", "gsm"] {
        set(&mut typed, name, 0, "");
    }
    studio.deed(&typed, "write").good();
    let now = studio.piece("LB001").expect("known");
    assert_eq!((now.rounds.len(), &now.rounds[0]), (2, &cloth.rounds[0]));
    assert_eq!(
        (now.fibre, now.gsm, now.dry_g),
        (cloth.fibre, cloth.gsm, cloth.dry_g)
    );
}

#[test]
fn chips_are_touched_and_cautions_come_with_them() {
    let studio = Studio::season();
    let start = studio.get("/pot/bundle").good().text();
    let mut typed = fields(&start);
    set(&mut typed, "mordant", 0, "");
    let page = studio.deed(&typed, "soak 0 iron").good().text();
    assert_eq!(value(&page, "mordant-0"), "iron");
    let page = studio.deed(&fields(&page), "soak 0 alum").good().text();
    assert_eq!(value(&page, "mordant-0"), "iron &#62; alum");
    // The sentence of the area that knows salts.
    let iron = crate::care::for_mordant("iron");
    assert!(
        iron.iter().all(|caution| page.contains(&caution.text)),
        "{page}"
    );
    let page = studio.deed(&fields(&page), "add").good().text();
    let layers = page.matches("<details class=\"layer\"").count();
    assert_eq!(
        layers,
        start.matches("<details class=\"layer\"").count() + 1
    );
    assert!(page.contains("is added."));
    let mut hot = fields(&page);
    set(&mut hot, "high", 0, "99");
    let page = studio.deed(&hot, "look").good().text();
    assert!(page.contains("as good as a boil"), "{page}");
    assert!(studio.piece(&value(&page, "code-0")).is_none());
}

#[test]
fn a_bundle_is_changed_and_of_two_people_the_later_is_told() {
    let studio = Studio::season();
    let page = studio.get("/pot/bundle/B01").good().text();
    let (mut mine, mut theirs) = (fields(&page), fields(&page));
    set(&mut theirs, "minutes", 0, "140");
    let written = studio.deed(&theirs, "write").good().text();
    assert!(
        written.contains("LB001: simmer_min was 130, is now 140"),
        "{written}"
    );
    set(&mut mine, "high", 0, "88");
    let told = studio.deed(&mine, "write");
    assert_eq!(told.status, StatusCode::CONFLICT);
    assert!(
        told.text().contains("Somebody was quicker"),
        "{}",
        told.text()
    );
    let high = || {
        studio.piece("LB001").expect("known").rounds[0]
            .heat
            .clone()
            .expect("heat")
            .high_c
    };
    assert_eq!(high(), Some(87.0));
    let hidden: Vec<(String, String)> = told
        .text()
        .split("<input type=\"hidden\" name=\"")
        .skip(1)
        .filter_map(|rest| {
            let (name, rest) = rest.split_once("\" value=\"")?;
            Some((
                name.to_owned(),
                rest.split('"').next()?.replace("&#62;", ">"),
            ))
        })
        .collect();
    studio.send("/pot/bundle", &encoded(&hidden)).good();
    assert_eq!(high(), Some(88.0));
    assert_eq!(
        studio.get("/pot/bundle/nothing").status,
        StatusCode::NOT_FOUND
    );
}

#[test]
fn a_wrong_code_is_put_right_and_a_layer_taken_out() {
    let studio = Studio::season();
    let before = studio.piece("LB001").expect("known");
    let page = studio.get("/pot/bundle/B01").good().text();
    let mut typed = fields(&page);
    // A code that has a round of that number already is not written over.
    let other = studio
        .journal()
        .pieces()
        .expect("pieces")
        .into_iter()
        .find(|piece| piece.rounds[0].bundle.as_deref() != Some("B01"))
        .expect("another bundle");
    set(&mut typed, "code", 0, &other.code);
    let told = studio.deed(&typed, "write");
    assert_eq!(told.status, StatusCode::CONFLICT);
    assert!(told.text().contains("went through round 1 already"));
    assert_eq!(studio.piece(&other.code), Some(other));
    let mut added = fields(&studio.deed(&fields(&page), "add").good().text());
    let layers = added.iter().filter(|(name, _)| name == "code").count();
    set(&mut added, "code", layers - 1, "LB001");
    assert_eq!(studio.deed(&added, "write").status, StatusCode::CONFLICT);
    set(&mut typed, "code", 0, "LB500");
    let written = studio.deed(&typed, "write").good().text();
    for words in ["new: LB500", "LB001: round 1 is taken out"] {
        assert!(written.contains(words), "no “{words}” in {written}");
    }
    let now = studio.piece("LB500").expect("moved");
    assert_eq!(now.rounds, before.rounds);
    assert_eq!(
        studio.piece("LB001").map(|piece| piece.rounds),
        // A sheet told its status, so it stays, without a round.
        before.status.is_some().then(Vec::new)
    );
    let page = studio.get("/pot/bundle/B01").good().text();
    let place = value(&page, "code-0") != "LB500";
    let page = studio.deed(&fields(&page), &format!("drop {}", usize::from(place)));
    let page = page.good().text();
    assert!(page.contains("LB500 is taken out."));
    let written = studio.deed(&fields(&page), "write").good().text();
    assert!(written.contains("LB500: round 1 is taken out"), "{written}");
    assert_eq!(studio.piece("LB500"), None);
}

/// 185 °F are 85 °C: by the definition of the scales exactly (facts of the trade say the same).
#[test]
fn temperatures_are_in_the_studios_unit_and_stay_what_they_were() {
    let studio = Studio::season();
    studio.journal().set("unit", Some("F")).expect("set");
    let page = studio.get("/pot/bundle/B01").good().text();
    assert_eq!(value(&page, "high"), "188.6");
    let mut typed = fields(&page);
    let same = studio.deed(&typed, "write").good().text();
    assert!(same.contains("It was there already"), "{same}");
    set(&mut typed, "high", 0, "185");
    studio.deed(&typed, "write").good();
    let heat = studio.piece("LB002").expect("known").rounds[0]
        .heat
        .clone()
        .expect("heat");
    assert_eq!(
        (heat.kind, heat.high_c),
        (Some(HeatKind::Simmer), Some(85.0))
    );
}

#[test]
fn a_first_bundle_needs_no_other() {
    let studio = Studio::new();
    let page = studio.get("/pot/bundle").good().text();
    assert_eq!(
        [value(&page, "name"), value(&page, "code-0")],
        ["B01", "LB001"]
    );
    studio.deed(&fields(&page), "write").good();
    assert!(studio.piece("LB001").is_some());
}

#[test]
fn a_wet_piece_is_foreseen_and_kept_only_when_asked() {
    let studio = Studio::season();
    let sent = studio.send_file(
        "/pot/wet",
        "photo",
        "LB001-wet.jpg",
        season_photo("LB001-wet.jpg"),
    );
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text());
    let place = sent.header("location").to_owned();
    let page = studio.get(&place).good().text();
    for words in [
        "LB001, still wet",
        "will dry",
        "From what water does to cloth alone",
        "Keep it as wet",
    ] {
        assert!(page.contains(words), "no “{words}” in {page}");
    }
    assert!(studio.journal().photos().expect("photos").is_empty());
    let chance = studio
        .get(&format!("{place}?toward=62,14,38&within=8"))
        .good()
        .text();
    assert!(chance.contains("in a hundred"), "{chance}");
    let odd = studio.get(&format!("{place}?toward=LB999")).good().text();
    for words in [
        "neither a piece",
        "LB001, still wet",
        "id=\"toward\"",
        "value=\"LB999\"",
    ] {
        assert!(odd.contains(words), "no “{words}” in {odd}");
    }
    let far = studio.get(&format!("{place}?toward=62,14,38&within=lots"));
    let far = far.good().text();
    assert!(far.contains("is not how near counts") && far.contains("will dry"));
    let word = crate::journal::colour_word_value(
        "Old Gold",
        crate::colour::Lab::new(62.0, 14.0, 38.0),
        4.0,
    );
    studio.journal().set(&word.0, Some(&word.1)).expect("set");
    let own = studio.get(&format!("{place}?toward=old+gold&within=8"));
    let own = own.good().text();
    // The word means what its numbers do.
    let sentence = |page: &str| {
        page.split("id=\"answer\">")
            .nth(1)
            .map(|it| it.split('<').next().map(str::to_owned))
    };
    assert_eq!(sentence(&own), sentence(&chance));
    let picture = studio.get(&format!("{place}/picture")).good();
    assert!(picture.bytes.starts_with(&[0xff, 0xd8]) && !picture.text().contains("Exif"));
    let kept = studio.send(&format!("{place}/keep"), "");
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.text());
    let photos = studio.journal().photos().expect("photos");
    assert_eq!((photos.len(), photos[0].state), (1, Some(State::Wet)));
    assert_eq!(studio.get(&place).status, StatusCode::NOT_FOUND);
    assert!(!studio.folder.path().join("arriving").exists());
    studio.get("/pot/wet?piece=lb001").good();
    assert_eq!(
        studio.get("/pot/wet?piece=LB002").status,
        StatusCode::BAD_REQUEST
    );
}

#[test]
fn what_is_no_photo_is_not_foreseen() {
    let studio = Studio::season();
    let sent = studio.send_file("/pot/wet", "photo", "notes.jpg", b"no photo".to_vec());
    assert_eq!(sent.status, StatusCode::BAD_REQUEST);
    assert!(sent.text().contains("is not a photo"), "{}", sent.text());
    let none = studio.send_file("/pot/wet", "photo", "", Vec::new());
    assert!(
        none.text().contains("came no file; choose a photo"),
        "{}",
        none.text()
    );
    assert!(!studio.folder.path().join("arriving").exists());
}
