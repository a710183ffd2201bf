//! One 12-megapixel photo from file to reading, stage by stage, as multiples of decoding it alone.
//!
//! `cargo bench --bench reading` makes its photo in `target/`, always the same one; `cargo bench --bench reading -- FILE.jpg`
//! takes another. Absolute times depend on the machine: the ratios within one run are what to compare.

use filemot::measure::{Known, References, measure};
use filemot::picture::scaled;
use filemot::{light, photo, piece, tag};
use image::ExtendedColorType;
use image::codecs::jpeg::JpegEncoder;
use image::imageops::FilterType;
use rayon::prelude::*;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};
use zune_core::bytestream::ZCursor;
use zune_core::options::DecoderOptions;

const WIDTH: usize = 4000;
const HEIGHT: usize = 3000;
const RUNS: usize = 9;

fn main() {
    let named = std::env::args().skip(1).find(|a| !a.starts_with("--"));
    let bytes = match named {
        Some(file) => std::fs::read(file).expect("the named photo can be read"),
        None => made_photo(),
    };
    println!(
        "one photo of {:.1} MB, medians of {RUNS} runs",
        bytes.len() as f64 / 1e6
    );
    let alone = median(|| decode_alone(&bytes));
    stages(&bytes, &|name, took| {
        println!(
            "{name:<34} {:>7.1} ms {:>6.2} times decoding",
            took.as_secs_f64() * 1e3,
            took.as_secs_f64() / alone.as_secs_f64()
        );
    });
    if let Some(peak) = peak_memory() {
        println!("most memory held by one worker: {peak}");
    }
    let one = photos_a_second(&bytes, 1);
    let two = photos_a_second(&bytes, 2);
    println!(
        "{one:.2} photos a second with 1 thread, {two:.2} with 2: {:.2} times as many",
        two / one
    );
}

fn decode_alone(bytes: &[u8]) {
    let options = DecoderOptions::default()
        .set_strict_mode(true)
        .set_max_width(65535)
        .set_max_height(65535);
    let mut decoder = zune_jpeg::JpegDecoder::new_with_options(ZCursor::new(bytes), options);
    black_box(decoder.decode().expect("the photo is whole"));
}

/// Each stage of a reading by itself, then all of them.
fn stages(bytes: &[u8], say: &dyn Fn(&str, Duration)) {
    let open = |bytes: &[u8]| photo::decode(bytes, "photo").expect("the photo opens");
    say("decoding alone, strict", median(|| decode_alone(bytes)));
    say("opened", median(|| drop(black_box(open(bytes)))));
    let sideways = with_orientation(bytes, 6);
    say(
        "opened, taken upright",
        median(|| drop(black_box(open(&sideways)))),
    );
    let opened = open(bytes);
    let photograph = &opened.photograph;
    let step = photograph.step_to(1100);
    say(
        "reduced",
        median(|| drop(black_box(photograph.reduced(step)))),
    );
    let picture = photograph.reduced(step);
    say(
        "tags found and read",
        median(|| drop(black_box(tag::find(photograph)))),
    );
    let tags = tag::find(photograph);
    let papers: Vec<_> = tags
        .iter()
        .map(|t| scaled(&t.paper(), 1.0 / step as f64))
        .collect();
    say(
        "outline",
        median(|| drop(black_box(piece::find(&picture, &papers)))),
    );
    let references = References::default();
    let known = Known::default();
    let seen: Vec<_> = tags.iter().collect();
    let bare = picture.map(|_| true);
    let around = light::Surroundings {
        size: [photograph.width, photograph.height],
        picture: &picture,
        step,
        bare: &bare,
    };
    say(
        "light from the tag",
        median(|| {
            drop(black_box(light::from_tags(
                photograph,
                &seen,
                &references,
                &around,
            )));
        }),
    );
    say(
        "measured (all but opening)",
        median(|| drop(black_box(measure(&opened, &known)))),
    );
    say(
        "from file to reading",
        median(|| drop(black_box(measure(&open(bytes), &known)))),
    );
}

/// From file to reading, on this many threads.
fn photos_a_second(bytes: &[u8], threads: usize) -> f64 {
    const PHOTOS: usize = 8;
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(threads)
        .build()
        .expect("threads");
    let start = Instant::now();
    pool.install(|| {
        (0..PHOTOS).into_par_iter().for_each(|_| {
            let opened = photo::decode(bytes, "photo").expect("the photo opens");
            black_box(measure(&opened, &Known::default()));
        });
    });
    PHOTOS as f64 / start.elapsed().as_secs_f64()
}

/// The median time of some runs, after one that warms up.
fn median(run: impl Fn()) -> Duration {
    run();
    let mut times: Vec<Duration> = (0..RUNS)
        .map(|_| {
            let start = Instant::now();
            run();
            start.elapsed()
        })
        .collect();
    times.sort();
    times[RUNS / 2]
}

/// A JPEG with an EXIF segment that gives only an orientation.
fn with_orientation(jpeg: &[u8], orientation: u8) -> Vec<u8> {
    let mut segment =
        b"\xff\xe1\x00\x22Exif\0\0MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0".to_vec();
    segment.extend([orientation, 0, 0, 0, 0, 0, 0]);
    [&jpeg[..2], &segment, &jpeg[2..]].concat()
}

/// What the system says was the most this process held, where it says so.
fn peak_memory() -> Option<String> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|l| l.starts_with("VmHWM:"))?;
    Some(line["VmHWM:".len()..].trim().to_owned())
}

/// A photo-like JPEG of 12 megapixels and about 4 MB: a photo of the small season, enlarged, with detail at every scale and
/// noise laid over it. Made once, the same everywhere; the making is done in a process of its own, so that its memory does
/// not count.
fn made_photo() -> Vec<u8> {
    let path: PathBuf = Path::new(env!("CARGO_TARGET_TMPDIR")).join("made-photo-4.jpg");
    if let Ok(bytes) = std::fs::read(&path) {
        return bytes;
    }
    if std::env::var_os(MAKING).is_none() {
        let this = std::env::current_exe().expect("this program");
        std::process::Command::new(this)
            .env(MAKING, "1")
            .status()
            .expect("the photo is made");
        return std::fs::read(&path).expect("the photo was made");
    }
    let small = Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/season/photos/LB001-dry.jpg");
    let small = image::open(small).expect("a photo of the season");
    let mut large = small
        .resize_exact(WIDTH as u32, HEIGHT as u32, FilterType::Triangle)
        .to_rgb8();
    for (x, y, pixel) in large.enumerate_pixels_mut() {
        let (x, y) = (x as usize, y as usize);
        let grain = octaves(x, y, 1, 9, 3.0) + 12.0 * noise(x, y, 99);
        pixel.0 = pixel
            .0
            .map(|v| (f32::from(v) + grain).clamp(0.0, 255.0) as u8);
    }
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, 90)
        .encode(&large, WIDTH as u32, HEIGHT as u32, ExtendedColorType::Rgb8)
        .expect("a picture in memory can be encoded");
    std::fs::write(&path, &bytes).expect("the build folder can be written to");
    std::process::exit(0);
}

/// Set while the photo is being made.
const MAKING: &str = "FILEMOT_BENCH_MAKING";

/// Smooth noise of `count` scales, from 1024 pixels down, each half as strong as the one above.
fn octaves(x: usize, y: usize, seed: usize, count: u32, strength: f32) -> f32 {
    (0..count)
        .map(|octave| {
            let (size, strength) = (1024 >> octave, strength / (1 << octave) as f32);
            strength * smooth(x, y, size, 10 * seed + octave as usize)
        })
        .sum()
}

/// Noise on a grid of `size` pixels, bilinear between its corners.
fn smooth(x: usize, y: usize, size: usize, seed: usize) -> f32 {
    let (left, top) = (x / size, y / size);
    let part = |v: usize| (v % size) as f32 / size as f32;
    let row = |y| {
        let (one, other) = (noise(left, y, seed), noise(left + 1, y, seed));
        one + (other - one) * part(x)
    };
    row(top) + (row(top + 1) - row(top)) * part(y)
}

/// A fixed value between -1 and 1 for each place and seed.
fn noise(x: usize, y: usize, seed: usize) -> f32 {
    let mut n = (x as u32).wrapping_mul(0x9e37_79b1)
        ^ (y as u32).wrapping_mul(0x85eb_ca77)
        ^ (seed as u32).wrapping_mul(0xc2b2_ae3d);
    n = (n ^ (n >> 15)).wrapping_mul(0x2c1b_3c6d);
    n = (n ^ (n >> 12)).wrapping_mul(0x297a_2d39);
    (n ^ (n >> 15)) as f32 / u32::MAX as f32 * 2.0 - 1.0
}
