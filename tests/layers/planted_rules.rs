//! Plants a violation of each other rule, and expects it to be found.

use super::planted::{finds, one, planted_in};
use super::table::{ALL, Row, TABLE, check_table};

#[test]
fn a_module_that_the_table_lacks() {
    let words = ["`forge` is missing from the table of layers", "give it a row"];
    finds("src/forge.rs", "pub struct Forge;", &[words[0], words[1], "src/forge.rs"]);
    finds("src/forge/fire.rs", "pub struct Forge;", &[words[0], words[1], "src/forge/fire.rs"]);
    finds("src/lib.rs", "pub mod forge;", &[words[0], words[1], "src/lib.rs:8"]);
    finds("src/report/mod.rs", "use crate::forge::Forge;", &[words[0], words[1], "src/report/mod.rs:4"]);
}

#[test]
fn a_cycle_in_the_table() {
    let table: &[Row] = &[(0, "a", &["b"]), (0, "b", &["a"])];
    one(&check_table(table), &["`a` may not use `b`, which is not listed above it", "no cycle"]);
    one(&check_table(&[(0, "a", &["a"])]), &["`a` may not use `a`"]);
    one(&check_table(&[(1, "a", &[]), (0, "b", &[])]), &["`b` stands below a higher layer"]);
    one(&check_table(&[(0, "a", &[]), (0, "a", &[])]), &["`a` is listed twice"]);
}

/// Each row alone looks innocent; together they lead from the estimate to the soak.
#[test]
fn a_detour_in_the_table_and_in_the_code() {
    let table: &[Row] = &[
        (2, "soak", &[]),
        (4, "features", &["soak"]),
        (5, "known", &["features"]),
        (6, "estimate", &["known"]),
    ];
    one(&check_table(table), &["table: `estimate` reaches `soak` (estimate -> known -> features -> soak)"]);
    let table: &[Row] = &[(3, "spark", &[]), (3, "witness", &["spark"]), (4, "prediction", &["witness"])];
    let wrong = check_table(table);
    assert!(
        wrong.iter().any(|w| w.contains("`prediction` reaches `spark` (prediction -> witness -> spark)"))
    );

    let wrong = planted_in("src/features.rs", "use crate::soak::SoakLog;");
    assert_eq!(wrong.len(), 2, "{wrong:#?}");
    assert!(wrong[0].contains("src/features.rs:3: `features` (layer 4) may not use `soak` (layer 2)"));
    assert!(wrong[1].contains("src: `estimate` reaches `soak` (estimate -> features -> soak)"));
}

#[test]
fn the_world_outside() {
    for (text, named) in [
        ("fn f() { std::fs::read(\"x\"); }", "std::fs"),
        ("use std::{fmt, fs::File};", "std::fs"),
        ("use std::fs as store;", "std::fs"),
        ("use ::std::net::TcpStream;", "std::net"),
        ("fn f() { std::process::exit(1) }", "std::process"),
        ("fn f() { format!(\"{:?}\", std::env::args()); }", "std::env"),
        ("use std::io; fn f() { io::stdin(); }", "std::io::stdin"),
        ("use std::io::{self, Write}; fn f() { writeln!(io::stdout(), \"x\"); }", "std::io::stdout"),
        ("use std::time; fn f() { time::Instant::now(); }", "std::time::Instant"),
        ("use std::time::{Duration, SystemTime};", "std::time::SystemTime"),
        ("use std as s; fn f() { s::fs::read(\"x\"); }", "std::fs"),
    ] {
        let start = format!("src/steel.rs:3: `steel` touches {named}: only `files`, `cli` and `serve`");
        finds("src/steel.rs", text, &[&start, "take the value as an argument"]);
    }
    assert!(
        planted_in("src/steel.rs", "use std::io::*;").iter().any(|w| w.contains("touches std::io::stdin"))
    );
    // through what the parent module imported
    let wrong = planted_in("src/soak/mod.rs", "use std::fs;\nmod a { fn f() { super::fs::read(\"x\"); } }");
    assert_eq!(wrong.len(), 2, "{wrong:#?}");
}

#[test]
fn the_terminal() {
    for name in ["println", "eprintln", "print", "eprint", "dbg"] {
        let start = format!("src/steel.rs:3: `steel` calls {name}!: only `files`, `cli` and `serve`");
        finds("src/steel.rs", &format!("fn f() {{ {name}!(\"x\"); }}"), &[&start]);
        finds("src/steel.rs", &format!("fn f() {{ with!(|| {{ std::{name}!(\"x\") }}); }}"), &[&start]);
    }
}

#[test]
fn formats_outside_files() {
    let twin = "only `files` knows formats; give the type a twin there";
    for (file, line, module) in [("src/steel.rs", 3, "steel"), ("src/cli.rs", 1, "cli")] {
        let start = |what: &str| format!("{file}:{line}: `{module}` {what}");
        for name in ["serde", "toml", "csv", "serde_json"] {
            finds(
                file,
                &format!("fn f() {{ {name}::go(); }}"),
                &[&start(&format!("names the crate `{name}`")), twin],
            );
            finds(file, &format!("use {name};"), &[&start(&format!("names the crate `{name}`"))]);
            finds(
                file,
                &format!("#[cfg(test)] use {name}::a;"),
                &[&start(&format!("names the crate `{name}`"))],
            );
        }
        finds(file, "#[derive(Debug, Serialize)] struct S;", &[&start("derives Serialize"), twin]);
        finds(
            file,
            "#[cfg_attr(unix, derive(Deserialize))] struct S;",
            &[&start("derives Deserialize"), twin],
        );
        finds(file, "struct S { #[serde(skip)] x: u8 }", &[&start("names the crate `serde`")]);
        finds(file, "use serde as s;", &[&start("names the crate `serde`")]);
    }
}

#[test]
fn what_cannot_be_followed() {
    finds("src/steel.rs", "#[path = \"elsewhere.rs\"] mod a;", &["src/steel.rs:3:", "#[path]"]);
    finds("src/steel.rs", "include!(\"elsewhere.rs\");", &["src/steel.rs:3:", "include!"]);
    finds("src/steel.rs", "fn {", &["src/steel.rs:3:", "is not Rust that can be read"]);
}

#[test]
fn a_file_that_is_too_long() {
    assert!(planted_in("src/photo.rs", &"\n".repeat(400)).is_empty());
    finds("src/photo.rs", &"\n".repeat(401), &["src/photo.rs: 401 lines, more than 400", "split it"]);
}

#[test]
fn the_table_is_whole() {
    assert_eq!(TABLE.iter().map(|(_, name, _)| *name).collect::<Vec<_>>(), ALL);
    assert_eq!(check_table(TABLE), Vec::<String>::new());
}
