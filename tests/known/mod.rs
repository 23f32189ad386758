//! Known steels: drawn smiths read by their own steels, and the store: what is killed, filled and damaged around it.

mod advised;
mod any_rig;
mod drawn;
mod edge_commands;
mod edge_drawn;
mod fitting;
mod json;
mod points;
mod smith;
mod store;
mod store_any;
mod store_archive;
mod store_bad_archives;
mod store_bad_inputs;
mod store_commands;
mod store_disk;
mod store_kill;
mod store_large;
mod store_measured;
mod trained;
