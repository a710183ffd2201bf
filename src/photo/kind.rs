use super::refuse::Refusal;

/// What a file is, by its first bytes.
pub(super) enum Kind {
    Jpeg,
    Png,
    Tiff,
    WebP,
    Heic,
    Refused(Refusal),
}

/// Looks at the first bytes, as the formats' standards define them.
pub(super) fn of(bytes: &[u8]) -> Kind {
    match bytes {
        [] => Kind::Refused(Refusal::Empty),
        // ISO/IEC 10918-1, B.1.1.3: start of image, and the marker after it.
        [0xff, 0xd8, 0xff, ..] => Kind::Jpeg,
        // ISO/IEC 15948, 5.2.
        [0x89, b'P', b'N', b'G', b'\r', b'\n', 0x1a, b'\n', ..] => Kind::Png,
        // A raw format that looks like TIFF and says so in its ninth and tenth byte.
        [b'I', b'I', 42, 0, _, _, _, _, b'C', b'R', ..] => Kind::Refused(Refusal::Raw),
        // TIFF 6.0, section 2, and its 64-bit sister.
        [b'I', b'I', 42 | 43, 0, ..] | [b'M', b'M', 0, 42 | 43, ..] => Kind::Tiff,
        // RFC 9649, 2.4.
        [
            b'R',
            b'I',
            b'F',
            b'F',
            _,
            _,
            _,
            _,
            b'W',
            b'E',
            b'B',
            b'P',
            ..,
        ] => Kind::WebP,
        // ISO/IEC 14496-12, 4.3: a file type box with its brands.
        [a, b, c, d, b'f', b't', b'y', b'p', rest @ ..] => {
            let size = u32::from_be_bytes([*a, *b, *c, *d]) as usize;
            media(rest.get(..size.saturating_sub(8)).unwrap_or(rest))
        }
        _ => Kind::Refused(Refusal::NoPhoto),
    }
}

/// What the brands stand for: the main one, four bytes of version, then those the file keeps to as well.
fn media(brands: &[u8]) -> Kind {
    let (brands, _) = brands.as_chunks::<4>();
    let keeps = |wanted: &[&[u8; 4]]| brands.iter().any(|b| wanted.contains(&b));
    Kind::Refused(match brands.first() {
        Some(b"crx ") => Refusal::Raw,
        Some(b"avif" | b"avis") => Refusal::Avif,
        // ISO/IEC 23008-12, 10: HEVC pictures, series of them, and their bare container.
        Some(
            b"heic" | b"heix" | b"heim" | b"heis" | b"mif1" | b"mif2" | b"hevc" | b"hevx" | b"msf1",
        ) if keeps(&[b"heic", b"heix", b"heim", b"heis"]) => return Kind::Heic,
        Some(b"mif1" | b"mif2") if keeps(&[b"avif"]) => Refusal::Avif,
        Some(b"mif1" | b"mif2") => return Kind::Heic,
        Some(b"hevc" | b"hevx" | b"msf1") => Refusal::Series,
        _ => Refusal::Film,
    })
}
