//! The paths that a file names, each from where it starts: the crate's root, or another crate.

use crate::source::{Token, starts};

/// A path of at least two names, groups taken apart: `crate::{a, b::c}` is two.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Named {
    /// From the root of this crate (`crate` first), or as written.
    pub path: Vec<String>,
    /// The line of its first name.
    pub line: usize,
}

/// Every path in these tokens, `self` and `super` resolved for the module `module` (`["journal", "photos"]`).
pub fn paths(tokens: &[Token], module: &[String]) -> Vec<Named> {
    let mut reader = Reader {
        tokens,
        at: 0,
        module: module.to_vec(),
        inner: Vec::new(),
        depth: 0,
        found: Vec::new(),
    };
    while reader.at < tokens.len() {
        reader.step();
    }
    reader.found
}

struct Reader<'a> {
    tokens: &'a [Token],
    at: usize,
    /// The module that the tokens stand in now.
    module: Vec<String>,
    /// The depths of braces at which modules inside the file were opened.
    inner: Vec<usize>,
    depth: usize,
    found: Vec<Named>,
}

impl Reader<'_> {
    fn text(&self, ahead: usize) -> &str {
        self.tokens
            .get(self.at + ahead)
            .map_or("", |token| token.text.as_str())
    }

    fn step(&mut self) {
        match self.text(0) {
            // `use<'a>` in a type captures; it imports nothing.
            "use" if self.text(1) != "<" => {
                self.at += 1;
                self.tree(Vec::new());
            }
            "mod" if self.text(2) == "{" => {
                self.module.push(self.text(1).to_owned());
                self.inner.push(self.depth);
                self.depth += 1;
                self.at += 3;
            }
            "{" => {
                self.depth += 1;
                self.at += 1;
            }
            "}" => {
                self.depth = self.depth.saturating_sub(1);
                if self.inner.last() == Some(&self.depth) {
                    self.inner.pop();
                    self.module.pop();
                }
                self.at += 1;
            }
            name if is_name(name) && self.text(1) == "::" => self.tree(Vec::new()),
            "::" if is_name(self.text(1)) => {
                self.at += 1;
                self.tree(Vec::new());
            }
            _ => self.at += 1,
        }
    }

    /// Reads names and groups behind `before`, and notes every path that ends in them.
    fn tree(&mut self, mut before: Vec<String>) {
        let line = self.tokens.get(self.at).map_or(0, |token| token.line);
        if self.text(0) == "::" {
            self.at += 1;
        }
        loop {
            match self.text(0) {
                "{" => return self.group(&before),
                name if is_name(name) || name == "*" => before.push(name.to_owned()),
                _ => break,
            }
            self.at += 1;
            if self.text(0) != "::" {
                break;
            }
            self.at += 1;
        }
        if self.text(0) == "as" {
            self.at += 2;
        }
        let path = self.resolved(before);
        self.found.push(Named { path, line });
    }

    fn group(&mut self, before: &[String]) {
        self.at += 1;
        while !matches!(self.text(0), "}" | "") {
            let start = self.at;
            self.tree(before.to_vec());
            if self.text(0) == "," || self.at == start {
                self.at += 1;
            }
        }
        self.at += 1;
    }

    fn resolved(&self, path: Vec<String>) -> Vec<String> {
        let ups = path.iter().take_while(|name| *name == "super").count();
        let own = usize::from(path.first().is_some_and(|name| name == "self"));
        let ups = ups + path.iter().skip(own).take_while(|n| *n == "super").count() * own;
        if ups + own == 0 || (own == 1 && path.len() == 1) {
            return path;
        }
        let left = self.module.len().saturating_sub(ups);
        let mut whole = vec!["crate".to_owned()];
        whole.extend_from_slice(&self.module[..left]);
        whole.extend_from_slice(&path[ups + own..]);
        whole
    }
}

fn is_name(text: &str) -> bool {
    text.starts_with(|c: char| c.is_alphabetic() || c == '_')
}

/// Whether tokens hold, one after the other, these texts.
pub fn holds(tokens: &[Token], texts: &[&str]) -> bool {
    (0..tokens.len()).any(|at| starts(&tokens[at..], texts))
}
