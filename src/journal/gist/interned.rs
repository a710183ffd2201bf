//! Words that repeat, held once.

use std::collections::HashSet;
use std::hash::{BuildHasherDefault, Hasher};
use std::sync::Arc;

/// The words met so far.
#[derive(Default)]
pub struct Interned(HashSet<Arc<str>, Quick>);

/// For keys that nobody chooses to do harm: words of the studio's own journal, looked up a million times for a question.
pub type Quick = BuildHasherDefault<Mixed>;

/// Eight bytes at a time, each time multiplied by the golden ratio's fraction as Knuth advises (The Art of Computer
/// Programming, vol. 3, section 6.4).
#[derive(Default)]
pub struct Mixed(u64);

impl Interned {
    /// The one copy of this word.
    pub fn word(&mut self, word: &str) -> Arc<str> {
        if let Some(known) = self.0.get(word) {
            return Arc::clone(known);
        }
        let new: Arc<str> = Arc::from(word);
        self.0.insert(Arc::clone(&new));
        new
    }
}

impl Hasher for Mixed {
    fn write(&mut self, bytes: &[u8]) {
        let (eights, rest) = bytes.as_chunks::<8>();
        for eight in eights {
            self.write_u64(u64::from_le_bytes(*eight));
        }
        let rest = rest.iter().rev();
        self.write_u64(rest.fold(0, |all, byte| all << 8 | u64::from(*byte)));
    }

    fn write_u64(&mut self, eight: u64) {
        let mixed = (self.0.rotate_left(5) ^ eight).wrapping_mul(0x9e37_79b9_7f4a_7c15);
        // The product's upper half is the well mixed one, but tables look at the lower bits too.
        self.0 = mixed ^ (mixed >> 32);
    }

    /// The mark behind every text.
    fn write_u8(&mut self, byte: u8) {
        self.0 = self.0.rotate_left(5) ^ u64::from(byte);
    }

    fn finish(&self) -> u64 {
        self.0
    }
}
