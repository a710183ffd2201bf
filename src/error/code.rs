use super::{Error, Result};

/// The longest code of a piece, in characters.
pub const LONGEST_CODE: usize = 32;

/// Whether `code` can be the code of a piece: 1 to [`LONGEST_CODE`] characters without colon, slash, backslash or control
/// character, and without space at either end. The error says what is wrong with it.
pub fn check_code(code: &str) -> Result<()> {
    let wrong = if code.trim().is_empty() {
        Some("it is empty".to_owned())
    } else if code.trim() != code {
        Some("it begins or ends with a space".to_owned())
    } else if code.chars().count() > LONGEST_CODE {
        Some(format!("it is longer than {LONGEST_CODE} characters"))
    } else if code.chars().any(char::is_control) {
        Some("it holds a line break or another invisible character".to_owned())
    } else {
        let barred = code.chars().find(|c| matches!(c, ':' | '/' | '\\'));
        barred.map(|c| format!("it holds “{c}”"))
    };
    match wrong {
        None => Ok(()),
        Some(why) => Err(Error::caller(format!(
            "“{}” cannot be a piece's code: {why}. Choose a short one such as LB007.",
            code.escape_debug()
        ))),
    }
}
