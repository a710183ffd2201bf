//! Light from charts, cards and neighbours, and what a person tells by hand.

use crate::palettes::{distance, palette};
use crate::support::{Studio, testdata, with_exif};
use serde_json::Value;

const CHARTED: [&str; 4] = [
    "LC001-dry-1.jpg",
    "LC001-dry-2.jpg",
    "LC001-wet-0.jpg",
    "LC003-washed-3.jpg",
];

fn reference_photo(name: &str) -> Vec<u8> {
    std::fs::read(testdata("references/photos").join(name)).expect("a photo")
}

fn truth() -> Value {
    let text = std::fs::read(testdata("references/truth.json")).expect("the truth");
    serde_json::from_slice(&text).expect("JSON")
}

/// A studio with these photos in `photos`, and both descriptions of charts.
fn studio(names: &[&str]) -> Studio {
    let studio = Studio::new();
    for name in names {
        studio.write(&format!("photos/{name}"), reference_photo(name));
    }
    for file in ["chart.txt", "card.txt"] {
        let text = std::fs::read(testdata("references").join(file)).expect("a chart's file");
        studio.write(file, text);
    }
    studio
}

fn photo(export: &Value, name: &str) -> Value {
    let photos = export["photos"].as_array().expect("photos");
    let found = photos.iter().find(|photo| photo["file"] == name);
    found.expect("the photo is there").clone()
}

fn off(photo: &Value) -> f64 {
    let name = photo["file"].as_str().expect("a name");
    distance(
        &palette(&photo["swatches"]),
        &palette(&truth()[name]["palette"]),
    )
}

fn codes(photo: &Value) -> Vec<String> {
    let cautions = photo["cautions"].as_array().expect("cautions");
    cautions
        .iter()
        .map(|caution| caution["code"].as_str().expect("a code").to_owned())
        .collect()
}

/// The corners of the patches of `LC001-dry-1.jpg` as the command line takes them.
fn corners(order: [usize; 4]) -> String {
    let studio = studio(&CHARTED[..1]);
    studio
        .run(&["ingest", "photos", "--chart", "chart.txt"])
        .good();
    // The board reaches a quarter of a patch beyond the patches; corners need not be exact.
    let board: Vec<[f64; 2]> =
        serde_json::from_value(truth()[CHARTED[0]]["chart"].clone()).expect("corners");
    let middle = [0, 1].map(|axis| board.iter().map(|corner| corner[axis]).sum::<f64>() / 4.0);
    let inside =
        |n: usize| [0, 1].map(|axis| middle[axis] + 0.955 * (board[n][axis] - middle[axis]));
    let text: Vec<String> = order
        .iter()
        .flat_map(|&n| inside(n))
        .map(|v| format!("{v:.0}"))
        .collect();
    text.join(",")
}

#[test]
fn a_chart_gives_the_light() {
    let studio = studio(&CHARTED);
    studio
        .run(&["ingest", "photos", "--chart", "chart.txt"])
        .good();
    let export = studio.export();
    let mut errors = Vec::new();
    for name in CHARTED {
        let photo = photo(&export, name);
        assert_eq!(photo["light"]["basis"], "chart", "{name}");
        assert_eq!(photo["light"]["patches"].as_array().map(Vec::len), Some(24));
        errors.push(off(&photo));
    }
    // Measured: 1.32 on the mean. Without the chart it is 4.
    let mean = errors.iter().sum::<f64>() / errors.len() as f64;
    assert!(mean <= 1.7, "{errors:.2?}");
}

#[test]
fn a_chart_is_remembered_with_its_photo() {
    let studio = studio(&CHARTED[..1]);
    studio
        .run(&["ingest", "photos", "--chart", "chart.txt"])
        .good();
    let before = studio.export();
    std::fs::remove_file(studio.path("chart.txt")).expect("removed");
    studio.run(&["remeasure"]).good();
    assert_eq!(studio.export(), before, "the same reading once more");
    let copy = Studio::new();
    copy.write("all.json", before.to_string());
    copy.run(&["import", "all.json"]).good();
    assert_eq!(copy.export(), before);
}

#[test]
fn corners_by_hand_are_put_in_order() {
    let studio = studio(&CHARTED[..1]);
    let turned = corners([2, 3, 0, 1]);
    studio
        .run(&[
            "ingest",
            "photos",
            "--chart",
            "chart.txt",
            "--corners",
            &turned,
        ])
        .good();
    let photo = photo(&studio.export(), CHARTED[0]);
    assert!(
        codes(&photo).contains(&"chart-corners".to_owned()),
        "{:?}",
        codes(&photo)
    );
    assert!(off(&photo) <= 2.0, "{:.2}", off(&photo));
    studio
        .run(&["remeasure", CHARTED[0], "--corners", &corners([0, 1, 2, 3])])
        .good();
    let photo = crate::light::photo(&studio.export(), CHARTED[0]);
    assert!(
        !codes(&photo).contains(&"chart-corners".to_owned()),
        "{:?}",
        codes(&photo)
    );
}

#[test]
fn corners_where_no_chart_lies_are_passed_over() {
    let studio = studio(&CHARTED[..1]);
    let elsewhere = "700,300,900,300,900,500,700,500";
    studio
        .run(&[
            "ingest",
            "photos",
            "--chart",
            "chart.txt",
            "--corners",
            elsewhere,
        ])
        .good();
    let photo = photo(&studio.export(), CHARTED[0]);
    assert!(codes(&photo).contains(&"chart-corners".to_owned()));
    assert_eq!(photo["light"]["basis"], "chart", "it was found by itself");
    assert!(off(&photo) <= 2.0, "{:.2}", off(&photo));
}

#[test]
fn a_chart_told_by_mistake_is_taken_back() {
    let studio = studio(&["LD003-dry-1.jpg"]);
    studio
        .run(&["ingest", "photos", "--chart", "chart.txt"])
        .good();
    let told =
        |code: &str| codes(&photo(&studio.export(), "LD003-dry-1.jpg")).contains(&code.to_owned());
    assert!(told("chart-not-found"));
    studio.run(&["remeasure", "--chart", "none"]).good();
    assert!(!told("chart-not-found"));
    let again = studio
        .run(&["ingest", "photos", "--chart", "chart.txt"])
        .good();
    assert!(again.out.contains("filemot remeasure"), "{}", again.out);
}

#[test]
fn an_outline_by_hand_counts_until_it_is_taken_back() {
    let studio = studio(&["LD003-dry-1.jpg"]);
    let outline = "500,200 900,220 880,800 480,780";
    studio
        .run(&["ingest", "photos", "--outline", outline])
        .good();
    let told = || photo(&studio.export(), "LD003-dry-1.jpg");
    let wanted: Value = serde_json::json!([
        [500.0, 200.0],
        [900.0, 220.0],
        [880.0, 800.0],
        [480.0, 780.0]
    ]);
    assert_eq!(told()["outline"], wanted);
    studio.run(&["remeasure"]).good();
    assert_eq!(told()["outline"], wanted);
    studio
        .run(&["remeasure", "LD003-dry-1.jpg", "--outline", "none"])
        .good();
    assert_ne!(told()["outline"], wanted);
    studio
        .run(&["ingest", "photos", "--outline", outline])
        .refused(&["in the journal already", "filemot remeasure"]);
}

#[test]
fn what_is_told_wrongly_is_refused_in_words() {
    let studio = studio(&["LD003-dry-1.jpg", "LC001-dry-1.jpg"]);
    studio.write("empty.txt", "");
    studio.write("poem.txt", "the leaves that fall\nare not a chart");
    let one = "photos/LD003-dry-1.jpg";
    let refused = |arguments: &[&str], words: &[&str]| {
        studio.run(arguments).refused(words);
    };
    refused(&["ingest", one, "--chart", "missing.txt"], &["missing.txt"]);
    refused(&["ingest", one, "--chart", "empty.txt"], &["empty.txt"]);
    refused(&["ingest", one, "--chart", "poem.txt"], &["poem.txt"]);
    refused(&["ingest", one, "--chart", one], &["LD003-dry-1.jpg"]);
    refused(
        &["ingest", one, "--corners", "1,2,3,4,5,6,7,8"],
        &["--chart"],
    );
    refused(
        &["ingest", "photos", "--outline", "1,2 900,4 5,600"],
        &["one photo"],
    );
    refused(
        &["ingest", one, "--outline", "1,2 9000,4 5,600"],
        &["outside"],
    );
    refused(&["ingest", one, "--outline", "leaf"], &["not an outline"]);
    refused(&["card", "a:b", "--chart", "chart.txt"], &["a:b"]);
    refused(&["card", "yard", "--chart", "poem.txt"], &["poem.txt"]);
    refused(
        &[
            "card",
            "yard",
            "--chart",
            "chart.txt",
            "--out",
            "nowhere/a.pdf",
        ],
        &["nowhere"],
    );
    assert!(
        studio.export().get("cards").is_none(),
        "nor is a card recorded"
    );
    assert_eq!(
        studio
            .run(&["ingest", one, "--chart", "chart.txt", "--corners", "1,2,3"])
            .status,
        2
    );
    assert_eq!(
        studio.export()["photos"],
        serde_json::json!([]),
        "nothing was kept"
    );
}

#[test]
fn a_card_is_known_by_its_code() {
    let names = ["MK004-dry-1.jpg", "MK004-washed-3.jpg"];
    let studio = studio(&names);
    studio.run(&["ingest", "photos"]).good();
    let unknown = photo(&studio.export(), names[0]);
    assert!(codes(&unknown).contains(&"card-unknown".to_owned()));
    studio
        .run(&["card", "yard", "--chart", "card.txt", "--out", "card.svg"])
        .good();
    assert!(studio.read("card.svg").contains("yard"));
    studio.run(&["remeasure"]).good();
    let export = studio.export();
    for name in names {
        let photo = photo(&export, name);
        assert_eq!(photo["light"]["basis"], "chart", "{name}");
        assert!(off(&photo) <= 2.5, "{name}: {:.2}", off(&photo));
    }
    let corners = &export["cards"][0]["corners"];
    assert_eq!(
        corners.as_array().map(Vec::len),
        Some(4),
        "where the chart lies was learnt"
    );
}

#[test]
fn light_is_borrowed_from_a_photo_just_before() {
    let studio = Studio::new();
    let lender = with_exif(
        &crate::support::season_photo("LB001-dry.jpg"),
        "wooden box",
        "2026:05:01 10:00:00",
    );
    let bare = reference_photo("LD003-dry-1.jpg");
    studio.write("photos/lender.jpg", lender);
    studio.write(
        "photos/near.jpg",
        with_exif(&bare, "wooden box", "2026:05:01 10:04:00"),
    );
    studio.write(
        "photos/later.jpg",
        with_exif(&bare, "wooden box", "2026:05:01 12:00:00"),
    );
    studio.write(
        "photos/other.jpg",
        with_exif(&bare, "tin box", "2026:05:01 10:04:00"),
    );
    studio.run(&["ingest", "photos"]).good();
    let export = studio.export();
    let near = photo(&export, "near.jpg");
    assert_eq!(near["light"]["basis"], "tag");
    assert!(codes(&near).contains(&"light-borrowed".to_owned()));
    let shown = studio.run(&["show", "near.jpg"]).good().out;
    assert!(
        shown.contains("light borrowed from a photo of the same minutes with the tag"),
        "{shown}"
    );
    let doubt = |name: &str| photo(&export, name)["light"]["doubt"]["common"].as_f64();
    assert!(doubt("near.jpg") > doubt("lender.jpg"));
    for name in ["later.jpg", "other.jpg"] {
        assert_eq!(photo(&export, name)["light"]["basis"], "assumed", "{name}");
    }
    studio.run(&["remeasure"]).good();
    assert_eq!(studio.export(), export, "measured again, it borrows again");
}

#[test]
fn photos_of_one_burst_are_told() {
    let studio = Studio::new();
    let photo = crate::support::season_photo("LB001-dry.jpg");
    for (name, taken) in [("a", "10:00:00"), ("b", "10:00:01"), ("c", "10:00:30")] {
        let taken = format!("2026:05:01 {taken}");
        studio.write(
            &format!("photos/{name}.jpg"),
            with_exif(&photo, "wooden box", &taken),
        );
    }
    studio.run(&["ingest", "photos"]).good();
    let export = studio.export();
    let told = |name: &str| {
        codes(&crate::light::photo(&export, name)).contains(&"burst-duplicate".to_owned())
    };
    // Whichever of the two was kept second says it of the first.
    assert!(told("a.jpg") != told("b.jpg"));
    assert!(!told("c.jpg"));
}

#[test]
fn a_drawing_never_replaces_or_mistakes_a_photo() {
    let studio = studio(&["LD003-dry-1.jpg"]);
    let other = std::fs::read(testdata("good/photos/adobe.png")).expect("a picture");
    studio.write("photos/other.png", other);
    studio.run(&["ingest", "photos", "--in-place"]).good();
    let show = |out: &str| studio.run(&["show", "LD003-dry-1.jpg", "--overlay", out]);
    show("drawn.png").good();
    show("drawn.png").good();
    show("photos/other.png").refused(&["photo of the journal"]);
    studio.write("photos/LD003-dry-1.jpg", reference_photo("LC001-dry-1.jpg"));
    show("drawn.png").refused(&["no longer the photo"]);
}
