//! Everybody can use every view: WCAG 2.2 AA as far as a program can tell, narrow screens, reduced motion.

use crate::browser::{self, Browser, Screen, on};
use crate::studio::Studio;
use crate::views::{SELDOM, VIEWS, View};
use serde_json::json;
use std::path::Path;

/// Rules of axe-core for the success criteria of WCAG 2.0, 2.1 and 2.2, levels A and AA.
const RULES: [&str; 5] = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

fn all() -> impl Iterator<Item = &'static View> {
    VIEWS.iter().chain(&SELDOM)
}

/// Checked by the open-source engine axe-core, in light and in dark.
#[test]
fn nothing_keeps_anybody_out() {
    let Some(engine) = engine() else { return };
    on(&Screen::BOTH, Studio::waiting, |browser, _| {
        let mut found = Vec::new();
        for scheme in ["light", "dark"] {
            browser.prefers("prefers-color-scheme", scheme);
            for view in all() {
                view.open(browser);
                let wrong = checked(browser, &engine);
                found.extend(
                    wrong
                        .into_iter()
                        .map(|it| format!("{} ({scheme}): {it}", view.name)),
                );
            }
        }
        for view in &SELDOM {
            browser.forget(view.path());
        }
        assert!(found.is_empty(), "{}", found.join("\n"));
    });
}

/// The engine, where `.ci/run` fetched it.
pub fn engine() -> Option<String> {
    let engine = Path::new(env!("CARGO_TARGET_TMPDIR")).join("axe.min.js");
    let engine = std::fs::read_to_string(engine).ok();
    if engine.is_none() {
        browser::missing("axe-core (as `.ci/run` fetches it)");
    }
    engine
}

/// What the engine found wrong: the rule, and where.
pub fn checked(browser: &Browser, engine: &str) -> Vec<String> {
    browser.script(&format!("{engine}\nreturn 0"), ());
    let found = browser.awaited(&format!(
        "const done = arguments[0];
         axe.run(document, {{runOnly: {{type: 'tag', values: {}}}, resultTypes: ['violations']}}).then((found) => done(
           {{rules: found.passes.length, wrong: found.violations.flatMap((it) => it.nodes.map((node) => it.id + ' at ' + node.target + ': ' + node.failureSummary))}}
         ), (error) => done({{wrong: [String(error)]}}))",
        json!(RULES)
    ));
    assert!(
        found["rules"].as_u64().is_some_and(|rules| rules > 8),
        "hardly anything was checked: {found}"
    );
    let wrong = found["wrong"].as_array().into_iter().flatten();
    wrong
        .filter_map(|it| it.as_str().map(str::to_owned))
        .collect()
}

/// WCAG 2.2, 1.4.10: down to 320 pixels nothing has to be moved sideways.
#[test]
fn nothing_is_wider_than_a_narrow_phone() {
    on(&[Screen::Phone], Studio::waiting, |browser, _| {
        for width in [320, 360] {
            browser.size(width, 700);
            for view in all() {
                view.open(browser);
                let wide = browser.script(
                    "const wide = document.documentElement.scrollWidth; if (wide <= innerWidth && innerWidth <= arguments[0]) return '';
                     const out = [...document.querySelectorAll('main *')].filter((it) => it.getBoundingClientRect().right > arguments[0] + 1);
                     return wide + ' wide in ' + innerWidth + ': ' + out.slice(0, 3).map((it) => it.outerHTML.slice(0, 150)).join(' | ')",
                    width,
                );
                assert_eq!(wide, "", "{} at {width}", view.name);
            }
        }
        for view in &SELDOM {
            browser.forget(view.path());
        }
    });
}

/// What can be touched is at least 44 pixels high, as WCAG 2.2 asks in 2.5.5 (level AAA; 2.5.8 asks for 24): hands are wet. Links in
/// running text are as high as the text.
#[test]
fn wet_fingers_meet_what_they_aim_at() {
    on(&[Screen::Phone], Studio::waiting, |browser, _| {
        for view in VIEWS.iter().filter(|view| view.name != "note") {
            view.open(browser);
            let small = browser.script(
                "return [...document.querySelectorAll('main button:not(.corner), main .button, main input:not([type=hidden], [type=radio], [type=checkbox]), main select, main summary, .places a, main label:has(input)')]
                   .filter((it) => { const box = it.getBoundingClientRect(); return box.width > 0 && it.offsetParent && box.height < 43.5; })
                   .map((it) => it.outerHTML.slice(0, 120) + ' ' + it.getBoundingClientRect().height)",
                (),
            );
            assert_eq!(small, json!([]), "{}", view.name);
        }
    });
}

/// Who asks the system for less motion gets none (WCAG 2.2, 2.3.3).
#[test]
fn nothing_moves_for_who_wants_it_still() {
    on(&[Screen::Desk], Studio::waiting, |browser, _| {
        browser.prefers("prefers-reduced-motion", "reduce");
        for view in &VIEWS {
            view.open(browser);
            let moving = browser.script(
                "return [...document.querySelectorAll('*')].filter((it) => {
                   const style = getComputedStyle(it);
                   return style.transitionDuration.split(',').some((time) => parseFloat(time) > 0)
                     || (style.animationName !== 'none' && parseFloat(style.animationDuration) > 0)
                     || style.scrollBehavior === 'smooth';
                 }).map((it) => it.outerHTML.slice(0, 120))",
                (),
            );
            assert_eq!(moving, json!([]), "{}", view.name);
        }
    });
}
