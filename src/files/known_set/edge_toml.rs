//! What was learned of the visible edge as TOML, made again at will.

use super::{KnownSet, Layout};
use crate::files::problem::Problem;
use crate::files::run_sheet::read::cannot_read;
use crate::files::{Models, save};
use crate::known::{EdgeQuench, KnownFace, LearnedEdge, VisibleEdge};
use crate::units::{CarbonPercent, Interval};
use serde::{Deserialize, Serialize};
use std::io;
use std::path::{Path, PathBuf};

const VERSION: u32 = 1;
const AGAIN: &str = "`snapspark train --set` learns it again from the coupons of the set";
const QUENCHES: [(&str, EdgeQuench); 2] = [("water", EdgeQuench::Water), ("oil", EdgeQuench::Oil)];

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct FileTwin {
    trained_edge: u32,
    #[serde(default)]
    quench: Vec<EdgeTwin>,
}

/// Twin of [`LearnedEdge`].
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct EdgeTwin {
    medium: String,
    coupons: usize,
    low_percent: f64,
    best_percent: f64,
    high_percent: f64,
}

/// The word for a quench in files and JSON.
pub(in crate::files) fn quench_word(quench: EdgeQuench) -> &'static str {
    QUENCHES.iter().find(|(_, q)| *q == quench).map_or("", |(word, _)| *word)
}

impl EdgeTwin {
    fn of(edge: &LearnedEdge) -> Self {
        let [low_percent, best_percent, high_percent] =
            [edge.carbon.low(), edge.carbon.best(), edge.carbon.high()].map(CarbonPercent::wt_percent);
        let medium = quench_word(edge.quench).to_string();
        Self { medium, coupons: edge.coupons, low_percent, best_percent, high_percent }
    }

    fn edge(&self) -> Option<LearnedEdge> {
        let (_, quench) = QUENCHES.iter().find(|(word, _)| *word == self.medium)?;
        let wt = |wt| CarbonPercent::new(wt).ok();
        let carbon = Interval::new(wt(self.low_percent)?, wt(self.best_percent)?, wt(self.high_percent)?)?;
        Some(LearnedEdge { quench: *quench, carbon, coupons: self.coupons })
    }
}

/// What was learned, from its file; the error says what is wrong.
pub fn read_edge(text: &str) -> Result<Vec<LearnedEdge>, String> {
    let file: FileTwin = toml::from_str(text).map_err(|e| e.message().to_string())?;
    if file.trained_edge != VERSION {
        return Err(format!("version is {}; allowed: {VERSION}", file.trained_edge));
    }
    let edges: Option<Vec<LearnedEdge>> = file.quench.iter().map(EdgeTwin::edge).collect();
    edges.ok_or_else(|| "a quench is none, or its carbon no range: low, best and high percent, rising".into())
}

impl KnownSet {
    /// What the coupons of the set say of the visible edge.
    pub fn visible_edge(&self) -> VisibleEdge {
        let faces: Vec<(&str, &KnownFace)> = self.faces.iter().map(|(n, f)| (n.as_str(), f)).collect();
        VisibleEdge::of(&faces, &self.models.edge_tables())
    }

    /// Keeps it in place of what was kept before; `None`: there is nothing to keep.
    pub fn save_edge(&self, edge: &VisibleEdge) -> Result<Option<PathBuf>, Box<Problem>> {
        let path = self.layout.edge();
        if edge.learned.is_empty() && !path.exists() {
            return Ok(None);
        }
        let shown = path.to_string_lossy();
        let cannot = |why: String| {
            let problem = Problem::error(&shown, format!("the edge cannot be written: {why}"));
            Box::new(problem.help("check that the set may be written to"))
        };
        let file =
            FileTwin { trained_edge: VERSION, quench: edge.learned.iter().map(EdgeTwin::of).collect() };
        let text = toml::to_string(&file).map_err(|e| cannot(e.to_string()))?;
        save(&path, text.as_bytes()).map_err(|e| cannot(e.to_string()))?;
        Ok(Some(path))
    }

    /// What was learned in the set in `folder`; nothing where nothing was.
    pub fn learned_edge(folder: &Path, models: &Models) -> Result<Vec<LearnedEdge>, Vec<Problem>> {
        let layout = Layout::of(folder);
        layout.check(models)?;
        let path = layout.edge();
        let wrong = |why: &str| vec![Problem::error(&path.to_string_lossy(), why).help(AGAIN)];
        match std::fs::read_to_string(&path) {
            Err(e) if e.kind() == io::ErrorKind::NotFound => Ok(Vec::new()),
            Err(e) => Err(wrong(&cannot_read(&e))),
            Ok(text) => read_edge(&text).map_err(|why| wrong(&why)),
        }
    }
}
