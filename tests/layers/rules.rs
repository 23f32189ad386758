//! The rules of the layers, over sources held in memory.

use super::edges::{Code, How, Named, module_of};
use super::table::{Row, Uses, check_apart, check_table};
use std::collections::{BTreeMap, BTreeSet};

/// Modules that may touch disk, network, clock or terminal.
const OUTSIDE: &[&str] = &["files", "cli", "serve", "main"];

const OUTSIDE_PATHS: &[&[&str]] = &[
    &["std", "fs"],
    &["std", "net"],
    &["std", "process"],
    &["std", "env"],
    &["std", "io", "stdin"],
    &["std", "io", "stdout"],
    &["std", "io", "stderr"],
    &["std", "time", "SystemTime"],
    &["std", "time", "Instant"],
];

const PRINTING: &[&str] = &["print", "println", "eprint", "eprintln", "dbg"];

/// The one module that knows formats, and the crates it knows them with.
const FORMATS: &str = "files";
const FORMAT_CRATES: &[&str] = &["serde", "serde_json", "toml", "csv"];
const FORMAT_DERIVES: &[&str] = &["Serialize", "Deserialize"];

const MOST_LINES: usize = 400;

/// One module naming another.
pub(crate) struct Edge {
    pub(crate) from: String,
    pub(crate) to: String,
    pub(crate) place: (String, usize),
    written: String,
    test: bool,
}

/// Everything that is wrong with these sources (path from the project's root, text), in words.
pub(crate) fn check(sources: &[(String, String)], table: &[Row]) -> Vec<String> {
    let code = Code::read(sources);
    let edges = edges(&code);
    let mut wrong = check_table(table);
    wrong.extend(code.hidden.iter().map(|(file, line, what)| format!("{file}:{line}: {what}")));
    wrong.extend(check_listed(sources, &code, &edges, table));
    wrong.extend(check_edges(&edges, table));
    wrong.extend(check_apart("src", &direct(&edges)));
    // the same fault twice on one line is one fault
    let named: BTreeSet<String> = code.named.iter().flat_map(|n| check_name(&code, n)).collect();
    wrong.extend(named);
    for (file, text) in sources {
        let lines = text.lines().count();
        if lines > MOST_LINES {
            wrong.push(format!(
                "{file}: {lines} lines, more than {MOST_LINES}: split it by noun, one main type each"
            ));
        }
    }
    wrong
}

/// Every use of one module by another, once for each line.
pub(crate) fn edges(code: &Code) -> Vec<Edge> {
    let mut found = BTreeMap::new();
    for named in &code.named {
        let Some(from) = named.scope.first() else { continue };
        let forms = code.resolve(named);
        for form in forms.iter().filter(|form| form[0] == "crate") {
            let Some(to) = form.get(1).filter(|to| *to != from) else { continue };
            let written = if form == &forms[0] {
                format!("`{}`", form.join("::"))
            } else {
                format!("`{}`, which is `{}`", forms[0].join("::"), form.join("::"))
            };
            let (from, to, test) = (from.clone(), to.clone(), named.test);
            let place = (named.file.clone(), named.line);
            let key = (place.clone(), to.clone(), test);
            found.entry(key).or_insert(Edge { from, to, place, written, test });
        }
    }
    found.into_values().collect()
}

/// Uses outside test code.
pub(crate) fn direct(edges: &[Edge]) -> Uses {
    let mut uses = Uses::new();
    for edge in edges.iter().filter(|e| !e.test) {
        let of = uses.entry(edge.from.clone()).or_default();
        if !of.contains(&edge.to) {
            of.push(edge.to.clone());
        }
    }
    uses
}

/// No module escapes the table.
fn check_listed(sources: &[(String, String)], code: &Code, edges: &[Edge], table: &[Row]) -> Vec<String> {
    let files = sources.iter().filter_map(|(file, _)| Some((module_of(file).first()?.clone(), file.clone())));
    let declared = code
        .modules
        .iter()
        .filter(|(path, _)| path.len() == 1)
        .map(|(path, (file, line))| (path[0].clone(), format!("{file}:{line}")));
    let named = edges.iter().map(|e| (e.to.clone(), format!("{}:{}", e.place.0, e.place.1)));
    let mut wrong = BTreeMap::new();
    for (module, place) in files.chain(declared).chain(named) {
        if module != "main" && !table.iter().any(|(_, name, _)| *name == module) {
            wrong.entry(module.clone()).or_insert(format!(
                "{place}: `{module}` is missing from the table of layers: give it a row, with its layer and \
                 what it may use"
            ));
        }
    }
    wrong.into_values().collect()
}

fn check_edges(edges: &[Edge], table: &[Row]) -> Vec<String> {
    let mut wrong = Vec::new();
    for Edge { from, to, place: (file, line), written, test } in edges {
        let row = |module: &str| table.iter().find(|(_, name, _)| *name == module);
        // a missing row is reported by itself; `main` stands above all layers
        let (Some((from_layer, _, may_use)), Some((to_layer, _, _))) = (row(from), row(to)) else { continue };
        if *test || may_use.contains(&to.as_str()) {
            continue;
        }
        wrong.push(format!(
            "{file}:{line}: `{from}` (layer {from_layer}) may not use `{to}` (layer {to_layer}); it names \
             {written}. It may use: {}. Pass the value in from a higher module, or move what both need lower",
            if may_use.is_empty() { "nothing".to_owned() } else { may_use.join(", ") }
        ));
    }
    wrong
}

fn check_name(code: &Code, named: &Named) -> Vec<String> {
    let Named { file, line, scope, how, test, .. } = named;
    let module = scope.first().map_or("lib", String::as_str);
    let forms = code.resolve(named);
    let imported = matches!(how, How::Use | How::Glob { .. });
    let mut wrong = Vec::new();
    let mut say = |what: String| wrong.push(format!("{file}:{line}: `{module}` {what}"));

    if module != FORMATS {
        for form in &forms {
            let krate = FORMAT_CRATES.iter().find(|c| **c == form[0]);
            // one word alone is a local name
            if let Some(krate) = krate.filter(|_| form.len() > 1 || imported || *how == How::Attribute) {
                say(format!(
                    "names the crate `{krate}`: only `{FORMATS}` knows formats; give the type a twin there"
                ));
            }
        }
        let last = forms[0].last().filter(|_| *how == How::InAttribute);
        if let Some(name) = last.filter(|name| FORMAT_DERIVES.contains(&name.as_str())) {
            say(format!("derives {name}: only `{FORMATS}` knows formats; give the type a twin there"));
        }
    }
    if *test {
        return wrong;
    }
    let mut say = |what: String| wrong.push(format!("{file}:{line}: `{module}` {what}"));
    if !OUTSIDE.contains(&module) {
        for outside in OUTSIDE_PATHS {
            let meets = |form: &Vec<String>| {
                let glob = matches!(how, How::Glob { .. }) && form.iter().zip(*outside).all(|(a, b)| a == b);
                glob || (form.len() >= outside.len() && form.iter().zip(*outside).all(|(a, b)| a == b))
            };
            if forms.iter().any(meets) {
                say(format!(
                    "touches {}: only `files`, `cli` and `serve` reach disk, network, clock or terminal; take \
                     the value as an argument",
                    outside.join("::")
                ));
            }
        }
        let printing = forms[0].last().filter(|name| *how == How::Call && PRINTING.contains(&name.as_str()));
        if let Some(name) = printing {
            say(format!(
                "calls {name}!: only `files`, `cli` and `serve` reach the terminal; return the text"
            ));
        }
    }
    if !imported {
        return wrong;
    }
    if module == "lib" {
        say("imports in src/lib.rs: it lists modules only, so that each name tells its module".to_owned());
    }
    for form in forms.iter().filter(|form| form[0] == "crate") {
        let public_glob = *how == How::Glob { public: true };
        if form.len() == 1 {
            say("imports the whole crate, which hides what it uses: name the modules".to_owned());
        } else if public_glob && form[1] != module {
            say(format!("re-exports all of `{}`, which hides who uses it: list the names", form[1]));
        }
    }
    wrong
}
