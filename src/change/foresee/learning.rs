//! Which pieces teach how cloth dries.

use super::shades::{self, Shade};
use crate::change::round::{WetAndDry, by_piece};
use crate::change::shown::{Settings, Shown};
use crate::colour::Lab;

/// So many pieces, the newest, are learnt from; more add next to nothing and cost much.
const MOST: usize = 120;

/// A piece that was seen wet, and dry after the same round.
#[derive(Clone, Debug)]
pub struct Learnt {
    pub settings: Settings,
    pub wet: Vec<Shade>,
    pub dry: Vec<Shade>,
    /// Each of its dry photos by itself, which forecasts are judged by.
    pub dry_photos: Vec<Vec<(Lab, f64)>>,
}

/// The newest pieces that were seen wet and dry, newest first, and of which drying can be measured; and the codes of those that were
/// left out because their photos were sooner mixed up than right.
pub fn learnt(photos: &[Shown]) -> (Vec<Learnt>, Vec<String>) {
    let mut pieces: Vec<(&str, WetAndDry)> = by_piece(photos)
        .into_iter()
        .map(|(code, shown)| (code, WetAndDry::of(&shown)))
        .filter(|(_, seen)| !seen.wet.is_empty() && !seen.dry.is_empty())
        .collect();
    pieces.sort_by(|(_, one), (_, other)| made(other).cmp(&made(one)));
    let (mut learnt, mut odd) = (Vec::new(), Vec::new());
    for (code, seen) in pieces {
        let Some(pair) = seen.pair().filter(|pair| seen.both().tell(pair)) else {
            continue;
        };
        if seen.is_mixed_up(&pair) {
            odd.push(code.to_owned());
            continue;
        }
        learnt.push(Learnt {
            settings: seen.wet[0].settings.clone(),
            wet: shades::of(&pair.before),
            dry: shades::of(&pair.after),
            dry_photos: seen.dry.iter().map(|photo| photo.palette()).collect(),
        });
        if learnt.len() == MOST {
            break;
        }
    }
    (learnt, odd)
}

/// When a piece was made, as far as its sheet or its photo tells.
fn made<'a>(seen: &WetAndDry<'a>) -> Option<&'a str> {
    let wet = seen.wet.first()?;
    wet.made.as_deref().or(wet.taken.as_deref())
}
