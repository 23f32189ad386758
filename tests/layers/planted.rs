//! Plants each way of naming a module in a small tree that is clean otherwise, and expects it to be found.

use super::rules::check;
use super::table::TABLE;

/// A clean tree: uses go down, tests may use anything, `files` reads and knows formats.
const CLEAN: &[(&str, &str)] = &[
    (
        "src/lib.rs",
        "pub mod units;\npub mod steel;\npub mod soak;\npub mod features;\npub mod estimate;\npub mod report;\n\
         pub mod files;",
    ),
    ("src/main.rs", "fn main() { snapspark::files::load(); println!(\"done\"); }"),
    ("src/units/mod.rs", "mod depth;\npub use depth::Depth;"),
    (
        "src/units/depth.rs",
        "#[derive(Debug)]\npub struct Depth(pub f64);\nimpl Depth { fn m(&self) -> f64 { self.0 } }",
    ),
    ("src/steel.rs", "use crate::units::Depth;\npub struct Steel { pub(in crate::steel) thick: Depth }"),
    (
        "src/soak/mod.rs",
        "pub mod pack;\nuse crate::steel::Steel as Stock;\nuse std::io::Read;\npub struct SoakLog(Stock);",
    ),
    ("src/soak/pack.rs", "use super::*;\nuse super::super::units::{self, Depth};"),
    ("src/features.rs", "pub use crate::steel::Steel;\npub struct Features;"),
    (
        "src/estimate.rs",
        "use crate::features::{Features, Steel};\nfn go(toml: Features) { toml.see(env!(\"X\")) }",
    ),
    // a submodule may share a module's name
    ("src/report/mod.rs", "mod soak;\npub use soak::{Line, soak};\nuse crate::soak::SoakLog;"),
    ("src/report/soak.rs", "pub struct Line;\npub fn soak() -> Line { super::soak::Line }"),
    (
        "src/files.rs",
        "use serde::Deserialize;\n#[derive(Deserialize)]\nstruct Twin;\npub fn load() { std::fs::read(\"x\"); }",
    ),
];

/// What is wrong once `text` is added to the end of `file`, which may be new.
pub(crate) fn planted_in(file: &str, text: &str) -> Vec<String> {
    let mut sources: Vec<(String, String)> =
        CLEAN.iter().map(|(f, t)| ((*f).to_owned(), (*t).to_owned())).collect();
    if let Some((_, old)) = sources.iter_mut().find(|(f, _)| f == file) {
        *old = format!("{old}\n{text}");
    } else {
        sources.push((file.to_owned(), text.to_owned()));
    }
    check(&sources, TABLE)
}

/// `text`, as all of `src/estimate/planted.rs`, is found on `line` to use `soak`: the edge and the detour.
fn finds_soak(line: usize, text: &str) {
    let wrong = planted_in("src/estimate/planted.rs", text);
    let place = format!("src/estimate/planted.rs:{line}: `estimate` (layer 6) may not use `soak` (layer 2)");
    assert!(wrong.iter().any(|w| w.starts_with(&place)), "{text}\n{wrong:#?}");
    assert!(wrong.iter().any(|w| w.starts_with("src: `estimate` reaches `soak`")), "{text}\n{wrong:#?}");
    assert_eq!(wrong.len(), 2, "{text}\n{wrong:#?}");
}

/// One fault and no other, told with these words.
#[track_caller]
pub(crate) fn finds(file: &str, text: &str, words: &[&str]) {
    one(&planted_in(file, text), words);
}

#[track_caller]
pub(crate) fn one(wrong: &[String], words: &[&str]) {
    assert!(wrong.len() == 1 && words.iter().all(|w| wrong[0].contains(w)), "{words:?}\n{wrong:#?}");
}

#[test]
fn a_clean_tree_passes() {
    assert_eq!(planted_in("src/lib.rs", ""), Vec::<String>::new());
}

#[test]
fn a_plain_use() {
    finds_soak(2, "use crate::units::Depth;\nuse crate::soak::SoakLog;");
    finds_soak(1, "use crate::soak;");
    finds_soak(1, "fn f() { use crate::soak::SoakLog; }");
}

#[test]
fn nested_groups() {
    finds_soak(3, "use crate::{\n    units::Depth,\n    soak::{self, pack::{Pack}},\n};");
    finds_soak(1, "use {crate::{{soak::SoakLog}}};");
}

#[test]
fn super_and_self() {
    finds_soak(1, "use super::super::soak::SoakLog;");
    finds_soak(1, "use self::super::super::soak::SoakLog;");
    finds_soak(2, "fn f() {\n    super::super::soak::pack::go();\n}");
}

#[test]
fn a_full_path_in_an_expression() {
    finds_soak(2, "fn f() {\n    let x = 1 + crate::soak::minutes();\n}");
    finds_soak(1, "fn f() { g(|| crate::soak::SoakLog { x: 1 }); }");
}

#[test]
fn a_full_path_in_a_type() {
    finds_soak(1, "struct S { x: Vec<Option<crate::soak::SoakLog>> }");
    finds_soak(1, "impl From<crate::soak::SoakLog> for S {}");
    finds_soak(1, "fn f<T: crate::soak::Timed>() -> <T as crate::soak::Timed>::Out {}");
    finds_soak(1, "type T = dyn Fn(&crate::soak::SoakLog);");
}

#[test]
fn a_full_path_in_a_pattern() {
    finds_soak(1, "fn f() { match x { crate::soak::Step::Cool { .. } => 1, _ => 2 } }");
}

#[test]
fn inside_a_macro() {
    finds_soak(2, "fn f() {\n    format!(\"{}\", crate::soak::minutes());\n}");
    finds_soak(1, "macro_rules! m { ($x:ident) => { $crate::soak::$x() } }");
    finds_soak(1, "lazy! { use crate::{units, soak::SoakLog as Log}; }");
    finds_soak(1, "fn f() { crate::soak::made!(1); }");
}

#[test]
fn in_an_attribute() {
    finds_soak(1, "#[crate::soak::mark]\nfn f() {}");
    finds_soak(1, "#[mark(crate::soak::Log)]\nfn f() {}");
    finds_soak(1, "#[mark(with = \"crate::soak::log\")]\nfn f() {}");
}

#[test]
fn a_rename() {
    finds_soak(1, "use crate::soak as warmth;\nuse crate::units as soak;");
    finds_soak(1, "use crate::soak::{SoakLog as Features};");
}

#[test]
fn a_glob() {
    finds_soak(1, "use crate::soak::*;");
    finds_soak(1, "use crate::soak::{pack::*};");
}

#[test]
fn the_whole_crate() {
    let words = ["src/steel.rs:3: `steel` imports the whole crate", "name the modules"];
    for text in ["use super::*;", "use crate::*;", "use crate as all;", "extern crate self as all;"] {
        finds("src/steel.rs", text, &words);
    }
    // and what is reached through it is seen as well
    let wrong = planted_in("src/estimate/planted.rs", "use crate as all;\nfn f() { all::soak::go(); }");
    assert!(
        wrong
            .iter()
            .any(|w| w.contains("`crate::estimate::planted::all::soak::go`, which is `crate::soak::go`"))
    );
}

#[test]
fn the_name_of_the_crate_itself() {
    finds_soak(1, "fn f() { ::snapspark::soak::go(); }");
    finds_soak(1, "use snapspark::soak::SoakLog;");
}

/// `report` may use `soak`; whoever takes a name of `soak` from `features` uses `soak` all the same.
#[test]
fn a_reexport_through_another_module() {
    let wrong = planted_in("src/features.rs", "pub use crate::soak::{SoakLog as Heat, pack};");
    assert!(!wrong.iter().any(|w| w.contains("src/estimate")), "{wrong:#?}");
    for text in ["use crate::features::Heat;", "fn f() { crate::features::pack::go(); }"] {
        let sources = [
            ("src/features.rs".to_owned(), "pub use crate::soak::{SoakLog as Heat, pack};".to_owned()),
            ("src/estimate.rs".to_owned(), text.to_owned()),
        ];
        let wrong = check(&sources, TABLE);
        let edge = wrong
            .iter()
            .find(|w| w.starts_with("src/estimate.rs:1: `estimate` (layer 6) may not use `soak`"));
        assert!(edge.is_some_and(|w| w.contains(", which is `crate::soak::")), "{wrong:#?}");
    }
    finds(
        "src/report/mod.rs",
        "pub use crate::units::*;",
        &["src/report/mod.rs:4: `report` re-exports all of `units`"],
    );
    finds("src/lib.rs", "pub use units::Depth;", &["src/lib.rs:8: `lib` imports in src/lib.rs"]);
}

#[test]
fn inside_an_inline_module() {
    finds_soak(2, "mod inner {\n    use super::super::super::soak::SoakLog;\n}");
    finds_soak(1, "mod a { mod b { fn f(x: crate::soak::SoakLog) {} } }");
    // stays within `estimate`
    assert!(
        planted_in(
            "src/estimate/planted.rs",
            "mod soak { pub struct A; }\nuse soak::A; use self::soak::A as B;"
        )
        .is_empty()
    );
}

#[test]
fn test_code_may_use_what_it_likes() {
    for text in [
        "#[cfg(test)]\nmod tests { use crate::soak::SoakLog; fn f() { std::fs::read(\"x\"); println!(); } }",
        "#[cfg(all(test, unix))]\nuse crate::soak;",
        "#[test]\nfn f() { crate::soak::go(); }",
        "struct S; impl S { #[cfg(test)] fn f(_: crate::soak::SoakLog) {} }",
        "#![cfg(test)]\nuse crate::soak::SoakLog;",
    ] {
        assert_eq!(planted_in("src/estimate/planted.rs", text), Vec::<String>::new(), "{text}");
    }
    finds_soak(1, "#[cfg(not(test))] use crate::soak;");
    finds_soak(1, "#[cfg(any(test, unix))] use crate::soak;");
}

#[test]
fn a_file_of_tests_is_test_code() {
    let sources = |declared: &str| {
        [("src/steel/mod.rs", declared), ("src/steel/tests.rs", "use crate::soak::SoakLog;")]
            .map(|(f, t)| (f.to_owned(), t.to_owned()))
    };
    assert_eq!(check(&sources("#[cfg(test)]\nmod tests;"), TABLE), Vec::<String>::new());
    one(
        &check(&sources("mod tests;"), TABLE),
        &["src/steel/tests.rs:1: `steel` (layer 1) may not use `soak` (layer 2)"],
    );
}
