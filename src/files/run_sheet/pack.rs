use super::fault::Fault;
use super::reading::Reading;
use super::section::Section;
use crate::files::Models;
use crate::soak::{Container, ContainerShape, Pack, Vent};

const SHAPES: [(&str, ContainerShape); 2] = [("pipe", ContainerShape::Pipe), ("box", ContainerShape::Box)];
const VENTS: [(&str, Vent); 4] = [
    ("hole", Vent::Hole),
    ("loose lid", Vent::LooseLid),
    ("gaping lid", Vent::GapingLid),
    ("none", Vent::None),
];

/// The pack when nobody knows.
pub(super) fn unknown(reading: &Reading<'_>) -> Pack {
    Pack {
        container: None,
        compound: reading.unknown.compound.clone(),
        vent: None,
        distance_from_wall: None,
        wholly_in_heat: None,
    }
}

/// Reads `[pack]`.
pub(super) fn read(section: &mut Section<'_>) -> Pack {
    let container = section.take("container");
    let inside = section.take("inside");
    let wall = section.take("wall");
    let first = [&inside, &wall].into_iter().flatten().next();
    if let (None, Some(field)) = (&container, first) {
        let fault = Fault::new(
            "sizes of a container are given but not its shape: they are left out",
            "add container = \"pipe\" or \"box\"",
        );
        field.reading.warning(field.at, &field.path, fault);
    }
    let shape = container.and_then(|f| f.word(&SHAPES));
    let inside = inside.and_then(|f| f.more_than_zero());
    let wall = wall.and_then(|f| f.more_than_zero());
    let compound = section.take("compound").and_then(|f| f.name(Models::compound));
    let vent = section.take("vent").and_then(|f| f.word(&VENTS));
    let distance_from_wall = section.take("distance_from_wall").and_then(|f| f.quantity());
    let wholly_in_heat = section.take("wholly_in_heat").and_then(|f| f.yes_no());
    Pack {
        container: shape.map(|shape| Container { shape, inside, wall }),
        compound: compound.unwrap_or_else(|| section.reading.unknown.compound.clone()),
        vent,
        distance_from_wall,
        wholly_in_heat,
    }
}
