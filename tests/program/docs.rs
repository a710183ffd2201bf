//! The docs cannot drift from the program.

use crate::support::Studio;

#[test]
fn every_command_has_help_and_stands_in_the_docs() {
    let docs = include_str!("../../docs/commands.md");
    let commands = filemot::cli::commands();
    assert!(commands.len() >= 15, "{commands:?}");
    for (name, about) in &commands {
        assert!(
            about.as_ref().is_some_and(|about| about.len() > 20),
            "{name} has no help"
        );
        assert!(
            docs.contains(&format!("\n## {name}\n")),
            "{name} has no section in docs/commands.md"
        );
        assert!(
            docs.contains(&format!("`filemot {name}")),
            "{name} is not shown in docs/commands.md"
        );
    }
    for section in docs.lines().filter_map(|line| line.strip_prefix("## ")) {
        assert!(
            commands.iter().any(|(name, _)| name == section),
            "docs/commands.md tells of {section}, which is no command"
        );
    }
}

#[test]
fn every_option_stands_in_the_docs() {
    let docs = include_str!("../../docs/commands.md");
    let studio = Studio::new();
    for (name, _) in filemot::cli::commands() {
        let help = studio.run(&[&name, "--help"]).good().out;
        let options = help
            .split_whitespace()
            .filter(|word| word.starts_with("--"));
        for option in
            options.map(|option| option.trim_matches(|c: char| !c.is_alphanumeric() && c != '-'))
        {
            assert!(
                option == "--help" || docs.contains(option),
                "{name} {option} is not in docs/commands.md"
            );
        }
    }
}

/// Every caution that a photo can bring is a text of its area's source: small letters and hyphens.
#[test]
fn every_caution_about_a_photo_stands_on_the_wall_page() {
    let page = include_str!("../../docs/photographing.md");
    let areas = [
        "photo", "tag", "light", "piece", "swatch", "measure", "intake",
    ];
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let files = walkdir::WalkDir::new(&root).into_iter().flatten();
    let mut found = 0;
    for file in files.filter(|f| f.path().extension().is_some_and(|e| e == "rs")) {
        // The first folder is the area: `page/piece.rs` is none of `piece`.
        let inside = file.path().strip_prefix(&root).expect("inside");
        let area = inside.iter().next().and_then(|part| part.to_str());
        if !area.is_some_and(|area| areas.contains(&area.trim_end_matches(".rs"))) {
            continue;
        }
        let source = std::fs::read_to_string(file.path()).expect("readable");
        let code = source.split("mod tests").next().unwrap_or_default();
        for text in code.split('"').filter(|text| is_code(text)) {
            found += 1;
            let place = file.path().display();
            assert!(page.contains(&format!("`{text}`")), "{text} of {place}");
        }
    }
    assert!(found > 20);
}

fn is_code(text: &str) -> bool {
    text.contains('-')
        && text
            .split('-')
            .all(|word| !word.is_empty() && word.bytes().all(|b| b.is_ascii_lowercase()))
}

#[test]
fn the_readme_shows_the_two_commands() {
    let readme = include_str!("../../README.md");
    assert!(readme.contains("cargo run --release -- tour"));
    assert!(readme.contains("cargo test"));
}
