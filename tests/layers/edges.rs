//! Every path that the sources name, and what each stands for.

use super::reader::read_file;
use std::collections::{BTreeMap, BTreeSet};

/// Where a path is named.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum How {
    Use,
    /// `use x::*`, and whether others can import it from here.
    Glob {
        public: bool,
    },
    /// An expression, a type, a pattern, or words in a macro.
    Path,
    /// `name!(...)`
    Call,
    /// `#[name(...)]`
    Attribute,
    /// Words inside `#[...(...)]`.
    InAttribute,
}

/// One path as written, and the module it is written in.
pub(crate) struct Named {
    pub(crate) file: String,
    pub(crate) line: usize,
    pub(crate) scope: Vec<String>,
    pub(crate) path: Vec<String>,
    pub(crate) how: How,
    /// Compiled for tests only.
    pub(crate) test: bool,
}

/// All sources, read.
#[derive(Default)]
pub(crate) struct Code {
    pub(crate) named: Vec<Named>,
    /// What the checker cannot follow, or cannot read: file, line, in words.
    pub(crate) hidden: Vec<(String, usize, String)>,
    /// Every `mod`: its path, file and line.
    pub(crate) modules: BTreeMap<Vec<String>, (String, usize)>,
    /// Files that a `#[cfg(test)] mod x;` brings in.
    pub(crate) test_modules: BTreeSet<Vec<String>>,
    /// Names that `use` brings into a module.
    pub(crate) imports: BTreeMap<(Vec<String>, String), Vec<Vec<String>>>,
}

/// `src/soak/log.rs` is `soak::log`; `src/lib.rs` is the root; `src/main.rs` stands by itself.
pub(crate) fn module_of(file: &str) -> Vec<String> {
    let inside = file.strip_prefix("src/").unwrap_or(file).trim_end_matches(".rs");
    let mut parts: Vec<String> = inside.split('/').map(str::to_owned).collect();
    if parts.last().is_some_and(|last| last == "mod") || parts == ["lib"] {
        parts.pop();
    }
    parts
}

impl Code {
    pub(crate) fn read(sources: &[(String, String)]) -> Self {
        let mut code = Self::default();
        for (file, text) in sources {
            match syn::parse_file(text) {
                Ok(parsed) => read_file(file, &parsed, &mut code),
                Err(e) => {
                    let line = e.span().start().line;
                    code.hidden.push((file.clone(), line, format!("is not Rust that can be read: {e}")));
                }
            }
        }
        let Self { named, test_modules, .. } = &mut code;
        for name in named {
            name.test |= test_modules.iter().any(|m| name.scope.starts_with(m));
        }
        code
    }

    /// The path from the root, as written and after each import or re-export it goes through.
    pub(crate) fn resolve(&self, named: &Named) -> Vec<Vec<String>> {
        let mut forms = vec![self.rooted(&named.scope, &named.path)];
        let mut followed = BTreeSet::new();
        let mut at = 0;
        while at < forms.len() {
            let form = forms[at].clone();
            for end in 1..form.len() {
                let key = (form[1..end].to_vec(), form[end].clone());
                if form[0] != "crate" || !self.imports.contains_key(&key) || !followed.insert(key.clone()) {
                    continue;
                }
                for target in &self.imports[&key] {
                    let mut next = self.rooted(&key.0, target);
                    next.extend_from_slice(&form[end + 1..]);
                    if !forms.contains(&next) {
                        forms.push(next);
                    }
                }
            }
            at += 1;
        }
        forms
    }

    /// The path from the root of the crate, or from another crate.
    fn rooted(&self, scope: &[String], path: &[String]) -> Vec<String> {
        let under = |scope: &[String], rest: &[String]| [&["crate".to_owned()], scope, rest].concat();
        match path[0].as_str() {
            "crate" | "snapspark" => under(&[], &path[1..]),
            "::" if path.get(1).is_some_and(|krate| krate == "snapspark") => under(&[], &path[2..]),
            "::" => path[1..].to_vec(),
            "self" | "super" => {
                let words = path.iter().take_while(|word| *word == "self" || *word == "super").count();
                let up = path[..words].iter().filter(|word| *word == "super").count();
                under(&scope[..scope.len().saturating_sub(up)], &path[words..])
            }
            first => {
                let child = [scope, &[first.to_owned()]].concat();
                let here = self.modules.contains_key(&child)
                    || self.imports.contains_key(&(scope.to_vec(), first.to_owned()));
                if here { under(scope, path) } else { path.to_vec() }
            }
        }
    }
}
