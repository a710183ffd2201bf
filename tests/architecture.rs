//! The order of areas and the walls around crates, as DEVELOPERS.md draws them.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// Every area with the areas it may import. An area may only name areas that stand above it in this table.
const AREAS: &[(&str, &[&str])] = &[
    ("error", &[]),
    ("stats", &[]),
    ("colour", &[]),
    ("words", &["error", "colour"]),
    ("picture", &["error", "colour"]),
    ("draw", &["error", "colour", "picture"]),
    ("reading", &["error", "colour"]),
    ("photo", &["error", "colour", "picture"]),
    ("tag", &["error", "picture", "draw"]),
    (
        "light",
        &["error", "stats", "colour", "picture", "reading", "tag"],
    ),
    ("piece", &["error", "colour", "picture", "reading", "tag"]),
    (
        "swatch",
        &["error", "stats", "colour", "picture", "reading"],
    ),
    (
        "measure",
        &[
            "error", "colour", "words", "picture", "reading", "photo", "tag", "light", "piece",
            "swatch",
        ],
    ),
    ("change", &["error", "stats", "colour", "reading"]),
    ("care", &["error"]),
    ("journal", &["error", "colour", "reading"]),
    (
        "sheet",
        &["error", "colour", "words", "care", "reading", "journal"],
    ),
    (
        "intake",
        &["error", "photo", "tag", "reading", "measure", "journal"],
    ),
    (
        "ask",
        &[
            "error", "stats", "colour", "words", "draw", "reading", "change", "journal",
        ],
    ),
    (
        "note",
        &[
            "error", "colour", "words", "picture", "draw", "reading", "photo", "measure", "change",
            "care", "journal",
        ],
    ),
    (
        "cli",
        &[
            "error", "stats", "colour", "words", "picture", "draw", "reading", "photo", "tag",
            "light", "piece", "swatch", "measure", "change", "care", "journal", "sheet", "intake",
            "ask", "note",
        ],
    ),
];

/// What may be named only in these areas, and why it would be missed elsewhere.
const WALLS: &[(&str, &[&str])] = &[
    ("image::", &["photo", "draw"]),
    ("zune_jpeg", &["photo"]),
    ("zune_core", &["photo"]),
    ("exif::", &["photo"]),
    ("moxcms", &["photo"]),
    ("qrcode::", &["tag"]),
    ("rqrr", &["tag"]),
    ("rusqlite", &["journal"]),
    ("krilla", &["draw"]),
    ("resvg", &["draw"]),
    ("skrifa", &["draw"]),
    ("dejavu", &["draw"]),
    ("munsellspace", &["words"]),
    ("calamine", &["sheet"]),
    ("askama", &["note"]),
    ("clap::", &["cli"]),
    ("comfy_table", &["cli"]),
    ("indicatif", &["cli"]),
    ("println!", &["cli"]),
    ("eprintln!", &["cli"]),
    ("Zoned::now", &["cli"]),
    ("SystemTime::now", &["cli"]),
    ("Instant::now", &["cli"]),
];

fn sources(folder: &Path, into: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("the source folder is there") {
        let path = entry.expect("a readable entry").path();
        if path.is_dir() {
            sources(&path, into);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            into.push(path);
        }
    }
}

/// The lines of each area's files that are neither comments nor inside `mod tests`, with their place.
fn code_by_area() -> BTreeMap<String, Vec<(String, String)>> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    sources(&root, &mut files);
    let mut areas: BTreeMap<String, Vec<(String, String)>> = BTreeMap::new();
    for file in files {
        let inside = file
            .strip_prefix(&root)
            .expect("a file of the source folder");
        let area = inside
            .iter()
            .next()
            .expect("a name")
            .to_string_lossy()
            .trim_end_matches(".rs")
            .to_owned();
        if area == "lib" || area == "main" || inside.ends_with("tests.rs") {
            continue;
        }
        let text = std::fs::read_to_string(&file).expect("readable source");
        let lines = text
            .lines()
            .enumerate()
            .take_while(|(_, line)| !line.starts_with("mod tests"));
        for (number, line) in lines {
            let code = line.split("//").next().unwrap_or_default();
            let place = format!("src/{}:{}", inside.display(), number + 1);
            areas
                .entry(area.clone())
                .or_default()
                .push((place, code.to_owned()));
        }
    }
    areas
}

#[test]
fn every_area_stands_in_the_table_and_the_table_only_points_up() {
    let names: Vec<&str> = AREAS.iter().map(|(name, _)| *name).collect();
    for area in code_by_area().keys() {
        assert!(
            names.contains(&area.as_str()),
            "src/{area} is not an area of the table"
        );
    }
    for (place, (name, imports)) in AREAS.iter().enumerate() {
        for import in *imports {
            assert!(
                names[..place].contains(import),
                "{name} may not import {import}: it does not stand above it"
            );
        }
    }
}

#[test]
fn imports_go_one_way() {
    let areas = code_by_area();
    let mut wrong = Vec::new();
    for (area, allowed) in AREAS {
        for (place, code) in areas.get(*area).into_iter().flatten() {
            for part in code.split("crate::").skip(1) {
                let named: Vec<String> = match part.strip_prefix('{') {
                    Some(group) => group
                        .split([',', '}'])
                        .map(|item| first_word(item.trim()))
                        .collect(),
                    None => vec![first_word(part)],
                };
                for other in named
                    .into_iter()
                    .filter(|n| AREAS.iter().any(|(name, _)| name == n))
                {
                    if other != *area && !allowed.contains(&other.as_str()) {
                        wrong.push(format!("{place}: {area} imports {other}"));
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

fn first_word(text: &str) -> String {
    text.chars()
        .take_while(|c| c.is_alphanumeric() || *c == '_')
        .collect()
}

#[test]
fn crates_stay_inside_their_walls() {
    let mut wrong = Vec::new();
    for (area, lines) in code_by_area() {
        for (word, allowed) in WALLS {
            for (place, code) in lines.iter().filter(|(_, code)| names(code, word)) {
                if !allowed.contains(&area.as_str()) {
                    wrong.push(format!(
                        "{place}: {word} outside {}: {}",
                        allowed.join(", "),
                        code.trim()
                    ));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Whether `word` stands in `code` as a name of its own, not as the end of a longer path or name.
fn names(code: &str, word: &str) -> bool {
    code.match_indices(word).any(|(at, _)| {
        !code[..at]
            .chars()
            .next_back()
            .is_some_and(|c| c.is_alphanumeric() || c == '_' || c == ':')
    })
}
