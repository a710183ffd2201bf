use super::Profile;
use super::camera::ColourSpace;
use super::space::{Curve, Space, adapted};
use crate::colour::srgb_to_xyz;
use crate::error::Caution;
use crate::picture::{Encoding, Samples};
use moxcms::{ColorProfile, DataColorSpace, ProfileText};

/// What the samples mean: the file's own profile, else what EXIF names, else sRGB.
pub(super) fn encoding(
    profile: &Profile,
    grey: bool,
    named: Option<ColourSpace>,
    samples: &Samples,
) -> (Encoding, Option<Caution>) {
    let (space, caution) = match (profile, named) {
        (Profile::Icc(icc), _) => match space(icc, grey) {
            Ok(space) => (space, None),
            Err(caution) => (Space::srgb("assumed sRGB"), Some(caution)),
        },
        (Profile::Broken, _) => (Space::srgb("assumed sRGB"), Some(broken())),
        (Profile::Unused, _) => (Space::srgb("assumed sRGB"), Some(not_used())),
        (Profile::None, Some(ColourSpace::AdobeRgb)) => (Space::adobe_rgb(), None),
        (Profile::DisplayP3, _) => (Space::display_p3(), None),
        (Profile::None, Some(ColourSpace::Uncalibrated)) => {
            (Space::srgb("assumed sRGB"), Some(missing()))
        }
        (Profile::Srgb, _) | (_, Some(ColourSpace::Srgb)) => (Space::srgb("sRGB"), None),
        (Profile::None, None) => (Space::srgb("assumed sRGB"), None),
    };
    let largest = match samples {
        Samples::Eight(_) => u8::MAX.into(),
        Samples::Sixteen(_) => u16::MAX,
    };
    (space.encoding(largest), caution)
}

/// The space of an ICC profile that is built on curves and a matrix, or on a grey curve alone.
fn space(icc: &[u8], grey: bool) -> Result<Space, Caution> {
    let profile = ColorProfile::new_from_slice(icc).map_err(|_| broken())?;
    if profile.pcs != DataColorSpace::Xyz {
        return Err(not_used());
    }
    let (curves, to_xyz) = match profile.color_space {
        DataColorSpace::Rgb => (
            [&profile.red_trc, &profile.green_trc, &profile.blue_trc],
            adapted([
                profile.red_colorant,
                profile.green_colorant,
                profile.blue_colorant,
            ]),
        ),
        DataColorSpace::Gray if grey => ([&profile.gray_trc; 3], Some(srgb_to_xyz())),
        _ => return Err(not_used()),
    };
    let [Some(red), Some(green), Some(blue)] = curves else {
        return Err(not_used());
    };
    let curve = |trc| Curve::of_profile(trc).ok_or_else(broken);
    Ok(Space {
        curves: [curve(red)?, curve(green)?, curve(blue)?],
        to_xyz: to_xyz.ok_or_else(broken)?,
        name: description(&profile),
    })
}

/// The profile's own name for itself, on one line.
fn description(profile: &ColorProfile) -> String {
    let text = match &profile.description {
        Some(ProfileText::PlainString(text)) => text.as_str(),
        Some(ProfileText::Localizable(texts)) => texts.first().map_or("", |t| t.value.as_str()),
        Some(ProfileText::Description(text)) => text.ascii_string.as_str(),
        None => "",
    };
    let text: String = text.chars().filter(|c| !c.is_control()).take(80).collect();
    match text.trim() {
        "" => "a profile without a name".to_owned(),
        text => text.to_owned(),
    }
}

fn broken() -> Caution {
    Caution::new(
        "profile-broken",
        "The colour profile in this file is damaged, so its colours were taken as those of usual screens (sRGB) and may be off: copy or export the photo again.",
    )
}

fn missing() -> Caution {
    Caution::new(
        "profile-missing",
        "The camera says that this photo's colours are not those of usual screens, but the profile that explains them is gone, so they \
         may be off: give the photo as the phone wrote it, not sent by a messenger or saved by an app.",
    )
}

fn not_used() -> Caution {
    Caution::new(
        "profile-not-used",
        "What this file says about its colours is of a kind that is not used here, so they were taken as those of usual screens (sRGB) and \
         may be off: export the photo as sRGB.",
    )
}
