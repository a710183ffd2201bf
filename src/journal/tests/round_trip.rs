//! Whatever a journal can hold comes out as it went in.

use super::baths::{bath, bath_name};
use super::notes::issued;
use super::*;
use crate::error::{Caution, is_unruly};
use crate::journal::record::{
    Card, ChartFile, Exposure, Heat, HeatKind, PlantUse, Setting, Soak, StrengthUnit, Told,
};
use crate::reading::{Basis, Correction, Doubt, Fall, Light, Part, State, Tone, WASHES};
use proptest::collection::{btree_map, vec};
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;

/// Whatever an import takes; what acts on the screen it refuses.
pub fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        any::<String>().prop_map(|text| text.replace(is_unruly, "")),
        Just(String::new()),
        Just("Robert\"); DROP TABLE pieces;--".to_owned())
    ]
}

fn number() -> impl Strategy<Value = f64> {
    use proptest::num::f64::{NEGATIVE, NORMAL, POSITIVE, SUBNORMAL, ZERO};
    (POSITIVE | NEGATIVE | NORMAL | SUBNORMAL | ZERO).prop_map(|number| number % 1e15)
}

pub fn amount() -> impl Strategy<Value = f64> {
    number().prop_map(f64::abs)
}

fn difference() -> impl Strategy<Value = f64> {
    amount().prop_map(|number| number % 100.0)
}

pub fn date() -> impl Strategy<Value = String> {
    (0..3000_u32, 1..=12_u8, 1..=28_u8).prop_map(|(y, m, d)| format!("{y:04}-{m:02}-{d:02}"))
}

fn heat() -> impl Strategy<Value = Heat> {
    let kind = of(select(vec![HeatKind::Simmer, HeatKind::Steam]));
    (kind, of(number()), of(number()), amount()).prop_map(|(kind, low_c, high_c, minutes)| Heat {
        kind,
        low_c,
        high_c,
        minutes: Some(minutes),
    })
}

fn soak() -> impl Strategy<Value = Soak> {
    let unit = of(select(vec![
        StrengthUnit::PercentOfFibre,
        StrengthUnit::GramsPerLitre,
    ]));
    let made = (text(), of(amount()), unit, of(date()), of(bath_name()));
    made.prop_map(|(mordant, strength, unit, on, bath)| Soak {
        mordant,
        strength,
        unit,
        on,
        bath,
    })
}

fn plant() -> impl Strategy<Value = PlantUse> {
    (text(), vec(text(), 0..3)).prop_map(|(name, how)| PlantUse { name, how })
}

fn round() -> impl Strategy<Value = Round> {
    let setting = prop_oneof![
        number().prop_map(Setting::Number),
        text().prop_map(Setting::Text)
    ];
    let place = (of(text()), of(text()), of(date()), of(any::<u32>()));
    let work = (
        vec(soak(), 0..3),
        vec(plant(), 0..3),
        of(heat()),
        btree_map(text(), setting, 0..3),
    );
    (place, work).prop_map(
        |((bundle, pot, made, layer), (soaks, plants, heat, settings))| Round {
            round: 0,
            bundle,
            pot,
            made,
            layer,
            soaks,
            plants,
            heat,
            settings,
        },
    )
}

fn any_piece() -> impl Strategy<Value = Piece> {
    let words = (of(text()), of(text()), of(text()), of(text()));
    let sizes = [
        of(amount()),
        of(amount()),
        of(amount()),
        of(amount()),
        of(amount()),
    ];
    (words, sizes, vec(round(), 0..3)).prop_map(
        |((fibre, weave, status, remarks), sizes, mut rounds)| {
            (1..)
                .zip(&mut rounds)
                .for_each(|(n, round)| round.round = n * 3);
            let [gsm, dry_g, width_cm, length_cm, price] = sizes;
            Piece {
                code: String::new(),
                fibre,
                weave,
                gsm,
                dry_g,
                width_cm,
                length_cm,
                status,
                price,
                remarks,
                rounds,
            }
        },
    )
}

fn light() -> impl Strategy<Value = Light> {
    let three = || [number(), number(), number()];
    let fall = [[number(), number()], [number(), number()]];
    let correction = (
        three(),
        number(),
        three(),
        [three(), three(), three()],
        fall,
    )
        .prop_map(
            |(flare, strength, gain, matrix, [middle, slope])| Correction {
                flare,
                tone: Tone {
                    strength,
                    shoulder: 0.0,
                },
                gain,
                matrix,
                roots: matrix,
                fall: Fall {
                    middle,
                    slope,
                    level: middle[0],
                    bend: slope[1],
                },
            },
        );
    let basis = select(vec![Basis::Chart, Basis::Tag, Basis::Assumed]);
    (basis, of(difference()), of(difference()), of(correction)).prop_map(
        |(basis, residual, doubt, correction)| Light {
            basis,
            residual,
            doubt: doubt.map(|common| Doubt {
                common,
                grey: common,
                chroma: 0.02,
            }),
            patches: Vec::new(),
            correction,
        },
    )
}

fn swatch() -> impl Strategy<Value = Swatch> {
    let colour = (0.0..=100.0, -120.0..=120.0, -120.0..=120.0, 0.01..1.0);
    let words = (
        of(difference()),
        of(text()),
        of(1..=3_u8),
        of(any::<[u8; 3]>()),
    );
    let part = (of(select(vec![Part::Ground, Part::Print])), of(text()));
    (colour, words, part).prop_map(
        |((l, a, b, share), (doubt, word, word_level, rgb), (part, plant))| Swatch {
            lab: Lab::new(l, a, b),
            share,
            doubt,
            word,
            word_level,
            srgb: rgb.map(|[r, g, b]| format!("#{r:02x}{g:02x}{b:02x}")),
            part,
            plant,
        },
    )
}

fn any_reading() -> impl Strategy<Value = Reading> {
    let caution = (text(), text()).prop_map(|(code, text)| Caution { code, text });
    let outline = of(vec([number(), number()], 0..5));
    (
        of(text()),
        of(light()),
        outline,
        vec(swatch(), 0..4),
        vec(caution, 0..3),
    )
        .prop_map(|(method, light, outline, mut swatches, cautions)| {
            let whole: f64 = swatches.iter().map(|swatch| swatch.share).sum();
            swatches.iter_mut().for_each(|swatch| swatch.share /= whole);
            Reading {
                method,
                light,
                outline,
                swatches,
                cautions,
            }
        })
}

fn any_photo() -> impl Strategy<Value = Photo> {
    let exposure = (
        of(text()),
        of(amount()),
        of(amount()),
        of(amount()),
        of(any::<bool>()),
    )
        .prop_map(|(camera, seconds, f_number, iso, flash)| Exposure {
            camera,
            seconds,
            f_number,
            iso,
            flash,
        });
    let offset = select(vec!["", "Z", "+02:00", "-09:30", ".25"]);
    let taken = of((date(), offset).prop_map(|(date, offset)| format!("{date}T18:30:05{offset}")));
    let head = (
        text(),
        any::<bool>(),
        taken,
        of(0..4_usize),
        of(select(State::ALL.to_vec())),
    );
    let rest = (
        of(0..=*WASHES.end()),
        of(any::<u32>()),
        of(any::<u32>()),
        exposure,
        told(),
    );
    let readings = (any_reading(), vec(any_reading(), 0..3));
    (head, rest, readings).prop_map(
        |(
            (file, hashed, taken, piece, state),
            (washes, width, height, exposure, told),
            (reading, earlier),
        )| Photo {
            id: None,
            hash: hashed.then(|| file.clone()),
            file: Some(file),
            taken,
            piece: piece.map(|n| format!("P{n}")),
            state,
            washes: washes.filter(|n| state.is_some_and(|state| state.takes_washes(*n))),
            width,
            height,
            print: washes.map(|n| format!("{n:016x}")),
            told,
            exposure,
            reading,
            earlier,
        },
    )
}

fn told() -> impl Strategy<Value = Told> {
    let corner = || [number(), number()];
    let four = [corner(), corner(), corner(), corner()];
    (of(four), of(vec(corner(), 3..5))).prop_map(|(corners, outline)| Told {
        chart: None,
        corners,
        outline,
    })
}

/// Charts, and a card for each.
fn references() -> impl Strategy<Value = (Vec<ChartFile>, Vec<Card>)> {
    (vec((text(), text()), 0..3), told()).prop_map(|(files, told)| {
        let mut charts: Vec<ChartFile> = files
            .into_iter()
            .enumerate()
            .map(|(n, (name, text))| ChartFile {
                hash: blake3::hash(format!("{n}{text}").as_bytes()).to_string(),
                name,
                text: format!("{n}{text}"),
            })
            .collect();
        charts.sort_by(|one, other| one.hash.cmp(&other.hash));
        let card = |(n, chart): (usize, &ChartFile)| Card {
            name: format!("card {n}"),
            chart: chart.hash.clone(),
            corners: told.corners,
        };
        let cards = charts.iter().enumerate().map(card).collect();
        (charts, cards)
    })
}

fn any_export() -> impl Strategy<Value = Export> {
    let studio = btree_map(text(), text(), 0..3);
    (
        studio,
        references(),
        (vec(bath(), 0..3), vec(any_piece(), 4..6), issued()),
        vec(any_photo(), 0..5),
    )
        .prop_map(
            |(studio, (charts, cards), (mut baths, mut pieces, notes), mut photos)| {
                for (n, bath) in baths.iter_mut().enumerate() {
                    bath.name = format!("{n}{}", bath.name);
                }
                for (n, piece) in pieces.iter_mut().enumerate() {
                    piece.code = format!("P{n}");
                }
                for (n, photo) in photos.iter_mut().enumerate() {
                    // Two photos of the same content would be one.
                    photo.file = photo.file.take().map(|name| format!("{n} {name}"));
                    photo.told.chart = charts.first().map(|chart| chart.hash.clone());
                    photo.hash = photo
                        .hash
                        .take()
                        .map(|_| blake3::hash(&[n as u8]).to_string());
                }
                Export {
                    schema: "filemot/1".to_owned(),
                    studio,
                    charts,
                    cards,
                    baths,
                    pieces,
                    photos,
                    notes,
                }
            },
        )
}

/// The export of a journal, without the numbers that photos have in it.
fn content(journal: &Journal) -> Export {
    let mut export = journal.export().unwrap();
    export.photos.iter_mut().for_each(|photo| photo.id = None);
    export
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn nothing_is_lost_on_the_way(export in any_export()) {
        let (_dir, mut journal) = empty();
        let done = journal.import(&export).unwrap();
        prop_assert_eq!((done.pieces_new, done.photos_new), (export.pieces.len(), export.photos.len()));
        prop_assert_eq!(&content(&journal), &export);
        super::asking::agrees(&journal, &State::ALL);

        let json = serde_json::to_string(&journal.export().unwrap()).unwrap();
        let read = Export::from_json(&json).unwrap();
        prop_assert_eq!(&read, &export);

        prop_assert_eq!(journal.import(&read).unwrap(), Imported::default());
        prop_assert_eq!(&content(&journal), &export);
    }

    #[test]
    fn photos_and_pieces_come_back_one_by_one(export in any_export()) {
        let (_dir, mut journal) = empty();
        journal.put_pieces(&export.pieces).unwrap();
        for chart in &export.charts {
            prop_assert_eq!(&journal.keep_chart(&chart.name, &chart.text).unwrap(), &chart.hash);
        }
        for photo in &export.photos {
            prop_assert!(journal.add_photo(photo, Original::None).unwrap());
            prop_assert!(!journal.add_photo(photo, Original::None).unwrap());
        }
        prop_assert_eq!(content(&journal).photos, export.photos);
        for piece in &export.pieces {
            prop_assert_eq!(&journal.piece(&piece.code).unwrap().unwrap(), piece);
        }
    }
}
