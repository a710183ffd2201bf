//! Photos in: once each, whatever interrupts.

use crate::support::{Run, Studio};
use std::process::{Command, Stdio};

const SIX: [&str; 6] = [
    "LB001-wet.jpg",
    "LB001-dry.jpg",
    "LB002-wet.jpg",
    "LB002-dry.jpg",
    "LB003-wet.jpg",
    "LB003-dry.jpg",
];

#[test]
fn the_same_bytes_are_never_measured_twice() {
    let studio = Studio::new();
    studio.photos("in", &SIX[..2]);
    let first = studio.json(&["ingest", "in", "--json"]);
    assert_eq!(
        (&first["found"], &first["new"], &first["known"]),
        (&2.into(), &2.into(), &0.into())
    );
    studio.photos("in/again", &SIX[..1]);
    let second = studio.json(&["ingest", "in", "--json"]);
    assert_eq!(
        (&second["found"], &second["new"], &second["known"]),
        (&3.into(), &0.into(), &3.into())
    );
    assert_eq!(studio.export()["photos"].as_array().map(Vec::len), Some(2));
}

#[test]
fn tag_state_date_and_light_are_read() {
    let studio = Studio::new();
    studio.photos("in", &SIX[..2]);
    studio.run(&["ingest", "in"]).good();
    let export = studio.export();
    for photo in export["photos"].as_array().expect("photos") {
        let file = photo["file"].as_str().expect("a name");
        assert_eq!(photo["piece"], "LB001");
        assert_eq!(
            photo["state"],
            if file.contains("wet") { "wet" } else { "dry" }
        );
        assert_eq!(photo["light"]["basis"], "tag");
        assert_eq!(
            (&photo["width"], &photo["height"]),
            (&1260.into(), &945.into())
        );
        assert!(
            photo["taken"]
                .as_str()
                .is_some_and(|taken| taken.starts_with("2026-05-03T")),
            "{photo}"
        );
        let shares: f64 = photo["swatches"]
            .as_array()
            .expect("colours")
            .iter()
            .filter_map(|s| s["share"].as_f64())
            .sum();
        assert!((shares - 1.0).abs() < 1e-9, "{shares}");
    }
}

#[test]
fn the_order_of_belief_is_option_then_name_then_dry() {
    let studio = Studio::new();
    studio.write(
        "in/IMG_1.jpg",
        crate::support::season_photo("LB001-dry.jpg"),
    );
    studio.write(
        "in/washed/IMG_2.jpg",
        crate::support::season_photo("LB002-dry.jpg"),
    );
    let summary = studio.json(&["ingest", "in", "--json"]);
    assert_eq!(summary["taken_as_dry"], 1);
    studio.write(
        "later/IMG_3.jpg",
        crate::support::season_photo("LB003-dry.jpg"),
    );
    studio.run(&["ingest", "later", "--state", "worn"]).good();
    let export = studio.export();
    let state = |name: &str| {
        let photos = export["photos"].as_array().expect("photos");
        photos.iter().find(|p| p["file"] == name).expect("ingested")["state"].clone()
    };
    assert_eq!(
        (
            state("IMG_1.jpg"),
            state("washed/IMG_2.jpg"),
            state("IMG_3.jpg")
        ),
        ("dry".into(), "washed".into(), "worn".into())
    );
}

#[test]
fn originals_are_kept_or_left_in_place() {
    let studio = Studio::new();
    studio.photos("in", &SIX[..1]);
    studio.run(&["ingest", "in"]).good();
    std::fs::remove_dir_all(studio.path("in")).expect("removed");
    studio.run(&["remeasure"]).good();
    studio.run(&["check"]).good();

    let other = Studio::new();
    other.photos("in", &SIX[..1]);
    other.run(&["ingest", "in", "--in-place"]).good();
    assert!(
        !other.path("filemot-journal/photos").exists()
            || other
                .path("filemot-journal/photos")
                .read_dir()
                .expect("a folder")
                .next()
                .is_none()
    );
    other.run(&["remeasure"]).good();
    std::fs::remove_dir_all(other.path("in")).expect("removed");
    let run = other.run(&["remeasure"]).good();
    assert!(run.err.contains("Left as it was"), "{}", run.err);
}

#[test]
fn two_ingests_at_once_both_end_well() {
    let studio = Studio::new();
    studio.photos("in", &SIX);
    for child in [
        studio.start(&["ingest", "in"]),
        studio.start(&["ingest", "in"]),
    ] {
        Run::from(child).good();
    }
    assert_eq!(
        studio.export()["photos"].as_array().map(Vec::len),
        Some(SIX.len())
    );
    studio.run(&["check"]).good();
}

#[cfg(unix)]
#[test]
fn killed_in_the_middle_a_second_ingest_finishes_the_work() {
    let studio = Studio::new();
    studio.photos("in", &SIX);
    let mut child = studio.start(&["ingest", "in"]);
    // As soon as one photo is kept, the program is in the middle of it.
    let kept = studio.path("filemot-journal/photos");
    while !kept.exists() && child.try_wait().expect("a child").is_none() {
        std::thread::yield_now();
    }
    child.kill().expect("killed");
    child.wait().expect("ended");
    let summary = studio.json(&["ingest", "in", "--json"]);
    assert_eq!(summary["found"], SIX.len());
    assert_eq!(
        summary["refused"].as_array().map(Vec::len),
        Some(0),
        "{summary}"
    );
    let export = studio.export();
    let photos = export["photos"].as_array().expect("photos");
    assert_eq!(photos.len(), SIX.len());
    assert!(
        photos
            .iter()
            .all(|photo| photo["light"]["basis"] == "tag"
                && photo["swatches"][0]["share"].is_number())
    );
    studio.run(&["check"]).good();
}

/// The progress bar is drawn by the threads that measure; it once waited for ever for standard error. Needs `script` of
/// util-linux, which makes a terminal, and is left out where that is not there.
#[cfg(target_os = "linux")]
#[test]
fn on_a_terminal_the_progress_bar_is_drawn_and_the_work_ends() {
    let studio = Studio::new();
    studio.photos("in", &SIX[..2]);
    let program = assert_cmd::cargo::cargo_bin!("filemot");
    let run = Command::new("timeout")
        .args(["--kill-after=1", "120", "script", "-qec"])
        .arg(format!("{} ingest in", program.display()))
        .arg("/dev/null")
        .current_dir(studio.path(""))
        .env("TERM", "xterm-256color")
        .stdin(Stdio::null())
        .output();
    let Ok(output) = run else { return };
    let screen = String::from_utf8_lossy(&output.stdout);
    if output.status.code() == Some(127) {
        return;
    }
    assert_eq!(output.status.code(), Some(0), "{screen}");
    assert!(screen.contains("of 2 photos"), "{screen}");
    assert!(screen.contains("2 new and measured"), "{screen}");
}
