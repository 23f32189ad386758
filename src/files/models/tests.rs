// A test fails by panicking.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use super::*;
use crate::soak::ThermometerPlace;
use crate::units::Temperature;

fn shipped() -> Models {
    Models::shipped().unwrap()
}

/// What loading says after `from` became `to` in one text.
fn after(
    pick: impl for<'a, 'b> Fn(&'a mut Texts<'b>) -> &'a mut &'b str,
    from: &str,
    to: &str,
) -> Result<Models, String> {
    let mut texts = SHIPPED;
    let text = *pick(&mut texts);
    assert!(text.contains(from), "nothing to plant a fault in: {from}");
    let changed = text.replacen(from, to, 1);
    let mut texts = Texts { ..texts };
    *pick(&mut texts) = &changed;
    Models::read(&texts).map_err(|e| e.to_string())
}

#[test]
fn names_and_aliases_are_found_in_any_case() {
    let models = shipped();
    assert_eq!(models.law("AGREN1986").unwrap().name, "agren1986");
    assert_eq!(models.grade(" a36 ").unwrap().name, "A36 bar to 20 mm");
    assert_eq!(models.grade("Mild Steel").unwrap().name, models.default_grade);
    assert_eq!(models.compound("with energizer").unwrap().name, "energized");
    assert_eq!(models.metal("Cartridge Brass").unwrap().name, "C26000");
    assert_eq!(models.colour("Full Cherry").unwrap().word, "full cherry");
    assert_eq!(models.compound("charcoal").unwrap().name, models.default_compound);
    assert_eq!(models.law(&models.default_law).unwrap().name, "agren1986");
}

#[test]
fn an_unknown_name_gets_near_ones_and_a_short_list() {
    let e = shipped().law("agren").unwrap_err();
    assert_eq!(e.to_string(), "`agren` is not a known diffusivity law");
    assert_eq!(e.near[0], "agren1986");
    assert!(e.near.len() <= 3);
    assert!(e.help().contains("known: `agren1986`, `tibbetts1980`"), "{}", e.help());

    let e = shipped().grade("1019").unwrap_err();
    assert!(e.near.contains(&"1018".to_owned()), "{:?}", e.near);
    assert!(e.help().contains("models/steels.toml lists all 40"), "{}", e.help());

    let e = shipped().compound("qqqq").unwrap_err();
    assert!(e.near.is_empty() && e.help().starts_with("known: `granules`"), "{}", e.help());
}

#[test]
fn units_are_converted() {
    let models = shipped();
    let granules = models.compound("granules").unwrap();
    assert!((granules.thermal.pore.value.best() - 1e-3).abs() < 1e-15);
    assert_eq!(granules.transfer.value.high(), f64::INFINITY);
    assert_eq!(granules.transfer.value.best(), 5e-7);
    assert_eq!(models.cooling.closed_pack.value.best().minutes(), 40.0);
    let by_eye = models.thermometers.iter().find(|t| t.place == ThermometerPlace::Eye).unwrap();
    assert_eq!(by_eye.error.value.low().kelvin(), -75.0);
    assert_eq!(models.thermometers.len(), 5);
    let middle = models.law("agren1986").unwrap().range.best();
    assert_eq!(middle, Temperature::from_celsius(f64::midpoint(727.0, 1148.0)).unwrap());
}

/// An unknown brass may be any brass of the file.
#[test]
fn unknown_brass_spans_every_brass() {
    let models = shipped();
    let any = models.metal("unknown brass").unwrap();
    let named = ["C26000", "C27000", "C28000", "C28500", "C36000", "C46400", "C85800", "C85400", "C23000"];
    let rods = ["C22000", "RBCuZn-A", "RBCuZn-C", "RBCuZn-D", "BCuZn-E", "BCuZn-G", "BCuZn-H"];
    for name in named.into_iter().chain(rods) {
        let brass = models.metal(name).unwrap();
        for (span, one) in [(&any.solidus, &brass.solidus), (&any.liquidus, &brass.liquidus)] {
            assert!(span.value.low() <= one.value.low() && one.value.high() <= span.value.high(), "{name}");
        }
    }
}

/// The same word differs from table to table, so no colour is surer than 75 °C either way.
#[test]
fn no_colour_is_narrower_than_75_degrees() {
    for colour in shipped().colours {
        let t = colour.temperature.value;
        let (below, above) = ((t.best() - t.low()).kelvin(), (t.high() - t.best()).kelvin());
        assert!(below >= 75.0 && above >= 75.0, "{}: -{below} +{above}", colour.word);
    }
}

#[test]
fn further_sources_are_kept_in_the_place() {
    let place = shipped().phase.acm.place;
    assert_eq!(place, "fit, worst error 0.003 %C; also gustafson1985");
}

#[test]
fn a_fault_is_named_with_file_entry_field_and_what_is_allowed() {
    let fault = after(|t| &mut t.steels, "low = 0.15, high = 0.20", "low = 0.25, high = 0.20").unwrap_err();
    let wanted = "models/steels.toml, 1018: carbon_percent is 0.25, 0.225, 0.2; allowed: low <= best <= high";
    assert_eq!(fault, wanted);

    let fault = after(|t| &mut t.steels, "high = 0.20,", "high = 20,").unwrap_err();
    assert_eq!(fault, "models/steels.toml, 1018: carbon_percent is 20 %C; allowed: 0 to 6.67 %C");

    let fault = after(|t| &mut t.packs, "\"colvin1922\"", "\"colvin\"").unwrap_err();
    let wanted = "models/packs.toml, granules: share_of_acm is from `colvin`; allowed: keys of sources.toml";
    assert_eq!(fault, wanted);

    let fault = after(|t| &mut t.case_depth, "value = 0.04", "low = 0.04").unwrap_err();
    assert!(fault.contains("case-depth.toml") && fault.contains("unknown field `low`"), "{fault}");

    let fault = after(|t| &mut t.case_depth, "low = 0.30, ", "").unwrap_err();
    assert!(fault.ends_with("allowed: value; low, high; or low, best, high"), "{fault}");
}

#[test]
fn sources_must_exist_be_used_and_give_a_place() {
    let extra = "[nobody]\nauthor = \"\"\ntitle = \"\"\nyear = \"\"\n\n[agren1986]";
    let fault = after(|t| &mut t.sources, "[agren1986]", extra).unwrap_err();
    assert!(fault.starts_with("models/sources.toml, nobody: the entry is used by no value"), "{fault}");

    let place = "place = \"total case depth, chemical method\"";
    let fault = after(|t| &mut t.case_depth, place, "place = \" \"").unwrap_err();
    assert!(fault.contains("is without a place"), "{fault}");

    let fault = after(|t| &mut t.case_depth, "\"confirmed\"", "\"sure\"").unwrap_err();
    assert!(fault.contains("`sure` is not a status; allowed: `confirmed`, `from memory`"), "{fault}");
}

#[test]
fn names_and_defaults_are_checked() {
    let fault = after(|t| &mut t.steels, "\"SAE 1020\"", "\"sae 1018\"").unwrap_err();
    assert!(fault.contains("1020: a name or alias is `sae 1018`"), "{fault}");

    let fault = after(|t| &mut t.packs, "default = \"unknown\"", "default = \"coke\"").unwrap_err();
    assert!(fault.contains("default is `coke`; allowed: granules, powder"), "{fault}");

    let default = "default = \"agren1986\"";
    let fault = after(|t| &mut t.diffusivity, default, "default = \"callister\"").unwrap_err();
    assert!(fault.ends_with("allowed: laws with purpose `prediction`"), "{fault}");

    let fault = after(|t| &mut t.witnesses, "place = \"by eye\"", "place = \"outside\"").unwrap_err();
    assert!(fault.contains("outside: place is missing or there twice"), "{fault}");
    let fault = after(|t| &mut t.witnesses, "place = \"by eye\"", "place = \"near\"").unwrap_err();
    assert!(fault.contains("place is `near`; allowed: beside the steel"), "{fault}");
}

#[test]
fn numbers_that_no_law_can_have_are_refused() {
    let fault = after(|t| &mut t.diffusivity, "d0 = 2.3e-5", "d0 = 23.0").unwrap_err();
    assert!(fault.contains("callister: form is") && fault.contains("1e-6"), "{fault}");
    let fault = after(|t| &mut t.diffusivity, "d0 = 4.53e-7", "d0 = nan").unwrap_err();
    assert!(fault.contains("agren1986: form is NaN"), "{fault}");
    let note =
        "range_note = \"the whole austenite field; the range that the paper itself claims was not seen\"\n";
    let fault = after(|t| &mut t.diffusivity, note, "").unwrap_err();
    assert!(fault.contains("agren1986: range_note is missing"), "{fault}");
    let fault = after(|t| &mut t.packs, "best = \"held\"", "best = \"fast\"").unwrap_err();
    assert!(fault.contains("a number in m/s or the word \"held\""), "{fault}");
    let fault = after(|t| &mut t.packs, "best = \"held\"", "best = inf").unwrap_err();
    assert!(fault.contains("a number in m/s or the word \"held\""), "{fault}");
    let fault = after(|t| &mut t.witnesses, "value = 954,", "value = 901,").unwrap_err();
    assert!(fault.contains("C26000: liquidus_celsius is below the solidus"), "{fault}");
}

#[test]
fn a_table_of_hardness_that_falls_or_repeats_is_refused() {
    let fault = after(|t| &mut t.hardness, "[0.12, 39.5", "[0.09, 39.5").unwrap_err();
    assert!(fault.starts_with("models/hardness.toml, martensite: columns_hrc is 0.09 %C"), "{fault}");
    let fault = after(|t| &mut t.hardness, "[0.12, 39.5, 34.5", "[0.12, 34.5, 39.5").unwrap_err();
    assert!(fault.contains("martensite: columns_hrc is 34.5 HRC"), "{fault}");
    let fault = after(|t| &mut t.hardness, "50.723, 33.662", "-50.723, 33.662").unwrap_err();
    assert!(fault.contains("full_hrc is no hardness, or a falling one"), "{fault}");
    let fault = after(|t| &mut t.hardness, "value = 0.69", "value = 0.85").unwrap_err();
    assert!(fault.contains("join_percent is 0.85 %C; allowed: inside"), "{fault}");
    let fault = after(|t| &mut t.hardness, "238, 243, 248", "238, 238, 248").unwrap_err();
    assert!(fault.contains("conversion: hv_from_20_hrc is 238 HV"), "{fault}");
    let fault = after(|t| &mut t.hardness, "52, 50, 48", "52, 50, 51").unwrap_err();
    assert!(fault.contains("temper: chart_hrc is 50 HRC"), "{fault}");
    let fault = after(|t| &mut t.hardness, "stirring = \"mild\"", "stirring = \"none\"").unwrap_err();
    assert!(fault.contains("severity oil, none: the entry is there twice"), "{fault}");
    let fault = after(|t| &mut t.hardness, "medium = \"oil\"", "medium = \"mud\"").unwrap_err();
    assert!(fault.contains("medium is `mud`; allowed: water, brine, oil"), "{fault}");
    let fault = after(|t| &mut t.hardness, "name = \"62\"", "name = \"65\"").unwrap_err();
    assert!(fault.contains("file 65: name is there twice"), "{fault}");
}

#[test]
fn reading_errors_and_the_tree_of_faces_are_checked() {
    let fault = after(|t| &mut t.fracture, "value = 0.1,", "value = 3.0,").unwrap_err();
    let wanted = "models/fracture.toml, reading: length_mm is 3 mm; allowed: 0.01 to 1 mm";
    assert_eq!(fault, wanted);
    let fault = after(|t| &mut t.fracture_depth, "\"rim_share\"", "\"rim_part\"").unwrap_err();
    assert!(fault.starts_with("models/fracture-depth.toml: node "), "{fault}");
    let fault = after(|t| &mut t.fracture_depth, "\"texture_core\"", "\"texture\"").unwrap_err();
    assert!(fault.contains("features is rim, rim_share") && fault.contains("allowed: rim, "), "{fault}");
}

#[test]
fn causes_and_verdict_are_checked() {
    let fault = after(|t| &mut t.causes, "face = \"lip\"", "face = \"lid\"").unwrap_err();
    assert_eq!(fault, "models/causes.toml, shear_lip: face is lid; allowed: no border, lip");
    let fault =
        after(|t| &mut t.causes, "chances = { partly_out = 0.4 }", "chances = { partly = 0.4 }").unwrap_err();
    assert!(fault.contains("cold_steel: chances is `partly`; allowed: dark_skin, oil"), "{fault}");
    let fault =
        after(|t| &mut t.causes, "chances = { partly_out = 0.4 }", "chances = { oil = 1.0 }").unwrap_err();
    assert!(fault.contains("oil = 1; allowed: 0.001 to 0.999"), "{fault}");
    let fault = after(|t| &mut t.causes, "dark_skin = 0.10, ", "").unwrap_err();
    assert!(fault.contains("usual: chances is without `dark_skin`"), "{fault}");
    let fault = after(|t| &mut t.causes, "moves = [{ face = \"lip\" }]", "moves = [{}]").unwrap_err();
    assert!(fault.contains("shear_lip: moves is a change that changes nothing"), "{fault}");
    let fault = after(|t| &mut t.causes, ", air_celsius = 850 }", " }").unwrap_err();
    assert!(fault.contains("air_minutes is alone"), "{fault}");
    let fault = after(|t| &mut t.causes, "key = \"hot_steel\"", "key = \"cold_steel\"").unwrap_err();
    assert!(fault.contains("cold_steel: key is there twice"), "{fault}");
    let fault = after(|t| &mut t.causes, "temperature_kelvin = 90", "temperature_kelvin = 900").unwrap_err();
    assert!(fault.contains("hot_steel: temperature_kelvin is 900; allowed: -300 to 300"), "{fault}");
    let fault = after(|t| &mut t.verdict, "enough = { value = 0.70", "enough = { value = 0.40").unwrap_err();
    assert!(fault.contains("verdict.toml, sure: enough is 0.4"), "{fault}");
}

#[test]
fn a_line_of_photos_that_cannot_be_is_refused() {
    let say = |from: &str, to: &str| after(|t| &mut t.photo_lines, from, to).unwrap_err();
    for (from, to, told) in [
        ("\"rays\"", "\"beams\"", "lines is beams; allowed: columns"),
        ("\"rays\"", "\"onset\"", "lines is onset; allowed: columns"),
        ("\"burst_ratio\",", "\"burst_ratio\", offset = 0.0, offset_sd = 1.0,", "lines is burst_ratio"),
        ("scatter = 0.10", "scatter = 0.0", "lines is 0 ; allowed: 0.001 to 10"),
        ("offset_sd = ", "offset_sd = 1", "lines is 10.5"),
        ("slope = 1", "slope = -1", "lines is -1"),
    ] {
        assert!(say(from, to).contains(told), "{}", say(from, to));
    }
}
