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

#[test]
fn the_readme_shows_the_two_commands() {
    let readme = include_str!("../../README.md");
    assert!(readme.contains("cargo run --release -- tour"));
    assert!(readme.contains("cargo test"));
}
