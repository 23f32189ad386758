use super::{At, Bibliography, FILE, ModelsError, Single, all_bounded, bounded, rising};
use crate::files::models::value::Range;
use crate::hardness::{Martensite, SHARES};
use crate::units::{CarbonPercent, Hrc, Hv, OutOfRange, Share};
use serde::Deserialize;

/// Twin of [`Martensite`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Twin {
    full_hrc: Single<[f64; 6]>,
    full_range_percent: Range,
    join_percent: Single<f64>,
    plateau_percent: Single<f64>,
    plateau_hrc: Range,
    spread_hrc: Range,
    columns_hrc: Single<Vec<[f64; 6]>>,
    beyond_columns_hrc: Range,
    ferrite_hv: Range,
}

impl Twin {
    /// The table, tried all over: hardness never falls as carbon or martensite rises.
    pub(super) fn read(self, books: &mut Bibliography) -> Result<Martensite, ModelsError> {
        let at = |field| At { file: FILE, entry: "martensite", field };
        let carbon = CarbonPercent::new;
        let doubt = bounded("doubt", "HRC", -20.0, 20.0);
        let martensite = Martensite {
            full: self
                .full_hrc
                .sourced(books, at("full_hrc"), |k| all_bounded(k, "coefficient", "HRC", (-1e4, 1e4)))?,
            full_range: self.full_range_percent.sourced(books, at("full_range_percent"), carbon)?,
            join: self.join_percent.sourced(books, at("join_percent"), carbon)?,
            plateau_from: self.plateau_percent.sourced(books, at("plateau_percent"), carbon)?,
            plateau: self.plateau_hrc.sourced(books, at("plateau_hrc"), Hrc::new)?,
            spread: self.spread_hrc.sourced(books, at("spread_hrc"), &doubt)?,
            columns: self.columns_hrc.sourced(books, at("columns_hrc"), columns)?,
            beyond_columns: self.beyond_columns_hrc.sourced(books, at("beyond_columns_hrc"), &doubt)?,
            ferrite: self.ferrite_hv.sourced(books, at("ferrite_hv"), Hv::new)?,
        };
        tried(martensite, at)
    }
}

fn columns(rows: Vec<[f64; 6]>) -> Result<Vec<[f64; 6]>, OutOfRange> {
    for row in &rows {
        CarbonPercent::new(row[0])?;
        for hrc in &row[1..] {
            Hrc::new(*hrc)?;
        }
        // from much martensite to little
        let falling = row[1..].iter().rev().copied().collect();
        rising("hardness", "HRC", falling, |n| *n)?;
    }
    rising("carbon", "%C", rows, |row| row[0])
}

fn tried<'a>(martensite: Martensite, at: impl Fn(&'static str) -> At<'a>) -> Result<Martensite, ModelsError> {
    let range = &martensite.full_range.value;
    let from = martensite.plateau_from.value;
    let (join, inside) = (martensite.join.value, "inside full_range_percent, below plateau_percent");
    if !(range.low() < join && join <= range.high() && join < from) {
        let got = format!("{} %C", join.wt_percent());
        return Err(ModelsError::value(at("join_percent"), got, inside));
    }
    let field = at("full_hrc");
    let (least, most) = (range.low().wt_percent(), from.wt_percent());
    for share in [1.0].into_iter().chain(SHARES) {
        let mut before = 0.0;
        for step in 0..=200 {
            let c = least + (most - least) * f64::from(step) / 200.0;
            let made = CarbonPercent::new(c).ok().zip(Share::new(share).ok());
            let hrc = made.and_then(|(c, share)| martensite.hrc(c, share));
            let hrc = hrc.map(|hrc| hrc.best().points()).filter(|hrc| *hrc >= before - 1e-9);
            let Some(hrc) = hrc else {
                let got = format!("no hardness, or a falling one, at {c:.3} %C and {share} martensite");
                return Err(ModelsError::value(field, got, "20 to 70 HRC, rising with carbon"));
            };
            before = hrc;
        }
    }
    Ok(martensite)
}
