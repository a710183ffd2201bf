//! How fast a journal of many years is read for a question, how that grows, and how much memory it takes.
//!
//! `cargo bench --bench asking` makes journals of 1,000, 10,000 and 100,000 pieces in `target/tmp`, always the same, through the
//! import, and keeps them. Each is asked in a process of its own. The same means are formed in plain SQL, and, where the variable
//! `PYTHON` names a Python with pandas, from an export with that; all three must agree.

mod made;

use filemot::ask::{self, Changed, Known, Names};
use filemot::colour::Lab;
use filemot::journal::{Degrees, Gist, Journal};
use filemot::reading::State;
use filemot::words::{Family, is_of_family};
use std::collections::BTreeMap;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

const SIZES: [usize; 3] = [1_000, 10_000, 100_000];
const RUNS: usize = 5;

/// Set in a process that makes or asks the journal of this many pieces.
const MAKE: &str = "FILEMOT_BENCH_MAKE";
const ASK: &str = "FILEMOT_BENCH_ASK";

fn main() {
    let number = |name: &str| std::env::var(name).ok()?.parse().ok();
    if let Some(pieces) = number(MAKE) {
        return make(pieces);
    }
    if let Some(pieces) = number(ASK) {
        return asked(pieces);
    }
    println!("families of 800,000 colours: {}", shown(families()));
    for pieces in SIZES {
        if !Journal::exists(&folder(pieces)) {
            beside(MAKE, pieces);
        }
        beside(ASK, pieces);
    }
    match std::env::var_os("PYTHON") {
        Some(python) => in_pandas(Path::new(&python), 10_000),
        None => println!("pandas: not compared, for PYTHON names none"),
    }
}

/// Runs this program once more, so that the memory it takes is its own.
fn beside(what: &str, pieces: usize) {
    let this = std::env::current_exe().expect("this program");
    let done = Command::new(this).env(what, pieces.to_string()).status();
    assert!(done.expect("it runs").success(), "{what} {pieces}");
}

fn folder(pieces: usize) -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("asking-{pieces}-1"))
}

/// Imports a journal under another name first: one that was broken off is not asked.
fn make(pieces: usize) {
    const AT_ONCE: usize = 10_000;
    let unfinished = folder(pieces).with_extension("part");
    let _ = std::fs::remove_dir_all(&unfinished);
    let mut journal = Journal::open_or_create(&unfinished).expect("a new journal");
    let mut took = Duration::ZERO;
    for begin in (0..pieces).step_by(AT_ONCE) {
        let export = made::export(begin..pieces.min(begin + AT_ONCE));
        let start = Instant::now();
        journal.import(&export).expect("it is imported");
        took += start.elapsed();
    }
    drop(journal);
    std::fs::rename(&unfinished, folder(pieces)).expect("the folder gets its name");
    let each = took.as_secs_f64() / pieces as f64;
    println!(
        "{pieces:>7} pieces imported in {:.1} s, {:.2} ms each",
        took.as_secs_f64(),
        each * 1e3
    );
}

fn asked(pieces: usize) {
    let journal = Journal::open(&folder(pieces)).expect("the journal opens");
    let question = "which mordant gave the warmest yellows";
    let answered = middle(|| answer(&journal, question));
    let peak_answer = peak_memory().unwrap_or_default();
    println!(
        "{pieces:>7} pieces: “{question}” answered in {}, {peak_answer}",
        shown(answered)
    );
    let start = Instant::now();
    let first = means(&journal.gist(&[State::Dry]).expect("it is read"));
    let first_time = start.elapsed();
    let before = processor_time();
    let dry = median(|| drop(black_box(journal.gist(&[State::Dry]).expect("it is read"))));
    let processor = processor_time()
        .zip(before)
        .map_or_else(String::new, |(after, before)| {
            format!(
                " and {:.0} ms of processor",
                (after - before) * 1e3 / RUNS as f64
            )
        });
    let mean = median(|| {
        drop(black_box(means(
            &journal.gist(&[State::Dry]).expect("it is read"),
        )));
    });
    let peak = peak_memory().unwrap_or_default();
    let both = [State::Wet, State::Dry];
    let both = median(|| drop(black_box(journal.gist(&both).expect("it is read"))));
    let all = median(|| drop(black_box(journal.gist(&State::ALL).expect("it is read"))));
    let peak_all = peak_memory().unwrap_or_default();
    let (sql, sql_time) = in_sql(&folder(pieces));
    same("SQL", &first, &sql);
    println!(
        "{pieces:>7} pieces: dry {}{processor} (first time with means {}), with means {}, {peak}; wet and dry {}; all states {}, {peak_all}; plain SQL {}, {:.1} times the gist's",
        shown(dry),
        shown(first_time),
        shown(mean),
        shown(both),
        shown(all),
        shown(sql_time),
        sql_time.as_secs_f64() / mean.as_secs_f64()
    );
}

/// How long a question takes from the journal to the answer with its evidence, which is on the screen before memory is cleared.
fn answer(journal: &Journal, question: &str) -> Duration {
    let start = Instant::now();
    let gist = journal.gist(&[State::Dry]).expect("it is read");
    let names = Names::of(&gist.pieces, &[]);
    let asked =
        ask::read(question, &names, jiff::civil::date(2026, 7, 15)).expect("it is understood");
    let known = Known {
        gist: &gist,
        baths: &[],
        own: &[],
        changed: &Changed::default(),
        degrees: Degrees::Celsius,
    };
    let answer = ask::answer(question, asked, &known).expect("it is answered");
    let took = start.elapsed();
    drop(black_box(answer));
    took
}

/// Mean over pots of the mean L* of dry pieces, by sequence of mordants.
type Means = BTreeMap<String, f64>;

fn means(gist: &Gist) -> Means {
    let mut pots: BTreeMap<(String, &str), (f64, usize)> = BTreeMap::new();
    for (place, piece) in gist.pieces.iter().enumerate() {
        let (mut sum, mut whole) = (0.0, 0.0);
        for photo in gist.photos_of(place) {
            for colour in gist.colours(photo) {
                sum += colour.share * colour.lab.l;
                whole += colour.share;
            }
        }
        if let Some(round) = piece.rounds.last()
            && let Some(pot) = round.pot.as_deref()
            && whole > 0.0
        {
            let (all, many) = pots.entry((round.mordant(), pot)).or_default();
            (*all, *many) = (*all + sum / whole, *many + 1);
        }
    }
    let mut by_mordant: BTreeMap<String, Vec<f64>> = BTreeMap::new();
    for ((mordant, _), (all, many)) in pots {
        by_mordant
            .entry(mordant)
            .or_default()
            .push(all / many as f64);
    }
    let mean = |pots: Vec<f64>| pots.iter().sum::<f64>() / pots.len() as f64;
    by_mordant
        .into_iter()
        .map(|(mordant, pots)| (mordant, mean(pots)))
        .collect()
}

/// The same from the tables that `docs/journal.md` describes, as somebody with another tool would form it.
fn in_sql(folder: &Path) -> (Means, Duration) {
    let sql = "
        WITH value AS (
            SELECT piece, sum(l * share) / sum(share) AS l
            FROM photos JOIN current_readings ON current_readings.photo = photos.id
                 JOIN swatches ON swatches.reading = current_readings.id
            WHERE state = 'dry' GROUP BY piece),
        used AS (
            SELECT in_round, group_concat(mordant, ' > ') AS mordant
            FROM (SELECT * FROM soaks ORDER BY in_round, place) GROUP BY in_round),
        pots AS (
            SELECT mordant, pot, avg(l) AS l
            FROM value JOIN rounds USING (piece) JOIN used ON used.in_round = rounds.id
            GROUP BY mordant, pot)
        SELECT mordant, avg(l) FROM pots GROUP BY mordant";
    let db = rusqlite::Connection::open(folder.join("journal.sqlite")).expect("it opens");
    let ask = || -> rusqlite::Result<Means> {
        let mut select = db.prepare(sql)?;
        let rows = select.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
        rows.collect()
    };
    let start = Instant::now();
    let means = ask().expect("SQLite answers");
    (means, start.elapsed())
}

/// The same from an export, in pandas: reading the file is not counted, for it is mostly Python's reading of JSON.
fn in_pandas(python: &Path, pieces: usize) {
    const SCRIPT: &str = r#"
import json, sys, time
import pandas as pd
export = json.load(open(sys.argv[1]))
start = time.perf_counter()
swatches = pd.DataFrame([
    (p["piece"], s["lab"][0], s["share"])
    for p in export["photos"] if p["state"] == "dry" for s in p["swatches"]], columns=["piece", "l", "share"])
rounds = pd.DataFrame([
    (p["code"], r["pot"], " > ".join(s["mordant"] for s in r["soaks"]))
    for p in export["pieces"] for r in p["rounds"]], columns=["piece", "pot", "mordant"])
framed = time.perf_counter()
swatches["weighted"] = swatches.l * swatches.share
sums = swatches.groupby("piece")[["weighted", "share"]].sum()
value = (sums.weighted / sums.share).rename("value").reset_index()
pots = value.merge(rounds, on="piece").groupby(["mordant", "pot"]).value.mean()
means = pots.groupby("mordant").mean()
done = time.perf_counter()
print(json.dumps({"means": means.to_dict(), "framed": framed - start, "grouped": done - framed}))
"#;
    let journal = Journal::open(&folder(pieces)).expect("the journal opens");
    let export = folder(pieces).with_extension("json");
    let json = serde_json::to_string(&journal.export().expect("it is exported"));
    std::fs::write(&export, json.expect("it is JSON")).expect("the export is written");
    let mine = means(&journal.gist(&[State::Dry]).expect("it is read"));
    let took = median(|| {
        drop(black_box(means(
            &journal.gist(&[State::Dry]).expect("it is read"),
        )));
    });
    let told = Command::new(python)
        .args(["-c", SCRIPT])
        .arg(&export)
        .output();
    let told = told.expect("Python runs");
    assert!(
        told.status.success(),
        "{}",
        String::from_utf8_lossy(&told.stderr)
    );
    let told: serde_json::Value = serde_json::from_slice(&told.stdout).expect("its answer");
    let theirs = serde_json::from_value(told["means"].clone()).expect("its means");
    same("pandas", &mine, &theirs);
    let seconds = |name: &str| told[name].as_f64().unwrap_or(f64::NAN);
    println!(
        "pandas, {pieces} pieces, once the export is read: frames {:.0} ms, means {:.0} ms; from journal to means here {}",
        seconds("framed") * 1e3,
        seconds("grouped") * 1e3,
        shown(took)
    );
}

fn same(name: &str, mine: &Means, theirs: &Means) {
    assert!(mine.keys().eq(theirs.keys()), "{name}: {mine:?} {theirs:?}");
    for (mordant, mean) in mine {
        let off = (mean - theirs[mordant]).abs();
        assert!(off < 1e-9, "{name}, {mordant}: {off}");
    }
}

/// The families of colours such as cloth has.
fn families() -> Duration {
    let mut random = made::Random::new(4);
    let colours: Vec<Lab> = (0..800_000).map(|_| made::colour(&mut random)).collect();
    median(|| {
        let yellows = colours
            .iter()
            .filter(|lab| is_of_family(**lab, Family::Yellow));
        black_box(yellows.count());
    })
}

fn median(run: impl Fn()) -> Duration {
    middle(|| {
        let start = Instant::now();
        run();
        start.elapsed()
    })
}

/// The median of what several runs took.
fn middle(run: impl Fn() -> Duration) -> Duration {
    let mut times: Vec<Duration> = (0..RUNS).map(|_| run()).collect();
    times.sort();
    times[RUNS / 2]
}

fn shown(time: Duration) -> String {
    format!("{:.1} ms", time.as_secs_f64() * 1e3)
}

/// Seconds that all threads of this process have computed, where the system says so: on a machine that others use too, this
/// and not the clock is to be compared. In hundredths, which is what Linux counts in.
fn processor_time() -> Option<f64> {
    let stat = std::fs::read_to_string("/proc/self/stat").ok()?;
    let (_, after_name) = stat.rsplit_once(')')?;
    let times = after_name.split_whitespace().skip(11).take(2);
    let ticks: Vec<f64> = times.map_while(|time| time.parse().ok()).collect();
    (ticks.len() == 2).then(|| (ticks[0] + ticks[1]) / 100.0)
}

/// What the system says was the most this process held, where it says so.
fn peak_memory() -> Option<String> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    let kilobytes: f64 = line.split_whitespace().nth(1)?.parse().ok()?;
    Some(format!("{:.0} MB at most", kilobytes / 1e3))
}
