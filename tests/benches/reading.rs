//! One 12-megapixel photo from file to reading, stage by stage, as multiples of decoding it alone; a JPEG, then a HEIC.
//!
//! `cargo bench --bench reading` makes its photos in `target/`, always the same ones; `cargo bench --bench reading -- FILE`
//! takes another. Absolute times depend on the machine: the ratios within one run are what to compare. Stages are run in
//! turns, so that a busy moment of the machine strikes all of them alike.

use filemot::measure::{Known, References, measure};
use filemot::picture::scaled;
use filemot::{light, photo, piece, tag};
use image::codecs::jpeg::JpegEncoder;
use image::imageops::FilterType;
use image::{ExtendedColorType, RgbImage};
use rayon::prelude::*;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;
use std::time::{Duration, Instant};
use zune_core::bytestream::ZCursor;
use zune_core::options::DecoderOptions;

const WIDTH: usize = 4000;
const HEIGHT: usize = 3000;
const RUNS: u32 = 9;

fn main() {
    let named = std::env::args().skip(1).find(|a| !a.starts_with("--"));
    let photos: Vec<Vec<u8>> = match named {
        Some(file) => vec![std::fs::read(file).expect("the named photo can be read")],
        None => [Kind::Jpeg, Kind::Heic].map(made_photo).into(),
    };
    for bytes in &photos {
        drop(black_box(measure(&open(bytes), &Known::default())));
        if let Some(peak) = peak_memory() {
            println!("most memory held so far by one worker: {peak}");
        }
    }
    for bytes in &photos {
        stages(bytes);
    }
    let one = photos_a_second(&photos[0], 1);
    let two = photos_a_second(&photos[0], 2);
    println!(
        "{one:.2} photos a second with 1 thread, {two:.2} with 2: {:.2} times as many",
        two / one
    );
}

/// The kinds of file that phones write.
#[derive(Clone, Copy)]
enum Kind {
    Jpeg,
    Heic,
}

impl Kind {
    /// A HEIC begins with the length of its first box, and `ftyp` (ISO/IEC 14496-12).
    fn of(bytes: &[u8]) -> Self {
        if bytes.get(4..8) == Some(b"ftyp") {
            Self::Heic
        } else {
            Self::Jpeg
        }
    }
}

/// Decoding with the library alone, on one thread.
fn decode_alone(bytes: &[u8]) {
    match Kind::of(bytes) {
        Kind::Jpeg => {
            let options = DecoderOptions::default()
                .set_strict_mode(true)
                .set_max_width(65535)
                .set_max_height(65535);
            let mut decoder =
                zune_jpeg::JpegDecoder::new_with_options(ZCursor::new(bytes), options);
            black_box(decoder.decode().expect("the photo is whole"));
        }
        Kind::Heic => {
            let options = heifer::Options {
                max_threads: 1,
                ..heifer::Options::default()
            };
            black_box(heifer::decode_rgba8(bytes, &options).expect("the photo is whole"));
        }
    }
}

fn open(bytes: &[u8]) -> photo::Opened {
    photo::decode(bytes, "photo").expect("the photo opens")
}

/// Says how long decoding alone takes, each stage of a reading by itself, and all of them.
fn stages(bytes: &[u8]) {
    let sideways = match Kind::of(bytes) {
        Kind::Jpeg => with_orientation(bytes, 6),
        Kind::Heic => bytes.to_vec(),
    };
    let opened = open(bytes);
    let photograph = &opened.photograph;
    let step = photograph.step_to(1100);
    let picture = photograph.reduced(step);
    let tags = tag::find(photograph);
    let papers: Vec<_> = tags
        .iter()
        .map(|t| scaled(&t.paper(), 1.0 / step as f64))
        .collect();
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
    let from_tags = || light::from_tags(photograph, &seen, &references, &around);
    let timed: [(&str, &dyn Fn()); 9] = [
        ("decoding alone", &|| decode_alone(bytes)),
        ("opened", &|| drop(black_box(open(bytes)))),
        ("opened, a JPEG taken upright", &|| {
            drop(black_box(open(&sideways)));
        }),
        ("reduced", &|| drop(black_box(photograph.reduced(step)))),
        ("tags found and read", &|| {
            drop(black_box(tag::find(photograph)));
        }),
        ("outline", &|| {
            drop(black_box(piece::find(&picture, &papers)));
        }),
        ("light from the tag", &|| drop(black_box(from_tags()))),
        ("measured (all but opening)", &|| {
            drop(black_box(measure(&opened, &known)));
        }),
        ("from file to reading", &|| {
            drop(black_box(measure(&open(bytes), &known)));
        }),
    ];
    println!(
        "one photo of {:.1} MB, means of {RUNS} runs",
        bytes.len() as f64 / 1e6
    );
    let means = means(&timed.map(|(_, run)| run));
    for ((name, _), took) in timed.iter().zip(&means) {
        println!(
            "{name:<34} {:>7.1} ms {:>6.2} times decoding",
            took.as_secs_f64() * 1e3,
            took.as_secs_f64() / means[0].as_secs_f64()
        );
    }
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
            black_box(measure(&open(bytes), &Known::default()));
        });
    });
    PHOTOS as f64 / start.elapsed().as_secs_f64()
}

/// How long this thread has been at work where the system says so (to some milliseconds, which is why times are means), else
/// what the clock says: other programs' work should not count.
fn now() -> Duration {
    static BEGIN: LazyLock<Instant> = LazyLock::new(Instant::now);
    std::fs::read_to_string("/proc/thread-self/schedstat")
        .ok()
        .and_then(|told| Some(Duration::from_nanos(told.split(' ').next()?.parse().ok()?)))
        .unwrap_or_else(|| BEGIN.elapsed())
}

/// The mean time of each of some tasks, which are run in turns, after one that warms up.
fn means(tasks: &[&dyn Fn()]) -> Vec<Duration> {
    tasks.iter().for_each(|run| run());
    let mut times = vec![Duration::ZERO; tasks.len()];
    for _ in 0..RUNS {
        for (time, run) in times.iter_mut().zip(tasks) {
            let start = now();
            run();
            *time += now() - start;
        }
    }
    times.into_iter().map(|time| time / RUNS).collect()
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

/// A photo-like file of 12 megapixels, about 4 MB as a JPEG and 2.5 MB as a HEIC: a photo of the small season, enlarged, with
/// detail at every scale and noise laid over it. Made once, the same everywhere; the making is done in a process of its own,
/// so that its memory does not count.
fn made_photo(kind: Kind) -> Vec<u8> {
    let name = match kind {
        Kind::Jpeg => "made-photo-4.jpg",
        Kind::Heic => "made-photo-4.heic",
    };
    let path: PathBuf = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
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
    let pixels = made_pixels();
    let (width, height) = (WIDTH as u32, HEIGHT as u32);
    let bytes = match kind {
        Kind::Jpeg => {
            let mut bytes = Vec::new();
            JpegEncoder::new_with_quality(&mut bytes, 90)
                .encode(&pixels, width, height, ExtendedColorType::Rgb8)
                .expect("a picture in memory can be encoded");
            bytes
        }
        Kind::Heic => {
            let options = heifer::EncodeOptions {
                quality: HEIC_QUALITY,
                ..heifer::EncodeOptions::default()
            };
            heifer::encode_rgb8(width, height, &pixels, &options)
                .expect("a picture in memory can be encoded")
        }
    };
    std::fs::write(&path, &bytes).expect("the build folder can be written to");
    std::process::exit(0);
}

/// Gives about as many bytes as phones write for 12 megapixels.
const HEIC_QUALITY: u8 = 75;

fn made_pixels() -> RgbImage {
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
    large
}

/// Set while a photo is being made.
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
