//! What is said of the mean of several pieces.

use super::*;

/// The mean in words: told from three pieces on, and what its range rests on.
#[test]
fn a_mean_says_what_it_rests_on() {
    let of = |pieces, mean, range: Option<(f64, f64)>, pots, without_pot| Lightening {
        pieces,
        mean: Some(mean),
        low: range.map(|(low, _)| low),
        high: range.map(|(_, high)| high),
        pots,
        without_pot,
    };
    let check = |all: Lightening, told: &str| assert_eq!(all.in_words().as_deref(), Some(told));
    assert_eq!(Lightening::default().in_words(), None);
    check(
        of(1, 5.0, None, 1, 0),
        "Only one of these pieces was measured both wet and dry; an average is told from three on.",
    );
    check(
        of(2, 5.0, Some((-12.0, 22.0)), 2, 0),
        "Only two of these pieces were measured both wet and dry; an average is told from three on.",
    );
    check(
        of(3, 5.0, None, 1, 0),
        "On average 3 pieces dried 5.0 L* lighter; all were in one pot, which cannot tell how far pots differ.",
    );
    check(
        of(3, -1.0, Some((-3.0, 1.0)), 3, 0),
        "On average 3 pieces dried 1.0 L* darker; the mean lies between -1.0 and 3.0, as far as these pots tell.",
    );
    check(
        of(9, 8.2, Some((7.8, 8.6)), 0, 9),
        "On average 9 pieces dried 8.2 L* lighter; the mean lies between 7.8 and 8.6, if every piece of no known pot is taken as a pot of its own, which may promise too much.",
    );
}
