//! What a smith is told about observations that cannot be: words, numbers, and what contradicts itself.

use super::told;

/// A right soak and coupon, so that only what is under test is wrong.
const RUN: &str = "\
run-sheet = 1
[soak]
time_at_heat = \"75 min\"
temperature = \"900 C\"
[stock]
thickness = \"3 mm\"
";

fn each(cases: &[(&str, &str)]) -> String {
    let section = |&(what, lines): &(&str, &str)| format!("## {what}\n{}\n", told(&format!("{RUN}{lines}")));
    cases.iter().map(section).collect::<Vec<_>>().join("\n")
}

#[test]
fn sparks_in_numbers() {
    let said = each(&[
        ("range that runs backwards", "[spark]\nbursts = \"50-30\""),
        ("unit where none belongs", "[spark]\nrays = \"4 rays\""),
        ("decimal comma", "[spark]\nbursts_per_carrier = \"1,5\""),
        ("open range", "[spark]\ncarriers = \"30-\""),
        ("more than", "[spark]\nbursts = \">40\""),
        ("about", "[spark]\nbursts = \"about 40\""),
        ("not a number", "[spark]\nbursts = nan"),
        ("below zero", "[spark]\nbursts = -3"),
        ("too many", "[spark]\nbursts = 1000000"),
        ("share over the whole", "[spark]\nshare_bursting = \"140 %\""),
        ("share that runs backwards", "[spark]\nonset = \"80-20 %\""),
        ("length in degrees", "[spark]\nstream_length = \"450 C\""),
        ("length below zero", "[spark]\nstream_length = \"-450 mm\""),
        ("length of a street", "[spark]\nstream_length = \"450 m\""),
        ("fine sparking in percent", "[spark]\nfine_sparking = \"80 %\""),
        ("tiers of a tree", "[spark]\ntiers = 9"),
    ]);
    insta::assert_snapshot!(said);
}

#[test]
fn sparks_in_words() {
    let said = each(&[
        ("colour nobody offers", "[spark]\ncolour = \"green\""),
        ("colour of another shade", "[spark]\ncolour_tip = \"yelow\""),
        ("state", "[spark]\nstate = \"warm\""),
        ("true where words belong", "[spark]\ntiers = true"),
        ("list where a word belongs", "[spark]\nrays = [\"many\", \"few\"]"),
        ("comparison without a word", "[spark]\nbursts = \"than the stock\""),
        ("comparison that is none", "[spark]\nbursts = \"double the stock\""),
        ("compared as a number", "[spark]\ncompared = 3"),
        ("compared with words of a stream", "[spark]\ncompared = \"very many\""),
        ("steel nobody knows", "[spark]\nlooks_like = \"5160H\""),
        ("twice the same steel", "[spark]\nlooks_like = [\"1045\", \"1045\"]"),
        ("no steel", "[spark]\nlooks_like = []"),
        ("between in words", "[spark]\nlooks_like = \"between 1018 and 1045\""),
        ("over time", "[spark]\nover_time = \"plain then rich\""),
        ("a photo that is a number", "[spark]\nphotos = [1, \"\"]"),
        ("misspelt section", "[sparks]\nbursts = 3"),
        ("wheel of the stock", "[spark.untreated]\nwheel = \"belt\""),
    ]);
    insta::assert_snapshot!(said);
}

#[test]
fn depth_ground_and_wheel() {
    let said = each(&[
        ("no touch", "[spark]\ntouches = 0"),
        ("touches in words", "[spark]\ntouches = \"a few\""),
        ("touches as a range", "[spark]\ntouches = \"2-3\""),
        ("depth without a unit", "[spark]\nground_depth = 0.2"),
        ("ground deeper than the coupon", "[spark]\nground_depth = \"5 mm\""),
        ("wheel without a size", "[spark.wheel]\ndiameter = \"0 mm\""),
        ("wheel as one word", "[spark]\nwheel = \"belt\""),
        ("turning in turns", "[spark.wheel]\nrpm = \"2850 turns\""),
        ("standing still", "[spark.wheel]\nrpm = 0"),
        ("speed of a rifle bullet", "[spark.wheel]\nspeed = \"900 m/s\""),
        ("faster than a wheel survives", "[spark.wheel]\ndiameter = \"400 mm\"\nrpm = 12000"),
        (
            "speed that does not follow",
            "[spark.wheel]\ndiameter = \"150 mm\"\nrpm = 2850\nspeed = \"60 m/s\"",
        ),
    ]);
    insta::assert_snapshot!(said);
}

#[test]
fn untreated_stock() {
    let said = each(&[
        ("more than itself", "[spark.untreated]\nbursts_per_carrier = \"some more than stock\""),
        ("compared", "[spark.untreated]\ncompared = \"same\""),
        ("over time", "[spark.untreated]\nover_time = \"plain throughout\""),
        ("number and word", "[spark.untreated]\ncarriers = \"40 or so\""),
        ("a list of sections", "[[spark.untreated]]\nbursts = 8\n[[spark.untreated]]\nbursts = 9"),
    ]);
    insta::assert_snapshot!(said);
}

#[test]
fn fracture() {
    let said = each(&[
        ("rim", "[fracture]\nrim = \"thin\""),
        ("rim as yes", "[fracture]\nrim = true"),
        (
            "nine sides",
            "[fracture]\nrim = \"all round\"\ndepth = [\"1 mm\",\"1 mm\",\"1 mm\",\"1 mm\",\"1 mm\",\"1 mm\",\"1 mm\",\"1 mm\",\"1 mm\"]",
        ),
        ("depth below zero", "[fracture]\ndepth = \"-0.5 mm\""),
        ("depth in words", "[fracture]\ndepth = \"a hair\""),
        ("depth as a range backwards", "[fracture]\ndepth = \"0.8-0.4 mm\""),
        ("depth as a share of nothing", "[fracture]\ndepth = \"%\""),
        ("deeper than the coupon", "[fracture]\nrim = \"all round\"\ndepth = \"4 mm\""),
        ("two sides that overlap", "[fracture]\nrim = \"all round\"\ndepth = [\"2 mm\", \"2 mm\"]"),
        ("more than half from each side", "[fracture]\nrim = \"all round\"\ndepth = \"70 %\""),
        ("rim without depth", "[fracture]\nrim = \"all round\"\ndepth = \"0 mm\""),
        ("through, and a thin rim", "[fracture]\nrim = \"through\"\ndepth = \"0.3 mm\""),
        ("all round, and a side without", "[fracture]\nrim = \"all round\"\ndepth = [\"0.5 mm\", \"0 mm\"]"),
        ("texture of a core that is none", "[fracture]\nrim = \"through\"\ntexture_core = \"fibrous\""),
        ("texture", "[fracture]\ntexture_core = \"woody\""),
        ("broken", "[fracture]\nbroken = \"hammer\""),
        ("broken as a count", "[fracture]\nbroken = 2"),
        ("misspelt field", "[fracture]\nquench = \"oil\""),
    ]);
    insta::assert_snapshot!(said);
}

#[test]
fn quench_and_temper() {
    let said = each(&[
        ("water and oil", "[fracture]\nquenched_in = [\"water\", \"oil\"]"),
        ("heat without a unit", "[fracture]\nquench_heat = 850"),
        ("heat of the sun", "[fracture]\nquench_heat = \"5000 C\""),
        ("heat backwards", "[fracture]\nquench_heat = \"850-800 C\""),
        ("heat without a quench", "[fracture]\nquenched_in = \"not quenched\"\nquench_heat = \"850 C\""),
        ("quenched cold", "[fracture]\nquenched_in = \"oil\"\nquench_heat = \"400 C\""),
        ("tempered, not quenched", "[fracture]\nquenched_in = \"not quenched\"\ntempered = \"200 C\""),
        ("tempered as hot as the quench", "[fracture]\nquenched_in = \"oil\"\ntempered = \"850 C\""),
        ("tempered by a colour", "[fracture]\ntempered = \"straw\""),
        (
            "blank without its coupon",
            "[fracture.blank]\nrim = \"none\"\nquenched_in = \"water\"\ntempered = \"often\"",
        ),
        (
            "blank heat",
            "[fracture.blank]\nquenched_in = \"not quenched\"\nquench_heat = \"just past magnet\"",
        ),
        ("blank of a blank", "[fracture.blank.blank]\nrim = \"none\""),
        ("blank depth", "[fracture.blank]\nrim = \"none\"\ndepth = \"10 %\""),
    ]);
    insta::assert_snapshot!(said);
}

#[test]
fn file_skin_and_magnet() {
    let said = each(&[
        ("file too soft", "[witness]\nfile = { which = \"30 HRC\", result = \"skates\" }"),
        ("file without a unit", "[witness]\nfile = { which = 58, result = \"skates\" }"),
        ("file as one word", "[witness]\nfile = \"skates\""),
        ("files in a list of words", "[witness]\nfile = [\"skates\", \"bites\"]"),
        ("file without a result", "[witness]\nfile = { which = \"58 HRC\" }"),
        ("file both ways", "[witness]\nfile = { result = \"skates then bites\" }"),
        ("ground without a unit", "[witness]\nfile = { result = \"bites\", after_grinding = 0.1 }"),
        (
            "ground deeper than the coupon",
            "[witness]\nfile = { result = \"bites\", after_grinding = \"9 mm\" }",
        ),
        (
            "softer file skates, harder bites",
            "[witness]\nfile = [{ which = \"45 HRC\", result = \"bites\" }, { which = \"60 HRC\", result = \"skates\" }]",
        ),
        (
            "the same file both ways",
            "[witness]\nfile = [{ which = \"58 HRC\", result = \"bites\" }, { which = \"58 HRC\", result = \"skates\" }]",
        ),
        ("skin", "[witness]\nskin = \"rusty\""),
        ("magnet", "[witness]\nmagnet = false"),
        ("hardness", "[witness]\nhardness = \"60 HRC\""),
    ]);
    insta::assert_snapshot!(said);
}

#[test]
fn masses_piece_and_aim() {
    let said = each(&[
        ("after without before", "mass_after = \"23.4 g\""),
        ("mass without a unit", "mass_before = 23.4\nmass_after = 23.5"),
        ("masses of two coupons", "mass_before = \"23.4 g\"\nmass_after = \"29.4 g\""),
        ("grams and kilograms", "mass_before = \"23.4 g\"\nmass_after = \"23.5 kg\""),
        ("round and flat", "diameter = \"3 mm\""),
        (
            "edge thicker than the piece",
            "[piece]\nthickness = \"2 mm\"\nwidth = \"25 mm\"\nedge_thickness = \"3 mm\"",
        ),
        (
            "all of the piece ground off",
            "[piece]\nedge_thickness = \"1 mm\"\nmetal_off = \"1.2 mm\"\nbevels = \"one\"",
        ),
        ("metal off below zero", "[piece]\nmetal_off = \"-0.1 mm\""),
        (
            "wider than the container",
            "[piece]\nthickness = \"80 mm\"\nwidth = \"90 mm\"\n[pack]\ninside = \"50 mm\"",
        ),
        ("coupon sat", "[piece]\ncoupon_sat = \"in the middle\""),
        ("aim of nothing", "[aim]\ndepth = \"0 mm\""),
        ("criterion by itself", "[aim]\ncriterion = \"550 HV\""),
        ("criterion of a hardness nobody offers", "[aim]\ndepth = \"0.5 mm\"\ncriterion = \"60 HRC\""),
        ("edge carbon of cast iron", "[aim]\nedge_carbon = \"3 %C\""),
        ("use", "[aim]\nuse = \"edge\""),
    ]);
    insta::assert_snapshot!(said);
}
