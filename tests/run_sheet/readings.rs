use super::{read_beside, told};
use crate::support::models;
use snapspark::files::log_csv::{LogUnits, TemperatureUnit, TimeUnit, read};
use snapspark::files::run_sheet::RunSheet;
use snapspark::soak::{Cooled, HeatEvidence, SoakLog, Stage, ThermometerPlace};
use snapspark::spark::{Compared, Told};
use snapspark::steel::Shape;

const SOAK: &str = "run-sheet = 1\n[soak]\ntime_at_heat = \"75 min\"\ntemperature = \"900 C\"\n";

fn with(rest: &str) -> RunSheet {
    read_beside(&format!("{SOAK}{rest}"), &[]).expect("a right sheet")
}

#[test]
fn the_shortest_sheet_takes_the_unknown_steel_and_pack() {
    let sheet = with("");
    assert_eq!(sheet.stock.name, "mild steel, unknown");
    assert_eq!(sheet.stock.carbon.high().wt_percent(), 0.26);
    assert_eq!(sheet.pack.compound.name, "unknown");
    assert_eq!(sheet.soak.thermometer.place, ThermometerPlace::Unknown);
    assert_eq!(sheet.soak.cooled, Cooled::Unknown);
    assert!(sheet.coupon.is_none() && sheet.piece.is_none() && sheet.spark.is_none());
    assert!(sheet.fracture.is_none() && sheet.witness.is_none() && sheet.aim.is_none());
}

#[test]
fn a_colour_is_a_thermometer_by_eye() {
    let sheet = read_beside(
        "run-sheet = 1\n[soak]\ntime_at_heat = \"1-1.5 h\"\ncolour = \"Orange\"\nheat_up = \"20 min\"",
        &[],
    );
    let soak = sheet.unwrap().soak;
    assert_eq!(soak.thermometer.place, ThermometerPlace::Eye);
    let HeatEvidence::TimeAtHeat { temperature: Some(t), time, heat_up: Some(_) } = soak.evidence else {
        panic!()
    };
    assert_eq!(t, models().colour("orange").unwrap().temperature.value);
    assert_eq!((time.low().minutes(), time.high().minutes()), (60.0, 90.0));
}

#[test]
fn a_witness_alone_is_enough() {
    let sheet = "run-sheet = 1\n[soak]\ntime_at_heat = \"75 min\"\n[[soak.witness]]\nmetal = \"silver\"\nmelted = false\n";
    let soak = read_beside(sheet, &[]).unwrap().soak;
    assert!(matches!(soak.evidence, HeatEvidence::TimeAtHeat { temperature: None, .. }));
    assert_eq!(soak.witnesses.len(), 1);
}

#[test]
fn a_diameter_makes_a_round_coupon() {
    let coupon = with("[stock]\ndiameter = \"10 mm\"").coupon.unwrap();
    assert!(
        matches!(coupon.shape, Shape::Round { diameter: Some(d) } if (d.millimetres() - 10.0).abs() < 1e-12)
    );
    assert!(with("[stock]\ngrade = \"1045\"").coupon.is_none());
    let unsized_coupon = with("[stock]\ncoupon = \"flat\"").coupon.unwrap();
    assert!(matches!(unsized_coupon.shape, Shape::Flat { thickness: None, .. }));
}

#[test]
fn sparks_may_be_told_against_the_stock() {
    let spark =
        with("[spark]\nbursts = \"many more than the stock\"\nstream_length = \"Shorter than stock\"")
            .spark
            .unwrap();
    assert_eq!(spark.coupon.bursts, Some(Told::AgainstStock(Compared::ManyMore)));
    assert_eq!(spark.coupon.stream_length, Some(Told::AgainstStock(Compared::Less)));
    assert_eq!(spark.coupon.rays, None);
}

#[test]
fn a_time_of_day_may_stand_for_a_span() {
    let sheet =
        read_beside("run-sheet = 1\n[soak]\ntime_at_heat = 02:15\ntemperature = \"900 C\"", &[]).unwrap();
    let HeatEvidence::TimeAtHeat { time, .. } = sheet.soak.evidence else { panic!() };
    assert_eq!(time.best().minutes(), 135.0);
}

#[test]
fn warns_without_refusing() {
    let said = told(&format!(
        "{SOAK}[[soak.witness]]\nmetal = \"silver\"\nmelted = \"unknown\"\n\
             [stock]\ngrade = \"1018\"\ncarbon = \"0.45 %C\"\nmass_before = \"23 g\"\nmass_after = \"26 g\"\n\
             [piece]\nthickness = \"3 mm\"\n[pack]\ninside = \"50 mm\"\n[aim]\ncriterion = \"visible\"\n"
    ));
    insta::assert_snapshot!(said);
}

fn log(text: &[u8], units: LogUnits) -> (SoakLog, usize) {
    let (log, warnings) = read(text, "soak.csv", units).expect("a right log");
    (log, warnings.len())
}

/// Time in minutes and temperature in °C of each point.
fn points(log: &SoakLog) -> Vec<(f64, f64)> {
    let round = |v: f64| (v * 1e6).round() / 1e6;
    log.points().iter().map(|p| (round(p.time.minutes()), round(p.temperature.celsius()))).collect()
}

/// One run of three readings, written as loggers and people write it.
#[test]
fn reads_logs_of_many_makers() {
    let want = [(0.0, 20.0), (20.0, 925.0), (95.0, 925.5)];
    let none = LogUnits::default();
    let given = LogUnits { time: Some(TimeUnit::Minutes), temperature: Some(TemperatureUnit::Celsius) };
    for (text, units) in [
        (&b"time_min,temp_C\n0,20\n20,925\n95,925.5\n"[..], none),
        (b"time (min),temperature (F)\n0,68\n20,1697\n95,1697.9\n", none),
        (b"# made up\r\n\r\nTime [s];Temp [\xb0C]\r\n600;20\r\n1800;925\r\n6300;925,5\r\n", none),
        (b"\xef\xbb\xbfminutes\tcelsius\tnote\n5\t20\tlit\n25\t925\t\n100\t925.5\t\n", none),
        (b"Time,Temperature\n0,20\n20,925\n95,925.5\n", given),
        (b"n,time,PV (C),SV (C)\n1,9:50,20,0\n2,10:10,925,930\n3,11:25,925.5,930\n", none),
        (b"time,temp_C\n23:50:00,20\n24:10:00,925\n25:25:00,925.5\n", none),
        (b"elapsed hours,T_K\n0,293.15\n0.3333333333333333,1198.15\n1.5833333333333333,1198.65\n", none),
        (b"\"time_min\",\"temp_C\"\n\"0\",\"20\"\n\"20\",\"925\"\n,\n\"95\",\"925.5\"\n", none),
    ] {
        let (log, warnings) = log(text, units);
        assert_eq!((points(&log), warnings), (want.to_vec(), 0), "{}", String::from_utf8_lossy(text));
    }
}

#[test]
fn stages_of_a_log() {
    let text = b"time_min,temp_C,stage\n0,20,soak\n60,900,\n90,880,cool\n200,40,\n210,850,foil\n230,20,air\n";
    let stages: Vec<_> = log(text, LogUnits::default()).0.points().iter().map(|p| p.stage).collect();
    let want = [
        Some(Stage::SOAK),
        None,
        Some(Stage::PACK_COOL),
        None,
        Some(Stage::SEALED_REHEAT),
        Some(Stage::AIR_REHEAT),
    ];
    assert_eq!(stages, want);
    let sheet = "run-sheet = 1\n[soak]\nlog = \"a.csv\"";
    assert_eq!(read_beside(sheet, &[("a.csv", text)]).unwrap().soak.cooled, Cooled::ClosedPack);
}

#[test]
fn a_million_rows_and_no_more() {
    let rows: Vec<String> = (0..=1_000_000).map(|i| format!("{i},900\n")).collect();
    let text = format!("time_s,temp_C\n{}", rows.concat());
    let problems = read(text.as_bytes(), "soak.csv", LogUnits::default()).unwrap_err();
    assert_eq!(problems.len(), 1);
    assert_eq!(
        problems[0].to_string().lines().next(),
        Some("error: soak.csv line 1000002: more than 1000000 rows")
    );
    let end = text.trim_end().rfind('\n').unwrap();
    assert_eq!(log(&text.as_bytes()[..end], LogUnits::default()).0.points().len(), 1_000_000);
}

/// From disk: the log is found beside the sheet, and files that are too long are not taken in.
#[test]
fn reads_from_the_folder_of_the_sheet() {
    let folder = tempfile::tempdir().unwrap();
    let sheet = folder.path().join("run.toml");
    std::fs::write(&sheet, "run-sheet = 1\n[soak]\nlog = \"soak.csv\"\n").unwrap();
    std::fs::write(folder.path().join("soak.csv"), "time_min,temp_C\n0,20\n20,925\n").unwrap();
    assert!(RunSheet::read_file(&sheet, models()).is_ok());
    let told = |path: &std::path::Path| {
        let problems = RunSheet::read_file(path, models()).unwrap_err();
        assert_eq!(problems.len(), 1);
        problems[0].to_string().replace(&folder.path().display().to_string(), "folder").replace('\\', "/")
    };
    let mut all = vec![told(&folder.path().join("rum.toml")), told(folder.path())];
    std::fs::write(&sheet, b"run-sheet = 1\n[piece]\nwhat = \"caf\xe9 knife\"\n").unwrap();
    all.push(told(&sheet));
    std::fs::write(&sheet, "#".repeat(2_000_000)).unwrap();
    all.push(told(&sheet));
    let said = all.join("\n");
    insta::assert_snapshot!(said);
}
