use super::read_beside;
use snapspark::files::problem::ProblemList;

/// What a smith would be told about a log named by a sheet.
fn told(log: &[u8]) -> String {
    let sheet = "run-sheet = 1\n[soak]\nlog = \"soak.csv\"\n";
    match read_beside(sheet, &[("soak.csv", log)]) {
        Ok(sheet) if sheet.warnings.is_empty() => "nothing wrong".into(),
        Ok(sheet) => ProblemList(&sheet.warnings).to_string(),
        Err(problems) => ProblemList(&problems).to_string(),
    }
}

#[test]
fn bad_logs() {
    let many: Vec<_> = (0..150).map(|i| format!("{i},OL\n")).collect();
    let many = format!("time_min,temp_C\n{}", many.concat());
    let cases: &[(&str, &[u8])] = &[
        ("empty", b""),
        ("only a header", b"time_min,temp_C\n"),
        ("one reading", b"time_min,temp_C\n0,20\n"),
        ("no header", b"0,20\n20,925\n"),
        ("no time column", b"n,temp_C\n0,20\n20,925\n"),
        ("two temperatures", b"time_min,probe 1 C,probe 2 C\n0,20,20\n"),
        ("no units", b"time,temperature\n0,20\n20,925\n30,925\n"),
        ("cells", b"time_min,temp_C\n0,20\n,30\n10,\n20,OL\n30,9999\n40,warm\nx,900\n60\n"),
        ("time goes back", b"# made up\ntime_min,temp_C\n0,20\n20,925\n\n15,925\n30,925\n30,926\n"),
        ("past midnight", b"time,temp_C\n23:30,20\n23:50,600\n0:10,925\n0:30,925\n"),
        ("clock", b"time,temp_C\n1:05 PM,20\n13:75,30\n2031-02-03 13:05,40\n"),
        ("decimal comma", b"time_min,temp_C\n0,5,20,5\n20,5,925,0\n"),
        ("quote", b"time_min,temp_C\n0,20\n20,\"925\n30,925\n"),
        ("stage", b"time_min,temp_C,stage\n0,20,sook\n20,925,\n"),
        ("fahrenheit called celsius", b"time_h,temp_C\n0,68\n0.5,1697\n"),
        ("far too long a time", b"time_h,temp_C\n0,20\n7200,925\n"),
        ("spreadsheet", b"PK\x03\x04rest"),
        ("utf-16", b"\xff\xfet\0i\0"),
        ("binary", b"time_min,temp_C\n0,\0\n"),
        ("gap", b"time_min,temp_C\n0,20\n1,60\n2,100\n3,140\n33,900\n34,901\n"),
        ("loose probe all along", many.as_bytes()),
    ];
    let section = |(what, log): &(&str, &[u8])| format!("## {what}\n{}\n", told(log));
    let said = cases.iter().map(section).collect::<Vec<_>>().join("\n");
    insta::assert_snapshot!(said);
}
