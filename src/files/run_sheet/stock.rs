use super::fault::Fault;
use super::field::Field;
use super::model::MOST_DISSOLVED;
use super::reading::Reading;
use super::section::Section;
use crate::files::Models;
use crate::steel::{Coupon, Faces, Grade, Shape, Stock};
use crate::units::{CarbonPercent, Depth, Interval, Mass};

/// Mass that a coupon may gain or lose in the pack, as a share: a full case is under 0.01.
const MOST_MASS_CHANGE: f64 = 0.05;

/// Share that a mass may differ by from what the sizes weigh: holes, round corners and a ruler (judgement).
const MOST_OFF_SIZES: f64 = 0.25;

/// Thinnest coupon: less is foil, and more likely a slip in the unit, mm (judgement).
const THINNEST_MM: f64 = 0.1;

const FACES: [(&str, Faces); 4] =
    [("both faces", Faces::Both), ("one face", Faces::One), ("both", Faces::Both), ("one", Faces::One)];

/// The stock when nobody knows.
pub(super) fn unknown(reading: &Reading<'_>) -> Stock {
    of_grade(reading.unknown.grade)
}

/// Reads `[stock]`: the steel, and the coupon if anything is said of it.
pub(super) fn read(section: &mut Section<'_>) -> (Stock, Option<Coupon>) {
    (steel(section), coupon(section))
}

fn of_grade(grade: &Grade) -> Stock {
    Stock { name: grade.name.clone(), carbon: grade.carbon.value, manganese: grade.manganese }
}

fn steel(section: &mut Section<'_>) -> Stock {
    let grade = section.take("grade").and_then(|f| f.name(Models::grade));
    let carbon = section.take("carbon");
    let measured = carbon.as_ref().and_then(|field| {
        let range = field.interval::<CarbonPercent>()?;
        if range.high().wt_percent() <= MOST_DISSOLVED {
            return Some(range);
        }
        field.refuse(Fault::new(
            format!("with {} %C it is cast iron, not steel to be carburized", range.high().wt_percent()),
            format!("allowed: 0 to {MOST_DISSOLVED} %C"),
        ))
    });
    match (grade, measured) {
        (Some(grade), Some(carbon_range)) => {
            if let Some(field) = carbon {
                said_twice(&field, &grade, carbon_range);
            }
            Stock { name: grade.name, carbon: carbon_range, manganese: grade.manganese }
        }
        (Some(grade), None) => of_grade(&grade),
        (None, Some(carbon)) => Stock { name: "steel of known carbon".to_string(), carbon, manganese: None },
        (None, None) => unknown(section.reading),
    }
}

/// Carbon wins over grade, and that is said.
fn said_twice(field: &Field<'_>, grade: &Grade, carbon: Interval<CarbonPercent>) {
    let range = grade.carbon.value;
    let (low, high) = (range.low().wt_percent(), range.high().wt_percent());
    let outside = carbon.low() > range.high() || carbon.high() < range.low();
    let message = "grade and carbon are both given: the carbon is used, the grade is only a name";
    let help = if outside {
        format!(
            "the carbon is outside the {low} to {high} %C of {}: check which of them is right",
            grade.name
        )
    } else {
        String::new()
    };
    field.reading.warning(field.at, &field.path, Fault::new(message, help));
}

fn not_a_foil(field: &Field<'_>, size: Depth) -> Option<Depth> {
    if size.millimetres() >= THINNEST_MM {
        return Some(size);
    }
    let message = format!("a coupon of {} mm is foil", size.millimetres());
    field.refuse(Fault::new(message, format!("check the unit; allowed: {THINNEST_MM} mm and more")))
}

fn coupon(section: &mut Section<'_>) -> Option<Coupon> {
    let said = section.first_of(&[
        "coupon",
        "thickness",
        "diameter",
        "length",
        "width",
        "packed",
        "mass_before",
        "mass_after",
    ]);
    let round = section.take("coupon").and_then(|f| f.word(&[("flat", false), ("round", true)]));
    let thickness = section.take("thickness");
    let diameter = section.take("diameter");
    let packed = section.take("packed");
    let round = round.unwrap_or(diameter.is_some() && thickness.is_none());
    let (size, other, packed_here) =
        if round { (&diameter, &thickness, None) } else { (&thickness, &diameter, packed.as_ref()) };
    let refuse = |field: &Option<Field<'_>>, message: &str, help: &str| {
        if let Some(field) = field {
            field.refuse::<()>(Fault::new(message, help));
        }
    };
    let measured = size.as_ref().and_then(|field| not_a_foil(field, field.more_than_zero()?));
    let shape = if round {
        refuse(other, "a round coupon has no thickness", "write its diameter, or coupon = \"flat\"");
        let help = "take the line out: a round coupon counts as packed all round";
        refuse(&packed, "a round coupon has no faces", help);
        Shape::Round { diameter: measured }
    } else {
        refuse(other, "a flat coupon has no diameter", "write its thickness, or coupon = \"round\"");
        let faces = packed_here.and_then(|f| f.word(&FACES)).unwrap_or(Faces::Both);
        Shape::Flat { thickness: measured, faces }
    };
    let length = section.take("length").and_then(|f| f.more_than_zero());
    let wide = section.take("width");
    let width = wide.as_ref().filter(|_| !round).and_then(Field::more_than_zero);
    if round {
        refuse(&wide, "a round coupon has no width", "write its diameter and its length");
    }
    let before = section.take("mass_before");
    let mass_before = before.as_ref().and_then(Field::more_than_zero::<Mass>);
    let after = section.take("mass_after");
    let mass_after = after.as_ref().and_then(Field::more_than_zero::<Mass>);
    if let (Some(field), Some(_), None) = (&after, mass_after, mass_before) {
        let fault = Fault::new("without mass_before it says nothing of what was gained", "add mass_before");
        field.reading.warning(field.at, &field.path, fault);
    }
    if let (Some(field), Some(before), Some(after)) = (after, mass_before, mass_after) {
        let change = (after.grams() - before.grams()) / before.grams();
        if change.abs() > MOST_MASS_CHANGE {
            let message =
                format!("the coupon's mass changes by {:.0} %; a case adds less than 1 %", change * 100.0);
            field.reading.warning(
                field.at,
                &field.path,
                Fault::new(message, "check both masses and their units"),
            );
        }
    }
    let coupon = Coupon { shape, length, width, mass_before, mass_after };
    if let (Some(field), Some(weighs), Some(sizes)) = (before, mass_before, coupon.mass_by_sizes()) {
        let (weighs, sizes) = (weighs.grams(), sizes * 1e3);
        if (weighs / sizes - 1.0).abs() > MOST_OFF_SIZES {
            let message = format!("it weighs {weighs:.1} g, but steel of these sizes {sizes:.1} g");
            let help = "check sizes, mass and their units; the sizes tell the surface";
            field.reading.warning(field.at, &field.path, Fault::new(message, help));
        }
    }
    said.map(|_| coupon)
}
