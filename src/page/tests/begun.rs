//! What a new bundle begins with, and what may be a slip in it.

use super::pot::{fields, set, value};
use super::*;

#[test]
fn a_bundle_of_one_piece_is_like_another_piece() {
    let studio = Studio::season();
    let old = studio.piece("LB001").expect("known");
    let page = studio.get("/pot/bundle?like=lb001").good().text();
    assert!(page.contains("As LB001 was."), "{page}");
    assert_eq!(page.matches("<details class=\"layer\"").count(), 1);
    studio.deed(&fields(&page), "write").good();
    let new = studio.piece(&value(&page, "code-0")).expect("written");
    assert_eq!(new.rounds[0].soaks, old.rounds[0].soaks);
    assert_eq!(new.rounds[0].plants, old.rounds[0].plants);
    assert_eq!(new.rounds[0].heat, old.rounds[0].heat);
    assert_ne!(new.rounds[0].bundle, old.rounds[0].bundle);
    let none = studio.get("/pot/bundle?like=LB999");
    assert_eq!(none.status, StatusCode::NOT_FOUND);
}

#[test]
fn what_was_written_last_is_offered_whatever_its_day() {
    let studio = Studio::season();
    let mut typed = fields(&studio.get("/pot/bundle").good().text());
    set(&mut typed, "made", 0, "2026-01-10");
    set(&mut typed, "bundle", 0, "winter");
    studio.deed(&typed, "write").good();
    let page = studio.get("/pot/bundle").good().text();
    assert!(page.contains("As winter was."));
    assert!(
        studio
            .get("/pot")
            .good()
            .text()
            .contains("The last one, winter,")
    );
}

#[test]
fn pieces_that_were_photographed_first_are_offered_first() {
    let studio = Studio::new();
    studio.photos(&["LB003-dry.jpg", "LB001-dry.jpg"]);
    let pot = studio.get("/pot").good().text();
    assert!(pot.contains("offered first: LB001, LB003."), "{pot}");
    let page = studio.get("/pot/bundle").good().text();
    assert_eq!(value(&page, "code-0"), "LB001");
    let page = studio.deed(&fields(&page), "add").good().text();
    assert_eq!(value(&page, "code-1"), "LB003");
    let page = studio.deed(&fields(&page), "add").good().text();
    assert_eq!(value(&page, "code-2"), "LB004");
    studio.deed(&fields(&page), "write").good();
    assert!(!studio.get("/pot").good().text().contains("offered first"));
}

#[test]
fn slips_are_asked_about_before_anything_is_written() {
    let studio = Studio::season();
    let mut typed = fields(&studio.get("/pot/bundle").good().text());
    let odd = |typed: &[(String, String)]| {
        let page = studio.deed(typed, "look").good().text();
        page.split_once("id=\"odd\"")
            .map(|(_, rest)| rest.split("</ul>").next().unwrap_or_default().to_owned())
    };
    assert_eq!(odd(&typed), None);
    set(&mut typed, "mordant", 0, "irn 2%");
    set(&mut typed, "plants", 0, "blackbery");
    set(&mut typed, "made", 0, "2027-05-01");
    let told = odd(&typed).expect("told");
    for words in [
        "Irn was never used before: did you mean iron?",
        "did you mean blackberry?",
        "The day 2027-05-01 is still to come.",
    ] {
        assert!(told.contains(words), "no “{words}” in {told}");
    }
    // Another name that was never used is simply new.
    set(&mut typed, "mordant", 0, "rhubarb");
    set(&mut typed, "plants", 0, "maple");
    set(&mut typed, "made", 0, "2026-05-20");
    assert_eq!(odd(&typed), None);
}

/// 12 momme are 52.08 g/m² (the definition by pound and yard, see `sheet`).
#[test]
fn silk_is_weighed_in_momme() {
    let studio = Studio::season();
    let page = studio.get("/pot/bundle").good().text();
    let mut typed = fields(&page);
    set(&mut typed, "gsm", 0, "16 momme");
    studio.deed(&typed, "write").good();
    let piece = studio.piece(&value(&page, "code-0")).expect("written");
    assert_eq!(piece.gsm, Some(69.44));
}
