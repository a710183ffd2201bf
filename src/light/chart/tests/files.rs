use super::super::Chart;
use crate::colour::{Lab, de00};
use crate::error::Kind;
use palette::IntoColor;
use proptest::prelude::*;
use std::path::{Path, PathBuf};

fn files(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("testdata")
        .join(folder);
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder)
        .unwrap()
        .map(|e| e.unwrap().path())
        .collect();
    files.sort();
    files
}

fn name(path: &Path) -> String {
    path.file_name().unwrap().to_string_lossy().into_owned()
}

/// Every file describes the same 24 colours; `spectra.txt` says them in CIELAB, too, as colour-science 0.4.7 computes them from
/// the spectra of ISO 17321-1 under D65, and the other files' values were computed from that with its Bradford adaptation.
#[test]
fn good_files_all_say_the_same_colours() {
    let spectra = include_str!("../../../../testdata/good/charts/spectra.txt");
    let expected: Vec<Lab> = spectra
        .lines()
        .filter_map(|line| {
            let mut last = line.split('\t').rev().map_while(|cell| cell.parse().ok());
            let (b, a, l) = (last.next()?, last.next()?, last.next()?);
            Some(Lab::new(l, a, b))
        })
        .collect();
    assert_eq!(expected.len(), 24);
    let files = files("good/charts");
    assert!(files.len() >= 5);
    for path in files {
        let name = name(&path);
        let chart = Chart::parse(&std::fs::read_to_string(&path).unwrap(), &name).unwrap();
        assert_eq!(
            (chart.rows, chart.columns, chart.patches.len()),
            (4, 6, 24),
            "{name}"
        );
        assert!(chart.cautions.is_empty(), "{name}");
        for (patch, wanted) in chart.patches.iter().zip(&expected) {
            let found: Lab = patch.xyz.into_color();
            let off = de00(found, *wanted);
            assert!(
                off < 0.02,
                "{name}, {}: {found:?} is {off} from {wanted:?}",
                patch.id
            );
        }
    }
}

#[test]
fn bradford_leads_from_d50_as_another_library_has_it() {
    // colour-science 0.4.7: Lab_to_XYZ under the E308 white of D50, then its Von Kries adaptation with Bradford to that of D65.
    let colours = [
        ("38.42 13.68 14.41", [0.113655, 0.102026, 0.068051]),
        ("30.43 20.97 -20.10", [0.084738, 0.06458, 0.137519]),
        ("82.27 4.00 79.96", [0.566863, 0.598517, 0.093215]),
        ("50.74 -28.08 -27.95", [0.143618, 0.194867, 0.399066]),
        ("96.53 -0.45 2.38", [0.863631, 0.91241, 0.957561]),
        ("0 0 0", [0.0; 3]),
    ];
    let rows = colours
        .iter()
        .enumerate()
        .map(|(n, (lab, _))| format!("A{} {lab}\n", n + 1));
    let rows: String = rows.collect();
    let text = format!(
        "CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nBEGIN_DATA\n{rows}END_DATA\n"
    );
    let chart = Chart::parse(&text, "five.txt").unwrap();
    for (patch, (_, wanted)) in chart.patches.iter().zip(colours) {
        let found = [patch.xyz.x, patch.xyz.y, patch.xyz.z];
        for (found, wanted) in found.into_iter().zip(wanted) {
            assert!(
                (found - wanted).abs() < 3e-6,
                "{}: {found} {wanted}",
                patch.id
            );
        }
    }
    let ten = format!(
        "CGATS.17\nWEIGHTING_FUNCTION \"OBSERVER, 10 degree\"\n{}",
        &text[9..]
    );
    assert_eq!(
        Chart::parse(&ten, "ten.txt").unwrap().cautions[0].code,
        "chart-observer"
    );
}

#[test]
fn bad_files_are_refused_with_a_sentence() {
    const WORDS: [(&str, &str); 11] = [
        ("empty", "not a chart's file"),
        ("nochart", "not a chart's file"),
        ("short", "Line 10 of short.txt has 3 values"),
        ("letters", "Line 10 of letters.txt has “5O”"),
        ("twice", "Line 10 of twice.txt gives A4 a second time"),
        ("few", "fewer than 6"),
        ("noplaces", "no patches that can be used"),
        ("nocolours", "no patches that can be used"),
        ("noformat", "BEGIN_DATA_FORMAT"),
        ("lamp", "“F11”"),
        (
            "unreal",
            "Line 10 of unreal.txt gives a colour that no patch has",
        ),
    ];
    let files = files("bad/charts");
    assert_eq!(files.len(), WORDS.len());
    for path in files {
        let name = name(&path);
        let (_, words) = WORDS.iter().find(|(w, _)| name.starts_with(w)).unwrap();
        let refused = Chart::parse(&std::fs::read_to_string(&path).unwrap(), &name).unwrap_err();
        assert_eq!(refused.kind(), Kind::File, "{name}");
        let sentence = refused.to_string();
        assert!(
            sentence.contains(words) && sentence.contains(&name),
            "{sentence}"
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_mangled_file_does_no_harm(
        which in any::<prop::sample::Index>(),
        changes in prop::collection::vec((any::<prop::sample::Index>(), "[ -~\t\r\né\"#,.0-9A-D-]{0,3}"), 1..12),
    ) {
        let files = files("good/charts");
        let mut text = std::fs::read_to_string(which.get(&files)).unwrap();
        for (at, change) in changes {
            let mut from = at.index(text.len().max(1));
            while !text.is_char_boundary(from) {
                from -= 1;
            }
            let to = text[from..].char_indices().nth(change.chars().count()).map_or(text.len(), |(n, _)| from + n);
            text.replace_range(from..to, &change);
        }
        if let Ok(chart) = Chart::parse(&text, "mangled") {
            prop_assert!(chart.patches.len() >= 6 && chart.rows * chart.columns >= chart.patches.len());
            prop_assert!(chart.patches.iter().all(|p| p.xyz.y.is_finite() && p.row < chart.rows && p.column < chart.columns));
        }
    }

    #[test]
    fn any_text_is_read_or_refused(text in "(CGATS.17|BEGIN_DATA|BEGIN_DATA_FORMAT|END_DATA|END_DATA_FORMAT|SAMPLE_ID|LAB_L|A1|AA9|[ \n\r\t\"#]|[0-9,.e-]|\\PC){0,60}") {
        let _ = Chart::parse(&text, "any");
    }
}
