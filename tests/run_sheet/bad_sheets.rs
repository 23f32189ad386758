use super::told;

/// A right soak, so that only what is under test is wrong.
const SOAK: &str = "run-sheet = 1\n[soak]\ntime_at_heat = \"75 min\"\ntemperature = \"900 C\"\n";

fn beside_a_soak(rest: &str) -> String {
    told(&format!("{SOAK}{rest}"))
}

fn in_soak(lines: &str) -> String {
    told(&format!("run-sheet = 1\n[soak]\n{lines}"))
}

/// Puts what was wrong before what is said about it.
fn each(cases: &[(&str, &str)], tell: impl Fn(&str) -> String) -> String {
    let section = |&(what, input): &(&str, &str)| format!("## {what}\n{}\n", tell(input));
    cases.iter().map(section).collect::<Vec<_>>().join("\n")
}

#[test]
fn version_and_shape() {
    let said = each(
        &[
            ("empty file", ""),
            ("no version", "[soak]\nsteps = [\"hold 1 h at 900C\"]"),
            ("version of the future", "run-sheet = 2\n[soak]\nstuff = 1"),
            ("version in words", "run-sheet = \"one\""),
            ("version last", "[soak]\nsteps = [\"hold 1 h at 900C\"]\n[other]\n"),
            ("version second", "note = 1\nrun-sheet = 1\n[soak]\nsteps = [\"hold 1 h at 900C\"]"),
            ("no soak", "run-sheet = 1\n[stock]\ngrade = \"1018\""),
            ("misspelt section", "run-sheet = 1\n[soke]\nsteps = [\"hold 1 h at 900C\"]"),
            ("a section that is a value", "run-sheet = 1\nsoak = 75"),
        ],
        told,
    );
    insta::assert_snapshot!(said);
}

#[test]
fn not_toml() {
    let said = each(
        &[
            ("no quotes", "time_at_heat = 75 min\ntemperature = 900 C # by eye\n"),
            ("no closing quote", "time_at_heat = \"75 min\ntemperature = \"900 C\"\n"),
            ("curly quotes", "time_at_heat = “75 min”\ntemperature = \"900 C\"\n"),
            ("no value", "time_at_heat =\ntemperature = \"900 C\"\n"),
            ("twice", "time_at_heat = \"75 min\"\ntime_at_heat = \"80 min\"\ntemperature = \"900 C\"\n"),
            ("prose", "we soaked it for an hour\ntime_at_heat = \"75 min\"\ntemperature = \"900 C\"\n"),
            ("backslash", "log = \"logs\\soak.csv\"\n"),
            ("decimal comma", "time_at_heat = 1,5\ntemperature = \"900 C\"\n"),
            ("list without commas", "steps = [\"20 min to 900C\" \"hold 1 h\"]\n"),
            (
                "section not closed",
                "time_at_heat = \"75 min\"\ntemperature = \"900 C\"\n[stock\ngrade = \"1018\"\n",
            ),
            ("section twice", "time_at_heat = \"75 min\"\ntemperature = \"900 C\"\n[stock]\n[soak]\n"),
        ],
        in_soak,
    );
    insta::assert_snapshot!(said);
}

#[test]
fn soak() {
    let said = each(
        &[
            ("nothing said", ""),
            ("no unit", "time_at_heat = 75\ntemperature = 900"),
            ("unit of another thing", "time_at_heat = \"75 C\"\ntemperature = \"900 min\""),
            ("no temperature", "time_at_heat = \"75 min\""),
            (
                "colour and temperature",
                "time_at_heat = \"75 min\"\ncolour = \"orange\"\ntemperature = \"900 C\"",
            ),
            ("colour nobody has", "time_at_heat = \"75 min\"\ncolour = \"ornage\""),
            ("hotter than a forge", "time_at_heat = \"75 min\"\ntemperature = \"1700 C\""),
            ("two ways", "steps = [\"hold 1 h at 900C\"]\nlog = \"soak.csv\"\ntime_at_heat = \"1 h\""),
            (
                "colour beside steps",
                "steps = [\"hold 1 h at 900C\"]\ncolour = \"orange\"\nlog_time_unit = \"min\"",
            ),
            ("no such log", "log = \"sook.csv\""),
            ("a list for a furnace", "steps = [\"hold 1 h at 900C\"]\nfurnace = [\"small kiln\"]"),
            (
                "cooled otherwise",
                "steps = [\"hold 1 h at 900C\", \"open hot\"]\ncooled = \"in the closed pack\"",
            ),
            (
                "words",
                "time_at_heat = \"1 h\"\ntemperature = \"900 C\"\nthermometer = \"outsid\"\ncooled = \"fast\"",
            ),
            (
                "witness",
                "time_at_heat = \"1 h\"\n[[soak.witness]]\nmetal = \"unknown bras\"\nmelted = \"half\"\nsat = \"on top\"",
            ),
            ("range and about", "time_at_heat = \"about 1 h\"\ntemperature = \"950-900 C\""),
        ],
        in_soak,
    );
    insta::assert_snapshot!(said);
}

#[test]
fn steps() {
    let said = each(
        &[
            ("none", "[]"),
            ("slips", "[\"20 min to 925C\", \"hodl 75 min\", \"hold 75\", \"75 min at 925C\", \"925C\", 20]"),
            (
                "units",
                "[\"20 to 925C\", \"to 925 in 20 min\", \"hold 1 h at 2925C\", \"foil 5-10 min at 850C\"]",
            ),
            (
                "order",
                "[\"hold 75 min\", \"cool in pack\", \"cool in pack\", \"hold 1 h\", \"quench in milk\"]",
            ),
            ("quench first", "[\"quench in oil\"]"),
        ],
        |steps| in_soak(&format!("steps = {steps}\n")),
    );
    insta::assert_snapshot!(said);
}

#[test]
fn stock_piece_pack_model_aim() {
    let said = each(
        &[
            (
                "stock",
                "[stock]\ngrade = \"1081\"\ncarbon = \"18 %C\"\nthicknes = \"3 mm\"\nmass_before = \"0 g\"",
            ),
            ("round and flat", "[stock]\ncoupon = \"round\"\nthickness = \"3 mm\"\npacked = \"one face\""),
            (
                "sizes that weigh something else",
                "[stock]\nthickness = \"3 mm\"\nlength = \"40 cm\"\nwidth = \"20 mm\"\nmass_before = \"18.8 g\"",
            ),
            ("round and wide", "[stock]\ndiameter = \"10 mm\"\nlength = \"30 mm\"\nwidth = \"20 mm\""),
            ("edge", "[piece]\nedge_angle = \"flat\"\nheight = \"0 mm\""),
            ("angle", "[piece]\nedge_angle = \"90 degrees\""),
            ("hardness", "[aim]\nhardness = \"58\""),
            ("two sizes", "[stock]\nthickness = \"3-4 mm\"\ndiameter = \"10 mm\""),
            (
                "piece",
                "[piece]\nwhat = 7\nedge_thickness = \"1 mm\"\nmetal_off = \"0.6 mm\"\nbevels = \"both\"",
            ),
            (
                "pack",
                "[pack]\ncontainer = \"pip\"\ninside = \"0,05 m\"\ncompound = \"granuls\"\nvent = true\nwholly_in_heat = \"partly\"",
            ),
            (
                "model",
                "[model]\nlaw = \"agren1968\"\nsurface = \"held\"\ntransfer_coefficient = \"1e-7 m/s\"\npotential = \"0.9\"\ncooling_law = \"none\"",
            ),
            (
                "aim",
                "[aim]\ndepth = \"half a millimetre\"\ncriterion = \"deep\"\nedge_carbon = \"0.8-0.6 %C\"\nuse = \"knife\"",
            ),
        ],
        beside_a_soak,
    );
    insta::assert_snapshot!(said);
}

#[test]
fn observations() {
    let said = each(
        &[
            (
                "sparks",
                "[spark]\nbursts = \"lots\"\nrays = 20\ntiers = -1\nshare_bursting = 80\nonset = \"near the tipp\"\ncompared = \"richer\"",
            ),
            (
                "sparks by steel and depth",
                "[spark]\nlooks_like = [\"1018\", \"1045\", \"1084\"]\nover_time = \"rich\"\ntouches = 1.5\nground_depth = \"deep\"\nstream_length = 450",
            ),
            (
                "stock against itself",
                "[spark.untreated]\nbursts = \"same as the stock\"\nlooks_like = \"1018\"",
            ),
            ("wheel", "[spark.wheel]\nkind = \"stone\"\ndiameter = 150\nrpm = 90000\nspeed = \"20\""),
            (
                "fracture",
                "[fracture]\nrim = \"no\"\ndepth = [\"0.5\", \"120 %\"]\ntexture_rim = \"shiny\"\nshear_lip = \"maybe\"\nquenched_in = \"milk\"\nquench_heat = \"hot\"\ntempered = \"a bit\"",
            ),
            ("depth without a rim", "[fracture]\nrim = \"none\"\ndepth = \"0.5 mm\""),
            (
                "witness",
                "[witness]\nskin = \"grey\"\nfile = { which = \"99 HRC\", result = \"bits\", after = \"0.1 mm\" }",
            ),
        ],
        beside_a_soak,
    );
    insta::assert_snapshot!(said);
}

#[test]
fn many_problems_at_once_stand_in_line_order() {
    let fields: Vec<_> = (1..=30).map(|i| format!("made_up_{i} = {i}\n")).collect();
    let fields = fields.concat();
    let said = told(&format!("run-sheet = 1\n[aim]\ndepth = 3\n[soak]\n{fields}[stock]\nthickness = 3\n"));
    insta::assert_snapshot!(said);
}
