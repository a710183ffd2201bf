//! Planted violations: each kind must be seen, and what only looks like one must not.

use super::{File, circles, wrongs};

#[track_caller]
fn check(place: &str, text: &str, wanted: &[&str]) {
    let found = wrongs(&File::new(place, text));
    assert_eq!(found.len(), wanted.len(), "{found:?}");
    for (found, wanted) in found.iter().zip(wanted) {
        assert!(found.contains(wanted), "{found} does not say {wanted}");
    }
}

#[test]
fn a_wrong_import_is_seen_however_it_is_written() {
    for text in [
        "use crate::journal::Journal;",
        "pub use crate::journal::Journal as Book;",
        "fn f() { use crate::journal::Journal; }",
        "fn f() -> crate::journal::Journal { g() }",
        "use crate::{error::Result, journal::Journal};",
        "use crate::{\n    error::{Error, Result},\n    colour::{\n        Lab,\n    },\n    journal,\n};",
        "use {crate::error::Error, crate::journal as j};",
        "use super::super::journal::Journal;",
        "use super::super::{error, journal::{self, Journal}};",
        "mod inner { use super::super::super::journal::Journal; }",
        "fn f() { super::super::journal::open() }",
        "use self::super::super::journal;",
        "macro_rules! m { () => { $crate::journal::open() }; }",
        "use crate::\n    journal::Journal;",
        "use /* here */ crate :: journal :: Journal;",
        "/// Text.\n#[cfg(unix)]\nuse crate::journal::Journal;",
        "#[cfg(test)]\nmod tests;\nuse crate::journal::Journal;",
        "#[cfg(test)]\nmod tests {\n    fn f() { let c = '}'; }\n}\nuse crate::journal::Journal;",
        "const A: &str = r#\"a \" // b\"#; use crate::journal::Journal;",
        "const A: char = '\\''; use crate::journal::Journal;",
        "fn f<'a>(s: &'a str) { crate::journal::open(s) }",
    ] {
        let file = File::new("swatch/groups.rs", text);
        let found: Vec<String> = wrongs(&file);
        assert!(
            found.iter().any(|w| w.contains("swatch imports journal")),
            "not seen: {text}"
        );
    }
}

#[test]
fn what_only_looks_like_an_import_is_none() {
    check(
        "swatch/groups.rs",
        "//! See crate::journal::Journal.\n\
         use super::shade::Cloth;\n\
         use crate::colour::{self, Lab};\n\
         /* use crate::journal; /* nested */ println!() */\n\
         const A: &str = \"crate::journal \\\" println!()\";\n\
         const B: &str = r##\"use crate::journal;\"# \"##;\n\
         pub(super) mod inner { use super::Lab; use super::super::shade; }\n\
         #[cfg(test)]\nmod tests { use crate::journal::Journal; fn f() { println!(); } }",
        &[],
    );
}

#[test]
fn the_root_offers_areas_and_nothing_else() {
    check("swatch/mod.rs", "use crate::*;", &["imports *"]);
    check("swatch/mod.rs", "use super::*;", &["imports *"]);
    check(
        "swatch/mod.rs",
        "use crate::{self as root};",
        &["imports self"],
    );
    check("swatch/mod.rs", "use crate::Journal;", &["imports Journal"]);
}

#[test]
fn crates_clocks_and_terminals_are_seen_outside_their_walls() {
    check(
        "ask/mod.rs",
        "use rusqlite::Connection;",
        &["rusqlite outside"],
    );
    check(
        "ask/mod.rs",
        "use {rusqlite as db, std::fmt};",
        &["rusqlite outside"],
    );
    check(
        "ask/mod.rs",
        "fn f() { ::image::open(p) }",
        &["image outside"],
    );
    check("ask/mod.rs", "extern crate image;", &["back door"]);
    check("ask/mod.rs", "fn f() { dbg!(1); }", &["prints"]);
    check("ask/mod.rs", "use std::io::{self, stdout};", &["stdout"]);
    check(
        "measure/mod.rs",
        "fn f() { jiff::Zoned::now() }",
        &["jiff", "now"],
    );
    // Dates may be read where a question names them; what day it is, may not.
    check("ask/mod.rs", "fn f() { jiff::Zoned::now() }", &["now"]);
    check(
        "ask/mod.rs",
        "use std::time::{Duration, Instant as I};",
        &["Instant"],
    );
    check(
        "ask/mod.rs",
        "#[path = \"../journal/mod.rs\"] mod j;",
        &["elsewhere"],
    );
    check("ask/mod.rs", "include!(\"x.rs\");", &["elsewhere"]);
    check("journal/mod.rs", "use rusqlite::Connection;", &[]);
    check("cli/mod.rs", "fn f() { println!() }", &[]);
}

#[test]
fn a_circle_is_seen_at_any_level() {
    let one = File::new("journal/pieces.rs", "use super::readings::Groups;");
    let other = File::new(
        "journal/readings.rs",
        "fn f() { super::super::journal::pieces::put() }",
    );
    let third = File::new("journal/photos.rs", "use super::{pieces, readings};");
    assert_eq!(
        circles(&[one, other, third]),
        ["journal::pieces", "journal::readings"]
    );
    let deep = [
        File::new("cli/view/piece.rs", "use super::count;"),
        File::new("cli/view/mod.rs", "mod piece; pub use piece::piece;"),
        File::new("cli/show.rs", "use super::view::piece;"),
    ];
    assert!(circles(&deep).is_empty());
}
