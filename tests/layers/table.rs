//! Who may use whom: the layers of the crate, lowest first, and the checks of the table itself.

use std::collections::BTreeMap;

/// Layer, module, and the modules it may use directly.
pub(crate) type Row = (u8, &'static str, &'static [&'static str]);

/// Every module of the design, there already or not. A module uses only what is listed above it.
pub(crate) const TABLE: &[Row] = &[
    (0, "units", &[]),
    (0, "sources", &[]),
    (0, "stats", &["units"]),
    (0, "transport", &[]),
    // Knows no steel.
    (0, "tree", &["stats"]),
    // Knows no photo.
    (0, "net", &[]),
    (1, "steel", &["units", "sources"]),
    (2, "hardness", &["units", "sources", "stats", "steel"]),
    (2, "photo", &["units", "sources", "stats"]),
    (2, "soak", &["units", "sources", "stats", "transport", "steel"]),
    (3, "spark", &["units", "sources", "stats", "net", "steel", "photo"]),
    // The patch tree reads a photographed face.
    (3, "fracture", &["units", "sources", "stats", "tree", "net", "steel", "photo"]),
    // What a file bites depends on hardness.
    (3, "witness", &["units", "sources", "stats", "steel", "hardness"]),
    (3, "diffusion", &["units", "sources", "transport", "steel", "soak"]),
    (4, "features", &["units", "sources", "stats", "steel", "spark", "fracture", "witness"]),
    // What the soak should have given: sees no observation of the coupon.
    (4, "prediction", &["units", "sources", "stats", "transport", "steel", "hardness", "soak", "diffusion"]),
    (
        5,
        "known",
        // Hardness tells the carbon of a case that was measured another way.
        &[
            "units", "sources", "stats", "tree", "steel", "hardness", "photo", "spark", "fracture",
            "witness", "features",
        ],
    ),
    // What the coupon shows: sees no soak. Observations reach it as features only.
    (6, "estimate", &["units", "sources", "stats", "tree", "steel", "hardness", "features", "known"]),
    (7, "audit", &["units", "sources", "stats", "tree", "steel", "features", "known", "estimate"]),
    // The first place where the soak and the coupon meet.
    (
        8,
        "crosscheck",
        &[
            "units",
            "sources",
            "stats",
            "steel",
            "hardness",
            "soak",
            // File, skin, magnet and the order of sparks need no features: they are words already.
            "spark",
            "witness",
            "diffusion",
            "features",
            "prediction",
            "estimate",
        ],
    ),
    (
        9,
        "plan",
        &[
            "units",
            "sources",
            "stats",
            "steel",
            "hardness",
            "soak",
            "diffusion",
            "prediction",
            "estimate",
            "crosscheck",
        ],
    ),
    (10, "report", DOMAIN),
    (10, "files", DOMAIN),
    // Before `cli`, whose command starts it.
    (11, "serve", ALL.split_at(23).0),
    (11, "cli", ALL.split_at(24).0),
];

/// Every module in the order of the table.
#[rustfmt::skip]
pub(crate) const ALL: &[&str] = &[
    "units", "sources", "stats", "transport", "tree", "net", "steel", "hardness", "photo", "soak", "spark", "fracture",
    "witness", "diffusion", "features", "prediction", "known", "estimate", "audit", "crosscheck", "plan", "report",
    "files", "serve", "cli",
];

/// Layers 0 to 9: plain functions of values.
const DOMAIN: &[&str] = ALL.split_at(21).0;

/// Modules that must not reach others, whatever lies between: else the cross-check agrees with itself.
const APART: &[(&str, &[&str])] = &[
    ("estimate", &["soak", "diffusion", "prediction"]),
    ("diffusion", &["spark", "fracture", "witness", "features", "known", "estimate"]),
    ("prediction", &["spark", "fracture", "witness", "features", "known", "estimate"]),
];

/// Direct uses: module -> modules.
pub(crate) type Uses = BTreeMap<String, Vec<String>>;

/// What is wrong with the table itself.
pub(crate) fn check_table(table: &[Row]) -> Vec<String> {
    let mut wrong = Vec::new();
    for (at, (layer, module, may_use)) in table.iter().enumerate() {
        let before = &table[..at];
        if before.iter().any(|(_, name, _)| name == module) {
            wrong.push(format!("table: `{module}` is listed twice; keep one row"));
        }
        if before.last().is_some_and(|(lower, _, _)| lower > layer) {
            wrong.push(format!("table: `{module}` stands below a higher layer; list layers in order"));
        }
        for used in *may_use {
            if !before.iter().any(|(_, name, _)| name == used) {
                wrong.push(format!(
                    "table: `{module}` may not use `{used}`, which is not listed above it: uses go down \
                     only, so that no cycle can form; move what both need to a lower module"
                ));
            }
        }
    }
    let uses = table
        .iter()
        .map(|(_, module, may_use)| ((*module).to_owned(), may_use.iter().map(|m| (*m).to_owned()).collect()))
        .collect();
    wrong.extend(check_apart("table", &uses));
    wrong
}

/// Follows uses to the end, so that no detour joins what is kept apart.
pub(crate) fn check_apart(of: &str, uses: &Uses) -> Vec<String> {
    let mut wrong = Vec::new();
    for (module, far) in APART {
        let chains = reached(module, uses);
        for other in *far {
            if let Some(chain) = chains.get(*other) {
                wrong.push(format!(
                    "{of}: `{module}` reaches `{other}` ({}): the estimate and the prediction never see each \
                     other, or the cross-check would agree with itself; cut one of these uses and let \
                     `crosscheck` bring the two together",
                    chain.join(" -> ")
                ));
            }
        }
    }
    wrong
}

/// Every module that `from` reaches, with a shortest way there.
fn reached(from: &str, uses: &Uses) -> BTreeMap<String, Vec<String>> {
    let mut chains = BTreeMap::new();
    let mut open = std::collections::VecDeque::from([vec![from.to_owned()]]);
    while let Some(chain) = open.pop_front() {
        for next in chain.last().and_then(|m| uses.get(m)).into_iter().flatten() {
            if next != from && !chains.contains_key(next) {
                let longer: Vec<String> = chain.iter().chain([next]).cloned().collect();
                chains.insert(next.clone(), longer.clone());
                open.push_back(longer);
            }
        }
    }
    chains
}
