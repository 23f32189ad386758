//! What `known add`, `remove`, `export`, `import` and `train --set` say as data.

use super::store::Store;
use crate::commands::{Said, run, snapspark};
use serde_json::Value;

const TOLD: &str = "share_bursting = 0.40\nrays = 6\ntiers = \"forked\"\nonset = \"middle\"\n";
const FACE: &str = "[fracture]\nquenched_in = \"oil\"\ndepth = \"0.5 mm\"\n[[point]]\ndepth = \"0.6 mm\"\ncarbon = \"0.4\"\n";

fn data(said: &Said) -> Value {
    assert_eq!(said.code, Some(0), "{}{}", said.out, said.err);
    let data: Value = serde_json::from_str(&said.out).unwrap_or_else(|_| panic!("{}", said.out));
    assert_eq!((&data["schema"], &data["version"]), (&"snapspark-answer".into(), &1.into()));
    data
}

#[test]
fn every_step_is_told_as_data() {
    let store = Store::new();
    store.write("told.toml", TOLD);
    store.write("face.toml", FACE);
    let (a, b) = (store.photo("a.png", 1), store.photo("b.png", 2));
    let day = ["--session", "2026-03-14", "--json"];
    let bench = ["--rig", "bench"];
    let add = |args: &[&str]| data(&store.known(&[&["add"], args, &day].concat()));
    let mut said = vec![add(&[&["--steel", "1095", a][..], &bench].concat())];
    said.push(add(&[&["--steel", "1095", a, b][..], &bench].concat()));
    said.push(add(&[&["--steel", "1045", "--told", "told.toml"][..], &bench].concat()));
    said.push(add(&["--steel", "1018", "--face", "face.toml"]));
    said.push(add(&["--steel", "1018", "--face", "face.toml"]));
    store.photo("in/c.png", 3);
    store.photo("in/d.png", 4);
    store.write("labels.csv", "photo,steel\nc.png,1084\n");
    said.push(add(&[&["--dir", "in", "--labels", "labels.csv"][..], &bench].concat()));
    said.push(data(&run(snapspark().current_dir(store.folder()).args(["train", "--set", "set", "--json"]))));
    said.push(data(&store.known(&["export", "out.tar", "--json"])));
    let name = store.open().faces()[0].0.clone();
    said.push(data(&store.known(&["remove", &name, "--json"])));
    said.push(data(&store.known(&["remove", "--undo", &name, "--json"])));
    said.push(data(&store.known(&["import", "out.tar", "--json"])));
    let name = store.open().records().iter().find(|(_, s)| s.name == "1045").unwrap().0.clone();
    let path = store.open().layout().record(&name);
    let edited = std::fs::read_to_string(&path).unwrap().replace("rig = \"bench\"", "rig = \"belt\"");
    std::fs::write(path, edited).unwrap();
    said.push(data(&store.known(&["import", "out.tar", "--json"])));
    let all: Vec<String> = said.iter().map(|d| serde_json::to_string_pretty(d).unwrap()).collect();
    insta::assert_snapshot!("steps", store.plain(&all.join("\n")));
    // without a set there is nothing to tell
    let said = run(snapspark().args(["train", "--json"]));
    assert_eq!(said.code, Some(2), "{}", said.err);
}
