//! The order of areas and the walls around crates, as DEVELOPERS.md draws them.
//!
//! The source is read as the compiler reads it (see `source` and `paths`): an import counts inside a function or a group, over
//! several lines, and by way of `super::super::`, and one in a comment, a text or a test does not.

mod paths;
mod planted;
mod source;

use paths::{Named, holds, paths};
use source::Source;
use std::collections::{BTreeMap, BTreeSet};
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
        &[
            "error", "colour", "words", "draw", "care", "reading", "journal",
        ],
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
        "page",
        &[
            "error", "stats", "colour", "words", "picture", "draw", "reading", "photo", "tag",
            "light", "piece", "swatch", "measure", "change", "care", "journal", "sheet", "intake",
            "ask", "note",
        ],
    ),
    (
        "cli",
        &[
            "error", "stats", "colour", "words", "picture", "draw", "reading", "photo", "tag",
            "light", "piece", "swatch", "measure", "change", "care", "journal", "sheet", "intake",
            "ask", "note", "page",
        ],
    ),
];

/// The crates of `Cargo.toml` by the name that code gives them, and the areas that may name them.
const WALLS: &[(&str, &[&str])] = &[
    ("askama", &["note", "page"]),
    ("axum", &["page"]),
    ("hyper", &["page"]),
    ("hyper_util", &["page"]),
    ("base64", &["draw", "note"]),
    ("blake3", &["journal", "intake"]),
    ("calamine", &["sheet"]),
    ("zip", &["sheet"]),
    ("clap", &["cli"]),
    ("comfy_table", &["cli"]),
    ("csv", &["sheet", "ask"]),
    ("dejavu", &["draw"]),
    ("exif", &["photo"]),
    ("fluent_bundle", &["note"]),
    ("futures_util", &["page"]),
    ("getrandom", &["page"]),
    ("heifer", &["photo"]),
    ("image", &["photo", "draw"]),
    ("indicatif", &["cli"]),
    (
        "jiff",
        &[
            "photo", "change", "journal", "sheet", "ask", "note", "page", "cli",
        ],
    ),
    ("krilla", &["draw"]),
    ("moxcms", &["photo"]),
    ("munsellspace", &["words"]),
    ("nalgebra", &["stats", "tag", "light", "piece"]),
    (
        "palette",
        &[
            "colour", "words", "draw", "reading", "photo", "tag", "light", "piece",
        ],
    ),
    ("png", &["draw"]),
    ("qrcode", &["tag"]),
    ("rayon", &["intake", "ask"]),
    ("resvg", &["draw"]),
    ("rqrr", &["tag"]),
    ("rusqlite", &["journal"]),
    (
        "serde",
        &[
            "error", "colour", "reading", "change", "journal", "sheet", "intake", "ask", "note",
            "page", "cli",
        ],
    ),
    ("serde_json", &["journal", "cli"]),
    ("serde_path_to_error", &["journal"]),
    ("skrifa", &["draw"]),
    ("statrs", &["stats"]),
    ("thiserror", &["error", "photo"]),
    ("tokio", &["page"]),
    ("walkdir", &["intake"]),
    ("zune_core", &["photo"]),
    ("zune_jpeg", &["photo"]),
];

/// Names of the standard library that bring in a terminal or a clock, which only commands may have.
const OUTSIDE: [&str; 8] = [
    "stdin",
    "stdout",
    "stderr",
    "Stdout",
    "Stderr",
    "SystemTime",
    "Instant",
    "now",
];

/// Macros that print.
const PRINTING: [&str; 5] = ["print", "println", "eprint", "eprintln", "dbg"];

/// A file of the crate, or a planted one.
struct File {
    /// Its place, for messages.
    place: String,
    /// Its module: `["journal", "photos"]`; empty for the crate's root.
    module: Vec<String>,
    source: Source,
}

impl File {
    fn new(place: &str, text: &str) -> Self {
        let stem = place.trim_end_matches(".rs");
        let names = stem.split('/').filter(|name| *name != "mod");
        Self {
            place: format!("src/{place}"),
            module: names.map(str::to_owned).collect(),
            source: Source::read(text),
        }
    }

    fn area(&self) -> &str {
        self.module.first().map_or("", String::as_str)
    }

    fn paths(&self) -> Vec<Named> {
        paths(&self.source.tokens, &self.module)
    }
}

/// Every file of the library that is not only for tests; the root, which only lists the areas, aside.
fn library() -> Vec<File> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut found = Vec::new();
    sources(&root, &mut found);
    let files: Vec<File> = found
        .iter()
        .map(|path| {
            let inside = path.strip_prefix(&root).expect("a file of the source");
            let place = inside.to_string_lossy().replace('\\', "/");
            File::new(&place, &std::fs::read_to_string(path).expect("readable"))
        })
        .filter(|file| !matches!(file.area(), "lib" | "main"))
        .collect();
    let only_tests: Vec<Vec<String>> = files
        .iter()
        .flat_map(|file| {
            let below = |name: &String| [&file.module[..], std::slice::from_ref(name)].concat();
            file.source.test_modules.iter().map(below)
        })
        .collect();
    let is_test = |file: &File| only_tests.iter().any(|t| file.module.starts_with(t));
    files.into_iter().filter(|file| !is_test(file)).collect()
}

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

/// What a file may not do: import areas below it or past the table, name crates and the world outside their walls.
fn wrongs(file: &File) -> Vec<String> {
    let area = file.area();
    let imports = AREAS.iter().find(|(name, _)| *name == area);
    let allowed = imports.map_or(&[][..], |(_, allowed)| *allowed);
    let mut wrong = Vec::new();
    for Named { path, line } in file.paths() {
        let mut say = |what: String| wrong.push(format!("{}:{line}: {what}", file.place));
        let first = path.first().map_or("", String::as_str);
        if first == "crate" {
            let other = path.get(1).map_or("", String::as_str);
            if other != area && !allowed.contains(&other) {
                say(format!("{area} imports {other}"));
            }
        } else if let Some((_, inside)) = WALLS.iter().find(|(name, _)| *name == first)
            && !inside.contains(&area)
        {
            say(format!("{first} outside {}", inside.join(", ")));
        }
        if let Some(name) = path.iter().find(|name| OUTSIDE.contains(&name.as_str()))
            && area != "cli"
        {
            say(format!("{name} outside cli"));
        }
    }
    let has = |texts: &[&str]| holds(&file.source.tokens, texts);
    let prints = PRINTING.iter().any(|name| has(&[name, "!"]));
    let detours = [
        (prints && area != "cli", "prints outside cli"),
        (has(&["extern", "crate"]), "names a crate by the back door"),
        (has(&["#", "[", "path"]), "has a module from elsewhere"),
        (has(&["include", "!"]), "takes in source from elsewhere"),
    ];
    let detours = detours.iter().filter(|(holds, _)| *holds);
    wrong.extend(detours.map(|(_, what)| format!("{}: {what}", file.place)));
    wrong
}

/// Modules that import one another in a circle, at any level: each as the place and its names. A parent and its child are no
/// circle.
fn circles(files: &[File]) -> Vec<String> {
    let modules: BTreeSet<&[String]> = files
        .iter()
        .flat_map(|file| (1..=file.module.len()).map(|n| &file.module[..n]))
        .collect();
    let mut uses: BTreeMap<Vec<String>, BTreeSet<Vec<String>>> = BTreeMap::new();
    for file in files {
        for Named { path, .. } in file.paths().iter().filter(|named| named.path[0] == "crate") {
            let target = &path[1..];
            let pairs = file.module.iter().zip(target);
            let shared = pairs.take_while(|(one, other)| one == other).count();
            let (from, to) = (file.module.get(..=shared), target.get(..=shared));
            if let (Some(from), Some(to)) = (from, to)
                && modules.contains(to)
            {
                uses.entry(from.to_vec()).or_default().insert(to.to_vec());
            }
        }
    }
    let reaches = |from: &Vec<String>| {
        let (mut seen, mut next) = (BTreeSet::new(), vec![from]);
        while let Some(module) = next.pop() {
            for used in uses.get(module).into_iter().flatten() {
                if seen.insert(used) {
                    next.push(used);
                }
            }
        }
        seen.contains(from)
    };
    let round = uses.keys().filter(|module| reaches(module));
    round.map(|module| module.join("::")).collect()
}

#[test]
fn every_area_stands_in_the_table_and_the_table_only_points_up() {
    let names: Vec<&str> = AREAS.iter().map(|(name, _)| *name).collect();
    for file in library() {
        assert!(names.contains(&file.area()), "{} is in no area", file.place);
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
fn imports_go_one_way_and_crates_stay_inside_their_walls() {
    let wrong: Vec<String> = library().iter().flat_map(wrongs).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn no_modules_import_one_another_in_a_circle() {
    let round = circles(&library());
    assert!(round.is_empty(), "{}", round.join("\n"));
}

#[test]
fn every_crate_has_its_walls() {
    let manifest = include_str!("../../Cargo.toml");
    let after = manifest.split("[dependencies]\n").nth(1).expect("a table");
    let table = after.split("\n[").next().expect("its end");
    let names = table.lines().filter_map(|line| line.split_once(" = "));
    for (name, _) in names {
        let name = match name {
            "kamadak-exif" => "exif".to_owned(),
            name => name.replace('-', "_"),
        };
        let walled = WALLS.iter().any(|(known, _)| *known == name);
        assert!(walled, "{name} has no walls");
    }
}
