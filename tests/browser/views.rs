//! Every view of the page.

use crate::browser::Browser;

/// One view.
pub struct View {
    /// What its pictures are called.
    pub name: &'static str,
    path: &'static str,
    /// A link that leads on from there: where the address holds a number that is not known before.
    link: Option<&'static str>,
}

const fn view(name: &'static str, path: &'static str) -> View {
    View {
        name,
        path,
        link: None,
    }
}

/// The views that `docs/` shows, those of the six places first.
pub const VIEWS: [View; 19] = [
    view("shelf", "/"),
    view("pot", "/pot"),
    view("line", "/line"),
    view("desk", "/desk"),
    view("market", "/market"),
    view("studio", "/studio"),
    view("piece", "/piece/LB007"),
    View {
        link: Some(".stages li:last-child a.stage"),
        ..view("photo", "/piece/LB007")
    },
    view(
        "answer",
        "/desk?q=Which+mordant+gave+the+warmest+yellows%3F",
    ),
    view("drying", "/desk/drying"),
    view("notes", "/market/notes?pieces=LB007"),
    view("note", "/market/note/LB007"),
    view("washing", "/desk/washing"),
    view("bundle", "/pot/bundle"),
    view("foreseen", "/pot/wet?piece=LB007"),
    view("values", "/studio/values"),
    view("baths", "/studio/baths"),
    view("words", "/studio/words"),
    view("sheets", "/studio/sheets"),
];

/// Views that are met seldom, and are shown in no picture.
pub const SELDOM: [View; 6] = [
    view("charts", "/studio/charts"),
    view("nothing found", "/?words=nonsense"),
    view("no such piece", "/piece/LB999"),
    view("a bundle again", "/pot/bundle/B03"),
    view("not understood", "/desk?q=Hm"),
    view("several notes", "/market/notes?pieces=LB001+LB002+LB999"),
];

impl View {
    /// Its address.
    pub fn path(&self) -> &'static str {
        self.path
    }

    /// Opens it.
    pub fn open(&self, browser: &Browser) {
        browser.go(self.path);
        if let Some(link) = self.link {
            browser.there(link);
            let path = browser.script("return document.querySelector(arguments[0]).pathname", link);
            browser.go(path.as_str().expect("a path"));
        }
        browser.there("main");
    }
}
