/// Whether a character does something to the screen instead of standing there: control characters, line breaks among them, and the
/// marks that turn the direction of writing against the letters' own.
pub fn is_unruly(c: char) -> bool {
    c.is_control() || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// Whether a character shows nothing of itself, so that two names that look alike differ: control characters, spaces of no
/// width, and the marks that turn the direction of writing. Joiners count as visible: they make other letters of letters.
pub fn is_invisible(c: char) -> bool {
    is_unruly(c)
        || matches!(
            c,
            '\u{ad}' | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{feff}'
        )
        || ('\u{2060}'..='\u{206f}').contains(&c)
}
