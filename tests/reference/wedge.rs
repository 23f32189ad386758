//! Local thickness in a wedge-shaped edge against two solutions in two dimensions: `wedge.csv`, made by `wedge.py`, and
//! `wedge_fipy.csv`, made by `wedge_fipy.py` with `FiPy` (J. E. Guyer, D. Wheeler, J. A. Warren, 2009).

use crate::support::{models, rows};
use serde::Deserialize;
use snapspark::plan::Cut;
use snapspark::prediction::{ModelChoice, Physics, PotentialChoice, Run, Stories, predict};
use snapspark::soak::{Cooled, CoolingDefault, HeatEvidence, Pack, SoakRecord, Step, ThermometerPlace};
use snapspark::sources::Sourced;
use snapspark::steel::{Coupon, CouponPlace, Faces, Piece, Shape, Stock, Wedge};
use snapspark::units::{CarbonPercent, Depth, Interval, Temperature, Time, TransferCoefficient};

/// As the heads of the tables say, %C, from this far behind the edge on, mm; the second is table against table.
const TOLERANCE: f64 = 0.03;
const TABLES_APART: f64 = 0.01;
const FROM_MM: f64 = 1.0;

#[derive(Deserialize, Clone, Copy)]
struct Row {
    angle_deg: f64,
    edge_mm: f64,
    hours: f64,
    behind_mm: f64,
    carbon_percent: f64,
    error_percent: f64,
}

impl Row {
    /// Degrees, mm, h, mm behind the edge.
    fn place(&self) -> [f64; 4] {
        [self.angle_deg, self.edge_mm, self.hours, self.behind_mm]
    }
}

#[test]
fn local_thickness_is_near_two_dimensions() {
    hold("wedge.csv", 3 * 3 * 2 * 6);
}

#[test]
fn local_thickness_is_near_fipy() {
    hold("wedge_fipy.csv", 3 * 2 * 6);
}

#[test]
fn both_solutions_in_two_dimensions_agree() {
    let (ours, fipy): (Vec<Row>, Vec<Row>) = (rows("wedge.csv"), rows("wedge_fipy.csv"));
    let mut worst = 0.0_f64;
    for row in fipy.iter().filter(|row| row.behind_mm >= FROM_MM) {
        let same = ours.iter().find(|other| other.place() == row.place()).unwrap();
        let off = (same.carbon_percent - row.carbon_percent).abs();
        worst = worst.max(off);
        assert!(off < TABLES_APART, "{:?}: {off:.4} %C apart", row.place());
    }
    println!("worst {worst:.4} %C");
}

/// Local thickness against this table, at so many places from 1 mm behind the edge on.
fn hold(name: &str, places: usize) {
    let models = models();
    let at_once = |source: &Sourced<Interval<Time>>| Sourced {
        value: Interval::exact(Time::from_seconds(1.0).unwrap()),
        ..source.clone()
    };
    let cooling = CoolingDefault {
        closed_pack: at_once(&models.cooling.closed_pack),
        in_air: at_once(&models.cooling.in_air),
    };
    let physics = Physics { cooling: &cooling, ..models.physics(Some("agren1986")).unwrap() };
    let table: Vec<Row> = rows(name);
    let (mut worst, mut worst_near, mut tried) = (0.0_f64, 0.0_f64, 0);
    for hours in [1.0, 3.0] {
        with_story(hours, &physics, |stories, story| {
            for row in table.iter().filter(|row| row.hours == hours) {
                let mm = |mm: f64| Depth::from_millimetres(mm).unwrap();
                let wedge = Wedge::new(row.angle_deg, mm(row.edge_mm), mm(14.0)).unwrap();
                let got = Cut::of(wedge, stories, story).unwrap().middle(row.behind_mm * 1e-3).unwrap();
                let off = (got - row.carbon_percent).abs();
                if row.behind_mm < FROM_MM {
                    worst_near = worst_near.max(off);
                    continue;
                }
                worst = worst.max(off);
                tried += 1;
                assert!(
                    off < TOLERANCE,
                    "{}°, {} mm, {} h, {} mm behind: {got:.4} %C, in two dimensions {}",
                    row.angle_deg,
                    row.edge_mm,
                    row.hours,
                    row.behind_mm,
                    row.carbon_percent
                );
            }
        });
    }
    println!("{name}, {tried} places: worst {worst:.4} %C; nearer than {FROM_MM} mm: {worst_near:.4} %C");
    assert_eq!(tried, places);
    // the table itself must be finer than what it judges
    assert!(table.iter().all(|row| row.behind_mm < FROM_MM || row.error_percent < TOLERANCE / 3.0));
}

/// A steady soak at 925 °C, steel at heat at once, as `wedge.py` has it.
fn with_story(hours: f64, physics: &Physics, then: impl FnOnce(&Stories, &snapspark::prediction::Story)) {
    let models = models();
    let heat = Temperature::from_celsius(925.0).unwrap();
    let time = Time::from_minutes(hours * 60.0).unwrap();
    let record = SoakRecord {
        evidence: HeatEvidence::Steps(vec![
            Step::Hold { time, at: Some(heat) },
            Step::Quench { medium: None },
        ]),
        thermometer: models
            .thermometers
            .iter()
            .find(|t| t.place == ThermometerPlace::BesideSteel)
            .unwrap()
            .clone(),
        witnesses: Vec::new(),
        cooled: Cooled::QuenchedFromHeat,
        furnace: None,
    };
    let choice = ModelChoice {
        potential: Some(PotentialChoice::ShareOfAcm(0.9)),
        transfer: Some(TransferCoefficient::new(5e-7).unwrap()),
        ..ModelChoice::default()
    };
    let piece = Piece {
        what: "blade".into(),
        body: None,
        edge_thickness: None,
        edge_angle: None,
        height: None,
        metal_off: None,
        bevels: None,
        coupon_place: CouponPlace::Same,
    };
    let run = Run {
        record: &record,
        pack: &Pack {
            container: None,
            compound: models.compound("granules").unwrap().clone(),
            vent: None,
            distance_from_wall: None,
            wholly_in_heat: None,
        },
        stock: &Stock {
            name: "steel".into(),
            carbon: Interval::exact(CarbonPercent::new(0.18).unwrap()),
            manganese: None,
        },
        coupon: &Coupon {
            shape: Shape::Flat { thickness: None, faces: Faces::Both },
            length: None,
            width: None,
            mass_before: None,
            mass_after: None,
        },
        piece: Some(&piece),
        ground: None,
        choice: &choice,
        then: None,
        history: None,
    };
    let prediction = predict(&run, physics).unwrap();
    then(&Stories::of(&run, physics), &prediction.story);
}
