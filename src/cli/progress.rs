//! A progress bar on standard error, where that is a terminal.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// A bar for photos; draws nothing unless `shown`.
pub(super) fn bar(shown: bool) -> ProgressBar {
    let target = if shown {
        ProgressDrawTarget::stderr()
    } else {
        ProgressDrawTarget::hidden()
    };
    let bar = ProgressBar::with_draw_target(Some(0), target);
    if let Ok(style) =
        ProgressStyle::with_template("{msg} {bar:32} {pos} of {len} photos, {eta} left")
    {
        bar.set_style(style.progress_chars("=> "));
    }
    bar
}
