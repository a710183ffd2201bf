//! A journal made up from a seed: pots of four pieces, each photographed wet, dry, and washed once and twice.

use filemot::colour::{Lab, lab_to_hex};
use filemot::error::Caution;
use filemot::journal::Export;
use filemot::journal::record::{
    Heat, HeatKind, Photo, Piece, PlantUse, Round, Setting, Soak, StrengthUnit,
};
use filemot::reading::{Basis, Correction, Doubt, Fall, Light, Reading, State, Swatch, Tone};
use filemot::words::word;
use std::ops::Range;

const MORDANTS: [&[&str]; 6] = [
    &["alum"],
    &["iron"],
    &["tannin", "alum"],
    &["tannin", "iron"],
    &["alum", "iron"],
    &["titanium oxalate"],
];
const PLANTS: [&str; 8] = [
    "walnut",
    "oak",
    "maple",
    "sumac",
    "eucalyptus",
    "rose",
    "fern",
    "coreopsis",
];
const CLOTHS: [(&str, &str); 4] = [
    ("silk", "habotai"),
    ("silk", "crepe de chine"),
    ("wool", "twill"),
    ("cotton", "lawn"),
];

/// splitmix64: Steele, Lea & Flood 2014, doi 10.1145/2660193.2660195.
pub struct Random(u64);

impl Random {
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn below(&mut self, end: usize) -> usize {
        (self.next() % end as u64) as usize
    }

    fn of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len())]
    }
}

/// A colour that cloth may have.
pub fn colour(random: &mut Random) -> Lab {
    let (chroma, hue) = (random.between(2.0, 55.0), random.between(0.2, 2.0));
    let l = random.between(18.0, 90.0);
    Lab::new(l, chroma * hue.cos(), chroma * hue.sin())
}

/// The pieces with these numbers and their photos.
pub fn export(numbers: Range<usize>) -> Export {
    let (mut pieces, mut photos) = (Vec::new(), Vec::new());
    for number in numbers {
        let mut random = Random::new(number as u64 + 1);
        let piece = piece(number, &mut random);
        let states = [
            (State::Wet, None),
            (State::Dry, None),
            (State::Washed, Some(1)),
            (State::Washed, Some(2)),
        ];
        let palette: Vec<Lab> = (0..3 + number % 3).map(|_| colour(&mut random)).collect();
        photos.extend(states.map(|(state, washes)| {
            let lighter = if state == State::Wet { 0.0 } else { 9.0 };
            photo(&piece.code, state, washes, &palette, lighter, &mut random)
        }));
        pieces.push(piece);
    }
    Export {
        schema: "filemot/1".to_owned(),
        studio: Default::default(),
        charts: Vec::new(),
        cards: Vec::new(),
        baths: Vec::new(),
        pieces,
        photos,
        notes: Vec::new(),
    }
}

fn piece(number: usize, random: &mut Random) -> Piece {
    let pot = number / 4;
    let (fibre, weave) = random.of(&CLOTHS);
    // What is in one pot is heated on one day alike.
    let mut of_pot = Random::new(pot as u64 + 1_000_000_007);
    let made = format!(
        "{}-{:02}-{:02}",
        2016 + of_pot.below(10),
        1 + of_pot.below(12),
        1 + of_pot.below(28)
    );
    let low = 74.0 + of_pot.below(10) as f64;
    let soaks = random.of(&MORDANTS).iter().map(|mordant| Soak {
        mordant: (*mordant).to_owned(),
        strength: Some(10.0),
        unit: Some(StrengthUnit::PercentOfFibre),
        on: Some(made.clone()),
        bath: None,
    });
    let first = random.below(PLANTS.len());
    let plants = (0..1 + random.below(2)).map(|next| PlantUse {
        name: PLANTS[(first + next) % PLANTS.len()].to_owned(),
        how: vec!["fresh".to_owned(), "vein side down".to_owned()],
    });
    let settings = [
        ("cool_h", Setting::Number(random.below(24) as f64)),
        ("blanket", Setting::Text("wool iron 2%".to_owned())),
    ];
    Piece {
        code: format!("P{number:06}"),
        fibre: Some(fibre.to_owned()),
        weave: Some(weave.to_owned()),
        gsm: Some(34.7),
        dry_g: Some(88.5),
        width_cm: Some(55.0),
        length_cm: Some(180.0),
        status: Some("for sale".to_owned()),
        price: Some(120.0),
        remarks: None,
        rounds: vec![Round {
            round: 1,
            bundle: Some(format!("B{}", number / 2)),
            pot: Some(format!("T{pot}")),
            soaks: soaks.collect(),
            plants: plants.collect(),
            made: Some(made),
            layer: Some(1 + number as u32 % 2),
            heat: Some(Heat {
                kind: Some(HeatKind::Simmer),
                low_c: Some(low),
                high_c: Some(low + 6.0),
                minutes: Some(60.0 + 15.0 * of_pot.below(5) as f64),
            }),
            settings: settings
                .map(|(name, value)| (name.to_owned(), value))
                .into(),
        }],
    }
}

fn photo(
    code: &str,
    state: State,
    washes: Option<u32>,
    palette: &[Lab],
    lighter: f64,
    random: &mut Random,
) -> Photo {
    let file = format!("{code}-{}-{}.jpg", state.word(), washes.unwrap_or(0));
    let parts: Vec<f64> = palette.iter().map(|_| random.between(0.2, 1.0)).collect();
    let whole: f64 = parts.iter().sum();
    let shares = parts.iter().map(|part| part / whole);
    let swatches = palette
        .iter()
        .zip(shares)
        .map(|(lab, share)| swatch(*lab, lighter, share, random))
        .collect();
    let corner = |random: &mut Random| [0; 2].map(|_| random.between(0.0, 3000.0).round());
    let outline = (0..24).map(|_| corner(random)).collect();
    let cautions = (random.below(3) == 0).then(|| {
        Caution::new(
            "paper-assumed",
            "The tag's paper was taken as white; measure it for closer colours.",
        )
    });
    Photo {
        hash: Some(blake3::hash(file.as_bytes()).to_string()),
        file: Some(file),
        taken: Some("2026-05-01T18:30:00".to_owned()),
        piece: Some(code.to_owned()),
        state: Some(state),
        washes,
        width: Some(4000),
        height: Some(3000),
        reading: Reading {
            method: Some("2".to_owned()),
            light: Some(light(random)),
            outline: Some(outline),
            swatches,
            cautions: cautions.into_iter().collect(),
        },
        ..Photo::default()
    }
}

fn swatch(lab: Lab, lighter: f64, share: f64, random: &mut Random) -> Swatch {
    let lab = Lab::new(lab.l + lighter + random.between(-2.0, 2.0), lab.a, lab.b);
    let word = word(lab, 0.0);
    Swatch {
        lab,
        share,
        doubt: Some(random.between(0.8, 2.5)),
        word: Some(word.text),
        word_level: Some(word.level),
        srgb: Some(lab_to_hex(lab)),
        part: None,
        plant: None,
    }
}

fn light(random: &mut Random) -> Light {
    let mut three = || [0; 3].map(|_| random.between(0.0, 1.0));
    let correction = Correction {
        tone: Tone::default(),
        flare: three(),
        gain: three(),
        matrix: [three(), three(), three()],
        roots: Default::default(),
        fall: Fall::default(),
    };
    Light {
        basis: Basis::Tag,
        residual: Some(1.2),
        doubt: Some(Doubt::even(1.1)),
        patches: Vec::new(),
        correction: Some(correction),
    }
}
