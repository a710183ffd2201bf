//! What the studio must know about the settings it enters.

use crate::care;
use crate::error::Caution;
use crate::journal::record::{Bath, BathWork, Heat, HeatKind, Piece, Round, Soak, named};
use std::collections::{BTreeMap, BTreeSet};

/// Plant fibres, which a boil does not harm: common practice, no source.
const STAND_BOILING: [&str; 6] = ["cotton", "linen", "flax", "hemp", "ramie", "nettle"];

/// The cautions for all that was used on a piece: what always holds with salts, then each salt, plant and way of heating.
pub fn cautions(piece: &Piece) -> Vec<Caution> {
    let alone = std::slice::from_ref(piece);
    let mut found = first_uses(&[], alone);
    found.extend(boiled(&BTreeMap::new(), alone));
    found
}

/// Cautions for the salts, plants and ways of heating that appear for the first time, each once; with the first salt ever,
/// also what always holds.
pub(super) fn first_uses(existing: &[Piece], put: &[Piece]) -> Vec<Caution> {
    let mut found = Vec::new();
    let salts = |round: &Round| round.soaks.iter().map(|s| s.mordant.clone()).collect();
    let (known, new) = first(existing, put, salts);
    if known.is_empty() && !new.is_empty() {
        found.extend(care::always());
    }
    found.extend(new.iter().flat_map(|name| care::for_mordant(name)));
    let plants = |round: &Round| round.plants.iter().map(|p| p.name.clone()).collect();
    let (_, new) = first(existing, put, plants);
    found.extend(new.iter().flat_map(|name| care::for_plant(name)));
    let kinds = |round: &Round| {
        kind(round)
            .map(|k| k.word().to_owned())
            .into_iter()
            .collect()
    };
    let (_, new) = first(existing, put, kinds);
    found.extend(new.iter().flat_map(|name| care::for_heat(name, None)));
    let mut seen: Vec<Caution> = Vec::new();
    found.retain(|caution| {
        let new = !seen.contains(caution);
        if new {
            seen.push(caution.clone());
        }
        new
    });
    found
}

/// Takes out what was told when these salts first came, in a sheet of the other kind.
pub(super) fn forget_known<'a>(cautions: &mut Vec<Caution>, salts: impl Iterator<Item = &'a str>) {
    let salts: BTreeSet<&str> = salts.collect();
    if salts.is_empty() {
        return;
    }
    let mut told = care::always();
    told.extend(salts.into_iter().flat_map(care::for_mordant));
    cautions.retain(|caution| !told.contains(caution));
}

/// Names known before, and those that are new, in order of appearance.
fn first(
    existing: &[Piece],
    put: &[Piece],
    names: impl Fn(&Round) -> Vec<String>,
) -> (BTreeSet<String>, Vec<String>) {
    let all = |pieces: &[Piece]| -> Vec<String> {
        let rounds = pieces.iter().flat_map(|piece| &piece.rounds);
        rounds.flat_map(&names).collect()
    };
    let known: BTreeSet<String> = all(existing).into_iter().collect();
    let mut seen = known.clone();
    let new = all(put)
        .into_iter()
        .filter(|name| seen.insert(name.clone()));
    (known, new.collect())
}

fn kind(round: &Round) -> Option<HeatKind> {
    round.heat.as_ref().and_then(|heat| heat.kind)
}

/// One caution for all pieces that were simmered as good as boiling, unless the journal knew that already.
pub(super) fn boiled(known: &BTreeMap<&str, &Piece>, put: &[Piece]) -> Option<Caution> {
    let hottest = |piece: &Piece| {
        let simmers = piece
            .rounds
            .iter()
            .filter(|r| kind(r) == Some(HeatKind::Simmer));
        let highs = simmers.filter_map(|round| round.heat.as_ref()?.high_c);
        highs.fold(f64::NEG_INFINITY, f64::max)
    };
    let stands = |piece: &Piece| {
        let fibre = piece.fibre.as_deref().unwrap_or_default();
        STAND_BOILING.contains(&fibre)
    };
    let was = |piece: &Piece| {
        known
            .get(piece.code.as_str())
            .is_some_and(|old| hottest(old) == hottest(piece))
    };
    let boiled: Vec<&Piece> = put
        .iter()
        .filter(|piece| hottest(piece) > care::NEAR_BOIL_C && !stands(piece) && !was(piece))
        .collect();
    let high = boiled
        .iter()
        .map(|piece| hottest(piece))
        .fold(0.0, f64::max);
    let about = care::for_heat("simmer", Some(high))
        .into_iter()
        .find(|c| c.code == "near-boil")?;
    let codes: Vec<&str> = boiled.iter().map(|piece| piece.code.as_str()).collect();
    Some(Caution::new(
        &about.code,
        format!("{}: {}", codes.join(", "), about.text),
    ))
}

/// Baths that soaks name and that no bath sheet has told of, or told of as another mordant's, or as not alive on that day; each
/// once.
pub(super) fn strange_baths(baths: &[Bath], put: &[Piece]) -> Vec<Caution> {
    let rounds = put.iter().flat_map(|piece| &piece.rounds);
    let soaks = rounds.flat_map(|round| round.soaks.iter().map(move |soak| (round, soak)));
    let mut found: Vec<Caution> = Vec::new();
    for (round, soak) in soaks {
        let Some(name) = &soak.bath else { continue };
        let caution = match named(baths, name) {
            None => Some(Caution::new(
                "bath-unknown",
                format!(
                    "No bath {name} is in the journal yet: enter a bath sheet that tells when it was made, and its age will be known."
                ),
            )),
            Some(bath) => strange_soak(bath, soak, round.made.as_deref()),
        };
        if let Some(caution) = caution.filter(|caution| !found.contains(caution)) {
            found.push(caution);
        }
    }
    found
}

/// What does not fit between a soak of a round made at `made` and the bath that it names.
pub fn strange_soak(bath: &Bath, soak: &Soak, made: Option<&str>) -> Option<Caution> {
    let name = &bath.name;
    if !bath.may_hold(&soak.mordant) {
        return Some(Caution::new(
            "bath-differs",
            format!(
                "Bath {name} holds {}, and a soak in {} names it: correct one of them.",
                bath.mordant, soak.mordant
            ),
        ));
    }
    let on = soak.on.as_deref().or(made)?;
    let begun = bath.events.iter().any(|event| event.what == BathWork::Made);
    (begun && bath.age(on.parse().ok()?).is_none()).then(|| {
        Caution::new(
            "bath-not-alive",
            format!(
                "Bath {name} was not yet made or already thrown out on {on}, when a cloth was soaked in it: correct that day, or the \
                 bath's own."
            ),
        )
    })
}

/// One cloth has one fibre, weave and size, whatever its rounds.
pub(super) fn rows_differ(code: &str, columns: &[&str]) -> Caution {
    Caution::new(
        "rows-differ",
        format!(
            "The rows of {code} differ in {}, and the last round counts: correct the sheet unless the cloth itself was changed.",
            columns.join(", ")
        ),
    )
}

/// A pot is one heating: a caution for each in which pieces contradict each other about it.
pub(super) fn torn_pots(existing: &[Piece], put: &[Piece]) -> Vec<Caution> {
    let replaced: BTreeSet<&str> = put.iter().map(|piece| piece.code.as_str()).collect();
    let kept = existing
        .iter()
        .filter(|piece| !replaced.contains(piece.code.as_str()));
    let mut pots: BTreeMap<&str, Vec<(&str, &Heat)>> = BTreeMap::new();
    let mut torn: BTreeMap<&str, (&str, &str)> = BTreeMap::new();
    for (fresh, piece) in kept
        .map(|p| (false, p))
        .chain(put.iter().map(|p| (true, p)))
    {
        for round in &piece.rounds {
            let (Some(pot), Some(heat)) = (round.trial(), &round.heat) else {
                continue;
            };
            let told = pots.entry(pot).or_default();
            let other = told.iter().find(|(_, other)| other.contradicts(heat));
            if let (true, Some((first, _))) = (fresh, other) {
                torn.entry(pot).or_insert((first, &piece.code));
            }
            if !told.iter().any(|(_, other)| *other == heat) {
                told.push((&piece.code, heat));
            }
        }
    }
    let sentence = |(pot, (one, other)): (&str, (&str, &str))| {
        let text = format!(
            "{one} and {other} were in one pot ({pot}) and tell of different heat: correct one, or give them pots of their own."
        );
        Caution::new("pot-differs", text)
    };
    torn.into_iter().map(sentence).collect()
}

#[cfg(test)]
mod tests {
    use super::super::{delimited, plan_changes};
    use super::*;

    #[track_caller]
    fn check(existing: &[Piece], csv: &str, codes: &[&str]) -> Vec<Piece> {
        let table = delimited::parse("s.csv", csv.as_bytes()).expect("the test's own sheet");
        let (put, entered) = plan_changes(existing, &table).unwrap_or_else(|e| panic!("{e}"));
        let got: Vec<_> = entered.cautions.iter().map(|c| c.code.as_str()).collect();
        assert_eq!(got, codes, "{csv}");
        put
    }

    #[test]
    fn a_salt_is_introduced_once() {
        let always: Vec<String> = care::always().into_iter().map(|c| c.code).collect();
        let mut codes: Vec<&str> = always.iter().map(String::as_str).collect();
        codes.push("iron");
        let known = check(&[], "piece,mordant\nA1,iron\nA2,iron\n", &codes);
        check(&known, "piece,mordant\nA3,iron 2%\n", &[]);
        check(
            &known,
            "piece,mordant\nA3,Ferrous sulphate > alum\n",
            &["iron", "alum"],
        );
    }

    #[test]
    fn plants_and_steam_are_introduced_once() {
        let known = check(&[], "piece,plants\nA1,oleander; birch\n", &["plant-never"]);
        check(
            &known,
            "piece,plants,heat\nA2,oleander,steam\n",
            &["scald", "let-bundles-cool"],
        );
    }

    /// Silk simmers somewhere between 80 and 91 °C and is not boiled; steaming is another matter: common practice, no source.
    #[test]
    fn silk_that_boils_is_named_once() {
        let known = check(
            &[],
            "piece,heat\nA0,simmer\nA9,steam\n",
            &["scald", "let-bundles-cool", "scald"],
        );
        let head = "piece,fibre,heat,simmer_high_c\n";
        let boiled = check(
            &known,
            &format!("{head}A1,silk,simmer,98\nA2,silk,simmer,99\n"),
            &["near-boil"],
        );
        check(&boiled, "piece,status,heat\nA1,sold,simmer\n", &[]);
        check(&known, &format!("{head}A1,silk,,98\n"), &["near-boil"]);
        for fine in ["silk,simmer,91", "silk,steam,100", "cotton,simmer,98"] {
            check(&known, &format!("{head}A1,{fine}\n"), &[]);
        }
    }

    #[test]
    fn one_pot_has_one_heat() {
        let head = "piece,pot,simmer_high_c\n";
        let known = check(
            &[],
            &format!("{head}A1,P1,85\n"),
            &["scald", "let-bundles-cool"],
        );
        check(&known, &format!("{head}A2,P1,85\nA3,P2,88\n"), &[]);
        check(&known, &format!("{head}A2,P1,86\n"), &["pot-differs"]);
        // What is not written is not denied, by whichever piece.
        let head = "piece,pot,heat,simmer_low_c,simmer_high_c,simmer_min\n";
        check(&known, &format!("{head}A2,P1,simmer,,,60\n"), &[]);
        let partly = check(
            &[],
            &format!("{head}A1,P1,simmer,,,\n"),
            &["scald", "let-bundles-cool"],
        );
        let partly = [
            partly,
            check(
                &[],
                &format!("{head}A2,P1,simmer,,85,\n"),
                &["scald", "let-bundles-cool"],
            ),
        ]
        .concat();
        check(&partly, &format!("{head}A3,P1,simmer,,85,60\n"), &[]);
        check(
            &partly,
            &format!("{head}A3,P1,simmer,,86,60\n"),
            &["pot-differs"],
        );
        check(
            &partly,
            &format!("{head}A3,P1,simmer,86,,60\n"),
            &["pot-differs"],
        );
        check(
            &partly,
            &format!("{head}A3,P1,simmer,,,60\nA4,P1,simmer,,,61\n"),
            &["pot-differs"],
        );
    }

    #[test]
    fn a_soak_fits_its_bath() {
        let csv = "bath,mordant,on,event\nA1,alum,2026-05-02,made\nA1,,2026-05-20,discarded\n";
        let table = delimited::parse("b.csv", csv.as_bytes()).expect("the test's own sheet");
        let (baths, _) = super::super::plan_baths(&[], &table).unwrap_or_else(|e| panic!("{e}"));
        for (soak, code) in [
            ("alum [2026-05-02, bath A1]", None),
            ("alum [bath A1]", None),
            ("alum [2026-05-01, bath A1]", Some("bath-not-alive")),
            ("alum [2026-05-21, bath A1]", Some("bath-not-alive")),
            ("iron [2026-05-09, bath A1]", Some("bath-differs")),
            ("alum [2026-05-09, bath A2]", Some("bath-unknown")),
        ] {
            let table = format!("piece,mordant\nA1,\"{soak}\"\n");
            let table = delimited::parse("s.csv", table.as_bytes()).expect("the test's own sheet");
            let (put, _) = plan_changes(&[], &table).unwrap_or_else(|e| panic!("{e}"));
            let got = strange_baths(&baths, &put);
            let got: Vec<&str> = got.iter().map(|caution| caution.code.as_str()).collect();
            assert_eq!(got, Vec::from_iter(code), "{soak}");
        }
    }

    #[test]
    fn a_slip_in_a_heading_is_named() {
        check(&[], "piece,mordent\nA1,alum\n", &["heading-unknown"]);
    }
}
