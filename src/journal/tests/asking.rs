//! What questions look at is what stands in the journal, whoever wrote it.

use super::*;
use crate::journal::connection::database;
use crate::journal::{gist, record};
use crate::reading::State;
use rusqlite::Connection;
use std::sync::atomic::{AtomicBool, Ordering};

/// That the gist holds what whole pieces and photos hold, in the order of pieces and of photos' coming.
#[track_caller]
pub(super) fn agrees(journal: &Journal, states: &[State]) {
    let (pieces, photos) = (journal.pieces().unwrap(), journal.photos().unwrap());
    let gist = journal.gist(states).unwrap();
    assert_eq!(gist.pieces.iter().map(whole).collect::<Vec<_>>(), pieces);
    for (place, piece) in pieces.iter().enumerate() {
        let asked: Vec<&Photo> = photos
            .iter()
            .filter(|photo| photo.piece.as_ref() == Some(&piece.code))
            .filter(|photo| photo.state.is_some_and(|state| states.contains(&state)))
            .filter(|photo| photo.reading.mean_lightness().is_some())
            .collect();
        let seen = gist.photos_of(place);
        assert_eq!(seen.len(), asked.len(), "{}", piece.code);
        for (glance, photo) in seen.iter().zip(asked) {
            assert_eq!(glance.piece, place);
            same(&gist, glance, piece, photo);
        }
    }
    let counted = (0..pieces.len()).map(|place| gist.photos_of(place).len());
    assert_eq!(counted.sum::<usize>(), gist.photos.len());
}

#[track_caller]
fn same(gist: &Gist, glance: &gist::Glance, piece: &Piece, photo: &Photo) {
    assert_eq!(Some(glance.id), photo.id);
    assert_eq!(Some(glance.state), photo.state);
    assert_eq!(glance.washes, photo.washes);
    assert_eq!(glance.basis, photo.reading.basis());
    let day = photo.taken.as_deref().map(|taken| &taken[..10]);
    assert_eq!(glance.taken.as_deref(), day);
    let shown = piece.rounds_shown(photo.taken.as_deref()).len();
    assert_eq!(glance.rounds, shown);
    let colours: Vec<Swatch> = gist.colours(glance).iter().map(swatch).collect();
    let bare = |swatch: &Swatch| Swatch {
        word: None,
        word_level: None,
        srgb: None,
        ..swatch.clone()
    };
    let read: Vec<Swatch> = photo.reading.swatches.iter().map(bare).collect();
    assert_eq!(colours, read);
    let codes: Vec<&str> = glance.cautions.iter().map(|code| &**code).collect();
    let given = &photo.reading.cautions;
    assert_eq!(
        codes,
        given.iter().map(|c| c.code.as_str()).collect::<Vec<_>>()
    );
    for code in codes {
        assert!(gist.sentences.contains_key(code), "{code}");
    }
}

fn swatch(colour: &gist::Colour) -> Swatch {
    Swatch {
        lab: colour.lab,
        share: colour.share,
        doubt: colour.doubt,
        word: None,
        word_level: None,
        srgb: None,
        part: colour.part,
        plant: colour.plant.as_deref().map(str::to_owned),
    }
}

/// The lean piece in place of a whole one, but for what it leaves out.
fn whole(lean: &gist::Piece) -> LeanAsWhole {
    let owned = |word: &Option<std::sync::Arc<str>>| word.as_deref().map(str::to_owned);
    let rounds = lean.rounds.iter().map(|round| Round {
        round: round.round,
        bundle: owned(&round.bundle),
        pot: owned(&round.pot),
        made: owned(&round.made),
        layer: round.layer,
        soaks: round
            .soaks
            .iter()
            .map(|soak| record::Soak {
                mordant: soak.mordant.to_string(),
                strength: soak.strength,
                unit: soak.unit,
                on: owned(&soak.on),
                bath: owned(&soak.bath),
            })
            .collect(),
        plants: round
            .plants
            .iter()
            .map(|plant| record::PlantUse {
                name: plant.name.to_string(),
                how: plant.how.iter().map(ToString::to_string).collect(),
            })
            .collect(),
        heat: round.heat.clone(),
        settings: round
            .settings
            .iter()
            .map(|(name, setting)| (name.to_string(), value(setting)))
            .collect(),
    });
    LeanAsWhole(Piece {
        code: lean.code.to_string(),
        fibre: owned(&lean.fibre),
        weave: owned(&lean.weave),
        gsm: lean.gsm,
        status: owned(&lean.status),
        rounds: rounds.collect(),
        ..Piece::default()
    })
}

fn value(setting: &gist::Setting) -> record::Setting {
    match setting {
        gist::Setting::Number(number) => record::Setting::Number(*number),
        gist::Setting::Text(text) => record::Setting::Text(text.to_string()),
    }
}

/// Equal to a whole piece that differs only in what a lean one leaves out.
#[derive(Debug)]
struct LeanAsWhole(Piece);

impl PartialEq<Piece> for LeanAsWhole {
    fn eq(&self, whole: &Piece) -> bool {
        let left_out = Piece {
            dry_g: whole.dry_g,
            width_cm: whole.width_cm,
            length_cm: whole.length_cm,
            price: whole.price,
            remarks: whole.remarks.clone(),
            ..self.0.clone()
        };
        left_out == *whole
    }
}

/// Two pieces, of which one has photos in three states, one of them read twice.
fn season() -> (TempDir, Journal) {
    let (dir, mut journal) = empty();
    journal
        .put_pieces(&[piece("LB007"), piece("LB002")])
        .unwrap();
    for (n, state) in [State::Wet, State::Dry, State::Washed]
        .into_iter()
        .enumerate()
    {
        let photo = Photo {
            state: Some(state),
            ..photo(&format!("{n}.jpg"), &[n as u8], Some("LB007"))
        };
        journal.add_photo(&photo, Original::None).unwrap();
    }
    let dry = journal.photos().unwrap()[1].id.unwrap();
    journal.add_reading(dry, &reading("2")).unwrap();
    (dir, journal)
}

#[test]
fn only_the_states_asked_for_are_read() {
    let (_dir, journal) = season();
    let states = |asked: &[State]| -> Vec<State> {
        let gist = journal.gist(asked).unwrap();
        gist.photos.iter().map(|photo| photo.state).collect()
    };
    assert_eq!(states(&[State::Dry]), [State::Dry]);
    assert_eq!(
        states(&[State::Washed, State::Wet]),
        [State::Wet, State::Washed]
    );
    assert_eq!(states(&[]), []);
    agrees(&journal, &State::ALL);
}

#[test]
fn every_change_is_seen() {
    let (_dir, mut journal) = season();
    let id = journal.photos().unwrap()[0].id.unwrap();
    journal.claim(id, "LB002", Some(State::Dry), None).unwrap();
    agrees(&journal, &State::ALL);
    assert_eq!(journal.gist(&[State::Wet]).unwrap().photos, []);
    let empty_handed = Reading {
        swatches: Vec::new(),
        ..reading("3")
    };
    journal.add_reading(id, &empty_handed).unwrap();
    agrees(&journal, &State::ALL);
    assert_eq!(journal.gist(&[State::Dry]).unwrap().photos.len(), 1);
}

/// Docs invite other tools to the tables; what they change there must not leave answers behind.
#[test]
fn what_another_program_changes_is_seen() {
    let (dir, journal) = season();
    let other = Connection::open(database(dir.path())).unwrap();
    other.pragma_update(None, "foreign_keys", true).unwrap();
    for sql in [
        "UPDATE swatches SET l = 12.5, part = 'print', plant = 'oak'",
        "UPDATE photos SET state = 'worn', washes = 2, taken = '2026-05-01T18:30:00' WHERE state = 'washed'",
        "INSERT INTO cautions SELECT id, 7, 'glare', 'Glare.' FROM readings",
        "UPDATE cautions SET code = 'shade'",
        "DELETE FROM cautions",
        "INSERT INTO swatches (reading, place, l, a, b, share) SELECT id, 9, 50, 1, -1, 0.25 FROM readings",
        "DELETE FROM swatches WHERE place = 9",
        "UPDATE readings SET basis = 'chart'",
        "DELETE FROM readings WHERE turn = 2",
        "UPDATE pieces SET code = 'LB008' WHERE code = 'LB007'",
        "INSERT INTO readings (photo, turn) SELECT id, 9 FROM photos WHERE state = 'dry'",
        "DELETE FROM photos WHERE state = 'worn'",
        "INSERT INTO photos (piece, state) VALUES ('LB002', 'dry')",
    ] {
        assert!(other.execute(sql, []).unwrap() > 0, "{sql}");
        agrees(&journal, &State::ALL);
    }
}

/// Each commit of the writer brings a piece and its photo; a reader whose halves were of two moments would see one without the
/// other.
#[test]
fn pieces_and_photos_are_of_one_moment() {
    let (dir, mut journal) = empty();
    let done = AtomicBool::new(false);
    std::thread::scope(|scope| {
        scope.spawn(|| {
            let reader = Journal::open(dir.path()).unwrap();
            while !done.load(Ordering::Relaxed) {
                let gist = reader.gist(&[State::Dry]).unwrap();
                assert_eq!(gist.pieces.len(), gist.photos.len());
            }
        });
        for n in 0..200_u8 {
            let photo = Photo {
                state: Some(State::Dry),
                ..photo("a.jpg", &[n], Some(&format!("P{n:03}")))
            };
            journal.add_photo(&photo, Original::None).unwrap();
        }
        done.store(true, Ordering::Relaxed);
    });
    assert_eq!(journal.gist(&[State::Dry]).unwrap().photos.len(), 200);
}
