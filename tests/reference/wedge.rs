//! Local thickness in a wedge-shaped edge against a solution in two dimensions: `wedge.csv`, made by `wedge.py`.

use crate::support::{models, rows};
use serde::Deserialize;
use snapspark::plan::Cut;
use snapspark::prediction::{ModelChoice, Physics, PotentialChoice, Run, Stories, predict};
use snapspark::soak::{Cooled, CoolingDefault, HeatEvidence, Pack, SoakRecord, Step, ThermometerPlace};
use snapspark::sources::Sourced;
use snapspark::steel::{Coupon, CouponPlace, Faces, Piece, Shape, Stock, Wedge};
use snapspark::units::{CarbonPercent, Depth, Interval, Temperature, Time, TransferCoefficient};

/// As the head of the table says, %C, from this far behind the edge on, mm.
const TOLERANCE: f64 = 0.03;
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

#[test]
fn local_thickness_is_near_two_dimensions() {
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
    let table: Vec<Row> = rows("wedge.csv");
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
    println!("{tried} places: worst {worst:.4} %C; nearer than {FROM_MM} mm: {worst_near:.4} %C");
    assert_eq!(tried, 3 * 3 * 2 * 6);
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
    };
    let prediction = predict(&run, physics).unwrap();
    then(&Stories::of(&run, physics), &prediction.story);
}
