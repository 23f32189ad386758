use super::lines::{between, interval, three};
use crate::sources::Sourced;
use crate::units::{Hrc, Hv, Interval};

/// HRC against HV for hardened steel, by straight lines through a table (ASTM E140 Table 1).
#[derive(Debug, Clone, PartialEq)]
pub struct Conversion {
    /// HV for 20, 21, 22 … HRC; rises.
    pub hv_from_20: Sourced<Vec<f64>>,
}

impl Conversion {
    /// HV of this HRC; `None` above the table.
    pub fn to_hv(&self, hrc: Hrc) -> Option<Hv> {
        Hv::new(between(&self.points(), hrc.points())?).ok()
    }

    /// HRC of this HV; `None` outside the table.
    pub fn to_hrc(&self, hv: Hv) -> Option<Hrc> {
        let turned: Vec<_> = self.points().into_iter().map(|(hrc, hv)| (hv, hrc)).collect();
        Hrc::new(between(&turned, hv.number())?).ok()
    }

    /// HV of an interval; `None` if an end is above the table.
    pub fn interval_to_hv(&self, hrc: &Interval<Hrc>) -> Option<Interval<Hv>> {
        Interval::new(self.to_hv(hrc.low())?, self.to_hv(hrc.best())?, self.to_hv(hrc.high())?)
    }

    /// HRC of an interval. An end outside the table stands at the table's end, as long as the best
    /// value is inside.
    pub fn interval_to_hrc(&self, hv: &Interval<Hv>) -> Option<Interval<Hrc>> {
        let points = self.points();
        let (least, most) = (points.first()?.1, points.last()?.1);
        self.to_hrc(hv.best())?;
        let held = three(hv, Hv::number).map(|n| n.clamp(least, most));
        let held = interval(held, Hv::new)?;
        Interval::new(self.to_hrc(held.low())?, self.to_hrc(held.best())?, self.to_hrc(held.high())?)
    }

    /// (HRC, HV)
    fn points(&self) -> Vec<(f64, f64)> {
        self.hv_from_20.value.iter().enumerate().map(|(i, hv)| (Hrc::LEAST + i as f64, *hv)).collect()
    }
}
