//! Charts that light is measured by, and the cards that they are glued on.

use super::line::{BATCH, season};
use super::*;

fn chart() -> Vec<u8> {
    let charts = Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/good/charts");
    std::fs::read(charts.join("spectra.txt")).expect("a chart")
}

#[test]
fn a_chart_is_kept_and_chosen_for_photos() {
    let studio = Studio::new();
    let line = || studio.get("/line").good().text();
    assert!(!line().contains("A chart lies in them"));
    let kept = studio.send_file("/studio/charts", "chart", "spectra.txt", chart());
    assert!(kept.good().text().contains("Kept: spectra.txt"));
    let hash = studio.journal().charts().expect("charts")[0].hash.clone();
    assert!(line().contains(&hash));
    let path = format!("/line/photos/{BATCH}");
    let photos = [("LB001-dry.jpg", season("LB001-dry.jpg"))];
    let unknown = studio.send_parts(&path, &[("chart", "0")], "photos", &photos);
    assert_eq!(unknown.status, StatusCode::NOT_FOUND);
    studio.send_parts(&path, &[("chart", &hash)], "photos", &photos);
    let photos = studio.journal().photos().expect("photos");
    assert_eq!(photos[0].told.chart.as_ref(), Some(&hash));
}

#[test]
fn a_card_is_recorded_and_printed() {
    let studio = Studio::new();
    let keep = |card: &str, bytes: Vec<u8>| {
        studio.send_parts(
            "/studio/charts",
            &[("card", card)],
            "chart",
            &[("c.txt", bytes)],
        )
    };
    let told = keep("yard", chart()).good().text();
    assert!(
        told.contains("Print card yard") && told.contains("no photo has shown it yet"),
        "{told}"
    );
    let printed = studio
        .get("/studio/charts/card.pdf?name=yard&paper=letter")
        .good();
    assert!(printed.bytes.starts_with(b"%PDF"));
    for (card, bytes, why) in [
        ("a:b", chart(), "a:b"),
        ("shed", b"no chart".to_vec(), "c.txt"),
    ] {
        let refused = keep(card, bytes);
        assert_eq!(refused.status, StatusCode::BAD_REQUEST);
        assert!(refused.text().contains("Not kept") && refused.text().contains(why));
    }
    assert_eq!(studio.journal().cards().expect("cards").len(), 1);
    let none = studio.get("/studio/charts/card.pdf?name=shed");
    assert_eq!(none.status, StatusCode::NOT_FOUND);
}
