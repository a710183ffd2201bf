//! Letting a phone in: a link that works once gives a key, and who holds a key may come in until the program ends.

use crate::error::{Error, Result};
use std::collections::HashSet;
use std::sync::{Mutex, MutexGuard, PoisonError};

/// Who has been let in.
#[derive(Debug, Default)]
pub(super) struct Share(Mutex<Guests>);

#[derive(Debug, Default)]
struct Guests {
    /// The token of the link that has not been used yet.
    link: Option<String>,
    keys: HashSet<String>,
}

impl Share {
    /// A new link's token; a link that nobody used ends with it.
    ///
    /// # Errors
    /// `Machine` where the system gives no random numbers.
    pub(super) fn new_link(&self) -> Result<String> {
        let token = secret()?;
        self.guests().link = Some(token.clone());
        Ok(token)
    }

    /// The token of the link that still works.
    pub(super) fn link(&self) -> Option<String> {
        self.guests().link.clone()
    }

    /// Whether the link with this token still works.
    pub(super) fn awaits(&self, token: &str) -> bool {
        self.guests().link.as_deref() == Some(token)
    }

    /// A key for who brings the token of the link, which ends with it; `None` for any other.
    ///
    /// # Errors
    /// As [`Share::new_link`].
    pub(super) fn let_in(&self, token: &str) -> Result<Option<String>> {
        let key = secret()?;
        let mut guests = self.guests();
        if guests.link.as_deref() != Some(token) {
            return Ok(None);
        }
        guests.link = None;
        guests.keys.insert(key.clone());
        Ok(Some(key))
    }

    /// Whether somebody was let in with this key.
    pub(super) fn knows(&self, key: &str) -> bool {
        self.guests().keys.contains(key)
    }

    fn guests(&self) -> MutexGuard<'_, Guests> {
        // Every change is one assignment or one insertion, so a panic leaves nothing half done.
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// 160 bits of the system's randomness as 40 hexadecimal digits: longer than any code of a piece, and not to be guessed.
///
/// # Errors
/// `Machine` where the system gives none.
pub(super) fn secret() -> Result<String> {
    let mut bytes = [0_u8; 20];
    getrandom::fill(&mut bytes).map_err(|error| {
        Error::machine("This computer gives no random numbers, so nobody can be let in safely; restart it, then try again.")
            .because(error)
    })?;
    Ok(bytes.iter().map(|byte| format!("{byte:02x}")).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_link_lets_one_in_and_ends() {
        let share = Share::default();
        assert_eq!(share.let_in("").unwrap(), None);
        let old = share.new_link().unwrap();
        let link = share.new_link().unwrap();
        assert!(old != link && link.len() == 40);
        assert_eq!(share.let_in(&old).unwrap(), None);
        let key = share.let_in(&link).unwrap().expect("the link works once");
        assert_eq!(share.let_in(&link).unwrap(), None);
        assert!(share.knows(&key) && !share.knows(&link) && !share.knows(""));
    }
}
