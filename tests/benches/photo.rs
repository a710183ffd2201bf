//! Opening one 12-megapixel photo, stage by stage, as multiples of decoding it alone.
//!
//! `cargo bench --bench photo` makes its photo in `target/`, always the same one; `cargo bench --bench photo -- FILE.jpg`
//! takes another. Absolute times depend on the machine: the ratios within one run are what to compare.

use image::ExtendedColorType;
use image::codecs::jpeg::JpegEncoder;
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
    let alone = median(|| {
        let options = DecoderOptions::default()
            .set_strict_mode(true)
            .set_max_width(65535)
            .set_max_height(65535);
        let mut decoder =
            zune_jpeg::JpegDecoder::new_with_options(ZCursor::new(&bytes[..]), options);
        black_box(decoder.decode().expect("the photo is whole"));
    });
    let stage = |name: &str, took: Duration| {
        println!(
            "{name:<34} {:>7.1} ms {:>6.2} times decoding",
            took.as_secs_f64() * 1e3,
            took.as_secs_f64() / alone.as_secs_f64()
        );
    };
    stage("decoding alone, strict", alone);
    let open = |bytes: &[u8]| filemot::photo::decode(bytes, "photo").expect("the photo opens");
    stage("opened", median(|| drop(black_box(open(&bytes)))));
    let sideways = with_orientation(&bytes, 6);
    stage(
        "opened, taken upright",
        median(|| drop(black_box(open(&sideways)))),
    );
    let photograph = open(&bytes).photograph;
    stage(
        "reduced to 1000 pixels",
        median(|| drop(black_box(photograph.reduced(photograph.step_to(1000))))),
    );
    if let Some(peak) = peak_memory() {
        println!("most memory held: {peak}");
    }
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

/// A photo-like JPEG: detail at every scale, as in nature, fine noise, colours that vary slowly. Made once, the same
/// everywhere.
fn made_photo() -> Vec<u8> {
    let path: PathBuf = Path::new(env!("CARGO_TARGET_TMPDIR")).join("made-photo-2.jpg");
    if let Ok(bytes) = std::fs::read(&path) {
        return bytes;
    }
    let mut rgb = Vec::with_capacity(3 * WIDTH * HEIGHT);
    for y in 0..HEIGHT {
        for x in 0..WIDTH {
            let light = 128.0 + octaves(x, y, 1, 9, 46.0) + 9.0 * noise(x, y, 99);
            let (warm, green) = (octaves(x, y, 2, 5, 24.0), octaves(x, y, 3, 5, 16.0));
            rgb.extend(
                [light + warm, light + green, light - warm].map(|v| v.clamp(0.0, 255.0) as u8),
            );
        }
    }
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, 90)
        .encode(&rgb, WIDTH as u32, HEIGHT as u32, ExtendedColorType::Rgb8)
        .expect("a picture in memory can be encoded");
    std::fs::write(&path, &bytes).expect("the build folder can be written to");
    bytes
}

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
