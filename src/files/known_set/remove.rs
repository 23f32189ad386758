use super::conflict::Holders;
use super::layout::MOST_BYTES;
use super::set::one_of;
use super::{Kept, KnownSet, Layout};
use crate::files::problem::Problem;
use crate::files::run_sheet::read::read_up_to;
use crate::files::save::{make_folders, set_aside, sync_folder};
use std::fs;
use std::io;
use std::path::Path;

impl KnownSet {
    /// Puts a record aside, from where [`Self::bring_back`] fetches it; `name` as [`Self::name_of`] gives it.
    pub fn remove(&mut self, name: &str) -> Result<(), Box<Problem>> {
        let to = self.layout.removed(name);
        let moved = make_folders(&self.folder().join(Layout::REMOVED))
            // one of that name that was removed before is kept as well
            .and_then(|()| if to.exists() { set_aside(&to).map(|_| ()) } else { Ok(()) })
            .and_then(|()| rename(&self.layout.record(name), &to));
        moved.map_err(|e| not_moved(name, &e))?;
        self.records.retain(|(n, _)| n != name);
        self.faces.retain(|(n, _)| n != name);
        Ok(())
    }

    /// Brings a record back that was removed; gives its name.
    pub fn bring_back(&mut self, beginning: &str) -> Result<String, Vec<Problem>> {
        let removed = self.removed();
        let all = || removed.iter().map(String::as_str);
        let name = one_of(beginning, all, "removed record", "they are in the folder `removed` of the set");
        let name = name.map_err(|p| vec![*p])?;
        let (from, to) = (self.layout.removed(name), self.layout.record(name));
        if to.exists() {
            let help = "it was added again since; nothing was changed";
            return Err(vec![Problem::error(name, "a record of that name is there").help(help)]);
        }
        let bytes = read_up_to(&from, MOST_BYTES + 1).map_err(|e| vec![*not_moved(name, &e)])?;
        let kept = Kept::read_bytes(bytes, &from.to_string_lossy(), self.models)?;
        if let Kept::Steel(steel) = &kept {
            let contradictions = Holders::of(self).contradictions(steel);
            if !contradictions.is_empty() {
                return Err(contradictions);
            }
        }
        rename(&from, &to).map_err(|e| vec![*not_moved(name, &e)])?;
        self.take(name.to_string(), kept);
        self.sort();
        Ok(name.to_string())
    }
}

fn rename(from: &Path, to: &Path) -> io::Result<()> {
    fs::rename(from, to)?;
    [to, from].iter().filter_map(|path| path.parent()).try_for_each(sync_folder)
}

fn not_moved(name: &str, e: &io::Error) -> Box<Problem> {
    let problem = Problem::error(name, format!("the record cannot be moved: {e}"));
    Box::new(problem.help("check that the set may be written to"))
}
