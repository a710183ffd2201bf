use super::side::{Match, Side};
use crate::error::Caution;
use crate::reading::{Basis, Reading, State};
use crate::stats;
use serde::Serialize;
use std::collections::BTreeMap;

/// What a photo shows, as far as drying needs it.
#[derive(Clone, Copy, Debug)]
pub struct Shown<'a> {
    /// Code of the piece.
    pub piece: &'a str,
    /// The photo's file, where it has one.
    pub file: Option<&'a str>,
    /// What it shows the piece as.
    pub state: State,
    /// Through how many rounds the piece had gone; only photos of one round are compared.
    pub round: usize,
    /// The pot (or bundle) of that round; pieces of one trial are not independent.
    pub trial: Option<&'a str>,
    /// What was measured.
    pub reading: &'a Reading,
}

/// How much lighter one piece dried.
#[derive(Clone, Debug, Serialize)]
pub struct Drying {
    /// Code of the piece.
    pub piece: String,
    /// File of the wet photo; several are joined by `, `.
    pub wet: Option<String>,
    /// File of the dry photo; several are joined by `, `.
    pub dry: Option<String>,
    /// Area-weighted L\* dry less wet; above 0 it dried lighter. `None` without both.
    pub lightening: Option<f64>,
    /// Lower end of its 95 % interval, from the readings' doubt; `None` where a doubt is not known.
    pub low: Option<f64>,
    /// Upper end of its 95 % interval.
    pub high: Option<f64>,
    /// Which wet colour became which dry one, largest share first.
    pub matched: Vec<Match>,
    /// What the reader must know.
    pub cautions: Vec<Caution>,
    /// The pot (or bundle) it was in.
    #[serde(skip)]
    pub trial: Option<String>,
}

/// How much lighter pieces dry as a rule.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Lightening {
    /// How many pieces were seen both wet and dry.
    pub pieces: usize,
    /// Mean over pots of each pot's mean, L\*.
    pub mean: Option<f64>,
    /// Lower end of its 95 % interval, Student's t over pots; `None` with fewer than two.
    pub low: Option<f64>,
    /// Upper end of its 95 % interval.
    pub high: Option<f64>,
}

/// The pieces by code, and all together.
#[derive(Clone, Debug, Serialize)]
pub struct DryingReport {
    /// Every piece seen wet or dry, by code.
    pub pieces: Vec<Drying>,
    /// All together.
    pub all: Lightening,
}

/// How much lighter each piece dried, and all of them.
///
/// Of each piece the last round that was seen both wet and dry counts. Several wet (or dry) photos count with their mean.
/// Photos without colours are passed over; those whose light is `assumed` count and leave a caution. The interval of a piece
/// takes a photo's doubt as one error common to its colours (they share the light), alike in all directions of colour, the
/// same in every photo of a state and independent between wet and dry. That is wide rather than narrow: what both share
/// cancels in truth.
pub fn drying(photos: &[Shown]) -> DryingReport {
    let mut by_piece: BTreeMap<&str, Vec<Shown>> = BTreeMap::new();
    let useful = |shown: &&Shown| {
        matches!(shown.state, State::Wet | State::Dry) && shown.reading.mean_lightness().is_some()
    };
    for shown in photos.iter().filter(useful) {
        by_piece.entry(shown.piece).or_default().push(*shown);
    }
    let pieces: Vec<Drying> = by_piece
        .into_values()
        .map(|shown| of_piece(&shown))
        .collect();
    let all = together(&pieces);
    DryingReport { pieces, all }
}

fn together(pieces: &[Drying]) -> Lightening {
    let mut by_trial: BTreeMap<(bool, &str), Vec<f64>> = BTreeMap::new();
    let mut count = 0;
    for piece in pieces {
        let Some(lightening) = piece.lightening else {
            continue;
        };
        let trial = piece.trial.as_deref();
        // A piece of no known pot is a trial of its own, and no pot's name may fall together with a piece's.
        let key = (trial.is_some(), trial.unwrap_or(&piece.piece));
        by_trial.entry(key).or_default().push(lightening);
        count += 1;
    }
    let means: Vec<f64> = by_trial.values().filter_map(|v| stats::mean(v)).collect();
    let estimate = stats::estimate(&means);
    Lightening {
        pieces: count,
        mean: estimate.map(|e| e.mean),
        low: estimate.and_then(|e| e.interval).map(|i| i.0),
        high: estimate.and_then(|e| e.interval).map(|i| i.1),
    }
}

/// `shown`: wet and dry photos of one piece, at least one, all with colours.
fn of_piece(shown: &[Shown]) -> Drying {
    let round = round_seen_both(shown);
    let counts = |s: &&Shown| round.is_none_or(|r| s.round == r);
    let of = |state| -> Vec<&Shown> {
        let in_state = |s: &&Shown| s.state == state;
        shown.iter().filter(counts).filter(in_state).collect()
    };
    let (wet, dry) = (of(State::Wet), of(State::Dry));
    let side = |photos: &[&Shown]| Side::of(&photos.iter().map(|s| s.reading).collect::<Vec<_>>());
    let (wet_side, dry_side) = (side(&wet), side(&dry));
    let sides = wet_side.as_ref().zip(dry_side.as_ref());
    let lightening = sides.map(|(wet, dry)| dry.lightness - wet.lightness);
    let reach = sides.and_then(|(wet, dry)| Some(1.96 * wet.doubt?.hypot(dry.doubt?)));
    let mut cautions = cautions_of(wet.iter().chain(&dry).copied());
    cautions.extend(own_caution(wet_side.is_some(), lightening));
    let trial = shown.iter().find(counts).and_then(|s| s.trial);
    Drying {
        piece: shown[0].piece.to_owned(),
        wet: files(&wet),
        dry: files(&dry),
        lightening,
        low: lightening.zip(reach).map(|(l, r)| l - r),
        high: lightening.zip(reach).map(|(l, r)| l + r),
        matched: sides.map_or_else(Vec::new, |(wet, dry)| wet.matched(dry)),
        cautions,
        trial: trial.map(str::to_owned),
    }
}

fn own_caution(has_wet: bool, lightening: Option<f64>) -> Option<Caution> {
    let (code, text) = match lightening {
        Some(l) if l < 0.0 => (
            "dried-darker",
            "By these photos the piece dried darker, which is unusual: look whether the wet and the dry photo are mixed up, or whether one of them was badly lit.",
        ),
        Some(_) => return None,
        None if has_wet => (
            "no-dry-photo",
            "There is no dry photo of this piece yet, unwashed and of the same round as the wet one: take one when it has dried.",
        ),
        None => (
            "no-wet-photo",
            "There is no wet photo of this piece to compare with: photograph the next ones wet as well, drained and with the leaves off.",
        ),
    };
    Some(Caution::new(code, text))
}

fn round_seen_both(shown: &[Shown]) -> Option<usize> {
    let has = |round, state| shown.iter().any(|s| s.round == round && s.state == state);
    shown
        .iter()
        .map(|s| s.round)
        .filter(|&r| has(r, State::Wet) && has(r, State::Dry))
        .max()
}

fn files(photos: &[&Shown]) -> Option<String> {
    let names: Vec<&str> = photos.iter().filter_map(|p| p.file).collect();
    (!names.is_empty()).then(|| names.join(", "))
}

fn cautions_of<'a>(photos: impl Iterator<Item = &'a Shown<'a>>) -> Vec<Caution> {
    let mut cautions: Vec<Caution> = Vec::new();
    for photo in photos {
        let assumed = photo.reading.basis() == Some(Basis::Assumed);
        let own = (assumed && !photo.reading.has_caution("light-assumed")).then(|| {
            Caution::new("light-assumed", "The light of a photo was only assumed, so its lightness may be well off: hang the tag in the picture next time.")
        });
        for caution in photo.reading.cautions.iter().cloned().chain(own) {
            if cautions.iter().all(|c| c.code != caution.code) {
                cautions.push(caution);
            }
        }
    }
    cautions
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::Lab;
    use crate::reading::{Light, Swatch};

    fn reading(colours: &[([f64; 3], f64)], doubt: Option<f64>) -> Reading {
        let swatch = |&([l, a, b], share): &([f64; 3], f64)| Swatch {
            lab: Lab::new(l, a, b),
            share,
            doubt,
            word: None,
            word_level: None,
            srgb: None,
            part: None,
            plant: None,
        };
        Reading {
            swatches: colours.iter().map(swatch).collect(),
            ..Reading::default()
        }
    }

    fn shown<'a>(piece: &'a str, state: State, reading: &'a Reading) -> Shown<'a> {
        Shown {
            piece,
            file: Some(state.word()),
            state,
            round: 1,
            trial: None,
            reading,
        }
    }

    #[track_caller]
    fn check(found: Option<f64>, wanted: f64) {
        let found = found.unwrap();
        assert!((found - wanted).abs() < 1e-9, "{found} is not {wanted}");
    }

    /// Costs by colour-science 0.4.7 `delta_E(method="CIE 2000")`, flows by scipy 1.17.1 `optimize.linprog(method="highs")`:
    /// least cost 14.504759603122046.
    #[test]
    fn colours_matched_as_by_linear_programming() {
        let wet = reading(
            &[
                ([42.0, 18.0, 30.0], 0.45),
                ([30.0, 8.0, 12.0], 0.25),
                ([55.0, 2.0, 20.0], 0.2),
                ([25.0, -4.0, 6.0], 0.1),
            ],
            None,
        );
        let dry = reading(
            &[
                ([54.0, 17.0, 33.0], 0.5),
                ([41.0, 9.0, 14.0], 0.2),
                ([66.0, 1.0, 22.0], 0.3),
            ],
            None,
        );
        let photos = [shown("P", State::Wet, &wet), shown("P", State::Dry, &dry)];
        let found = drying(&photos).pieces.remove(0);
        let flows: Vec<(f64, f64, f64)> = found
            .matched
            .iter()
            .map(|m| (m.wet.l, m.dry.l, (m.share * 1e6).round() / 1e6))
            .collect();
        let wanted = [
            (42.0, 54.0, 0.45),
            (30.0, 41.0, 0.2),
            (55.0, 66.0, 0.2),
            (25.0, 66.0, 0.1),
            (30.0, 54.0, 0.05),
        ];
        assert_eq!(flows.len(), wanted.len());
        assert!(wanted.iter().all(|flow| flows.contains(flow)), "{flows:?}");
        let cost: f64 = found.matched.iter().map(|m| m.share * m.de00).sum();
        assert!((cost - 14.504759603122046).abs() < 1e-6, "{cost}");
        // 0.5 * 54 + 0.2 * 41 + 0.3 * 66 less 0.45 * 42 + 0.25 * 30 + 0.2 * 55 + 0.1 * 25.
        check(found.lightening, 55.0 - 39.9);
    }

    /// At L\* 50 one CIEDE2000 is one L\*: 1.96 sqrt(3² + 4²) / 1.8778 = 5.2189, since a doubt is the radius of a ball and
    /// lightness one of its three directions.
    #[test]
    fn the_interval_comes_from_both_doubts() {
        let wet = reading(&[([50.0, 0.0, 0.0], 1.0)], Some(3.0));
        let dry = reading(&[([50.0, 5.0, 0.0], 1.0)], Some(4.0));
        let found = drying(&[shown("P", State::Wet, &wet), shown("P", State::Dry, &dry)]);
        check(found.pieces[0].low, -5.218_873_15);
        check(found.pieces[0].high, 5.218_873_15);
    }

    /// Pots have means 8 and 12: mean 10, half width 12.706 204 736 · 2 (scipy 1.17.1 `stats.t.ppf(0.975, 1)`).
    #[test]
    fn pots_and_not_pieces_are_independent() {
        let wet = reading(&[([40.0, 0.0, 0.0], 1.0)], None);
        let dry = [47.0, 49.0, 52.0].map(|l| reading(&[([l, 0.0, 0.0], 1.0)], None));
        let mut photos = Vec::new();
        for (dry, (piece, pot)) in dry.iter().zip([("A", "1"), ("B", "1"), ("C", "2")]) {
            for (state, reading) in [(State::Wet, &wet), (State::Dry, dry)] {
                photos.push(Shown {
                    trial: Some(pot),
                    ..shown(piece, state, reading)
                });
            }
        }
        let all = drying(&photos).all;
        assert_eq!(all.pieces, 3);
        check(all.mean, 10.0);
        check(all.low, 10.0 - 2.0 * 12.706204736174694);
    }

    #[test]
    fn only_one_round_is_compared() {
        let first = reading(&[([30.0, 0.0, 0.0], 1.0)], None);
        let second = reading(&[([60.0, 0.0, 0.0], 1.0)], None);
        let third = reading(&[([70.0, 0.0, 0.0], 1.0)], None);
        let again = |state, reading| Shown {
            round: 2,
            ..shown("P", state, reading)
        };
        let photos = [
            shown("P", State::Dry, &first),
            again(State::Wet, &second),
            again(State::Dry, &third),
        ];
        check(drying(&photos).pieces[0].lightening, 10.0);
    }

    #[test]
    fn several_photos_count_with_their_mean() {
        let wet = reading(&[([40.0, 0.0, 0.0], 1.0)], None);
        let (one, other) = (
            reading(&[([48.0, 0.0, 0.0], 1.0)], None),
            reading(&[([54.0, 0.0, 0.0], 0.5), ([50.0, 0.0, 0.0], 0.5)], None),
        );
        let photos = [
            shown("P", State::Wet, &wet),
            shown("P", State::Dry, &one),
            shown("P", State::Dry, &other),
        ];
        let found = &drying(&photos).pieces[0];
        check(found.lightening, 10.0);
        check(Some(found.matched.iter().map(|m| m.share).sum()), 1.0);
    }

    #[test]
    fn what_is_missing_or_odd_is_said() {
        let dark = reading(&[([30.0, 0.0, 0.0], 1.0)], None);
        let mut light = reading(&[([60.0, 0.0, 0.0], 1.0)], None);
        light.light = Some(Light {
            basis: Basis::Assumed,
            residual: None,
            correction: None,
        });
        let photos = [
            shown("A", State::Wet, &dark),
            shown("B", State::Dry, &light),
            shown("C", State::Wet, &light),
            shown("C", State::Dry, &dark),
            shown("D", State::Washed, &dark),
        ];
        let report = drying(&photos);
        let codes: Vec<Vec<&str>> = report
            .pieces
            .iter()
            .map(|p| p.cautions.iter().map(|c| c.code.as_str()).collect())
            .collect();
        assert_eq!(
            codes,
            [
                vec!["no-dry-photo"],
                vec!["light-assumed", "no-wet-photo"],
                vec!["light-assumed", "dried-darker"],
            ]
        );
        assert_eq!(report.all.pieces, 1);
        assert_eq!(report.pieces[0].lightening, None);
    }

    /// The field names other programs rely on.
    #[test]
    fn json_names() {
        let wet = reading(&[([40.0, 0.0, 0.0], 1.0)], Some(1.0));
        let dry = reading(&[([50.0, 0.0, 0.0], 1.0)], Some(1.0));
        let report = drying(&[shown("P", State::Wet, &wet), shown("P", State::Dry, &dry)]);
        let json = serde_json::to_value(&report).unwrap();
        let names = |value: &serde_json::Value| -> Vec<String> {
            value.as_object().unwrap().keys().cloned().collect()
        };
        assert_eq!(names(&json), ["all", "pieces"]);
        assert_eq!(names(&json["all"]), ["high", "low", "mean", "pieces"]);
        let piece = &json["pieces"][0];
        assert_eq!(
            names(piece),
            [
                "cautions",
                "dry",
                "high",
                "lightening",
                "low",
                "matched",
                "piece",
                "wet"
            ]
        );
        assert_eq!(names(&piece["matched"][0]), ["de00", "dry", "share", "wet"]);
        assert_eq!(
            piece["matched"][0]["wet"],
            serde_json::json!([40.0, 0.0, 0.0])
        );
    }
}
