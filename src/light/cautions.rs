//! What the reader must know of a light told from tags.

use super::References;
use super::sample::Sample;
use crate::error::Caution;

/// From here up a difference between the sides of the quiet zone is a shadow or a bright spot: an eighth of the light.
pub(super) const SHADED: f64 = 0.125;

/// From here down a tag is at a slant: turned by 45°.
const SLANTED: f64 = 0.7;

/// From here down blur reaches the middle of a module, in pixels.
const SMALL: f64 = 4.0;

/// From here up two tags of one picture are lit differently, CIEDE2000 of their paper.
const APART: f64 = 2.0;

pub(super) fn cautions(samples: &[Sample], references: &References, apart: f64) -> Vec<Caution> {
    let any = |is: fn(&Sample) -> bool| samples.iter().any(is);
    let assumed = !(references.paper_known && references.ink_known);
    let all = [
        (
            any(|s| s.clipped.contains(&true)),
            "white-clipped",
            "The tag's paper is too bright for the camera to hold, so light colours cannot be told exactly; take the photo \
             again a little darker.",
        ),
        (
            any(|s| s.uneven > SHADED),
            "tag-shaded",
            "One side of the tag is clearly darker than the other; lay it flat beside the cloth, away from shadows and \
             reflections, and take the photo again.",
        ),
        (
            any(|s| s.facing < SLANTED),
            "tag-tilted",
            "The tag stands at a slant and may catch other light than the cloth; lay it flat beside the cloth and hold the \
             camera straight above.",
        ),
        (
            any(|s| s.module < SMALL),
            "tag-small",
            "The tag is so small in the picture that its black and white run into each other; go nearer.",
        ),
        (
            apart > APART,
            "tags-differ",
            "The tags in this picture are lit differently, so the cloth probably is too; look for even light, such as open \
             shade.",
        ),
        (
            assumed,
            "paper-assumed",
            "The colours of the tag's paper and ink are assumed; measure or look up your own and give them once with \
             “filemot set paper L,a,b” and “filemot set ink L,a,b”, then run “filemot remeasure”.",
        ),
    ];
    let mut cautions = Vec::new();
    for (holds, code, text) in all {
        if holds {
            cautions.push(Caution::new(code, text));
        }
    }
    cautions
}
