//! Writes printed tags where independent decoders can read them: `tests/decoders/read_tags.py` does.

use filemot::draw::pdf;
use filemot::tag::{Page, Payload, SheetOptions, sheet};
use std::collections::BTreeMap;
use std::path::Path;

const CODES: [&str; 13] = [
    "LB007",
    "a",
    "1234567",
    "piece no. 17",
    "Lärche 4",
    "été-12",
    "木の葉",
    "листья 3",
    "φύλλο",
    "ABCDEFGHIJKLMNOPQRSTUVWXYZ012345",
    "<&\"'>",
    "lower-case_long.code(number)#31",
    "000",
];

#[test]
fn tags_are_written_for_independent_decoders() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("printed_tags");
    std::fs::create_dir_all(&folder).unwrap();
    let labels: Vec<Payload> = CODES.map(|c| Payload::Piece(c.to_owned())).to_vec();
    let states = ["wet", "dry", "washed", "worn"].map(|s| Payload::State(s.to_owned()));
    let mut expected = BTreeMap::new();
    for (page, name) in [(Page::A4, "a4"), (Page::Letter, "letter")] {
        let options = SheetOptions { page, states: true };
        let pages = sheet(&labels, options).unwrap();
        assert_eq!(pages.len(), 2);
        let texts: Vec<String> = labels.iter().chain(&states).map(Payload::text).collect();
        for (number, (page, texts)) in pages.iter().zip(texts.chunks(12)).enumerate() {
            let file = format!("{name}-{number}.png");
            std::fs::write(folder.join(&file), page.png(6.0).unwrap()).unwrap();
            expected.insert(file, texts.to_vec());
        }
        let file = format!("{name}.pdf");
        std::fs::write(folder.join(&file), pdf(&pages).unwrap()).unwrap();
        expected.insert(file, texts);
    }
    let list = serde_json::to_string_pretty(&expected).unwrap();
    std::fs::write(folder.join("expected.json"), list).unwrap();
}
