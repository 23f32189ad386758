use super::fault::Fault;
use super::section::Section;
use crate::known::rig_name;

/// What a sheet names, and the line where it does.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Named {
    /// The name.
    pub text: String,
    /// Its line, from 1.
    pub line: usize,
}

/// The known steels that a sheet is to be read by.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct KnownPlace {
    /// The rig whose known steels sparks are read by.
    pub rig: Option<Named>,
    /// Folder of the set, from the sheet's folder on.
    pub set: Option<Named>,
}

/// Reads `rig` and `set` of `[spark]`.
pub(super) fn read(section: &mut Section<'_>) -> KnownPlace {
    let rig = section.take("rig").and_then(|f| {
        let rig = f.settle(rig_name(f.short("a rig")?).map_err(|e| Fault::new(e.to_string(), e.help())))?;
        Some(Named { text: rig, line: f.reading.lines.place(f.at).0 })
    });
    let set = section.take("set").and_then(|f| {
        let text = f.text()?;
        if text.is_empty() || text.contains('\0') {
            let fault = Fault::new("the set has no name", "write its folder, from the sheet's folder on");
            return f.refuse(fault);
        }
        Some(Named { text, line: f.reading.lines.place(f.at).0 })
    });
    KnownPlace { rig, set }
}
