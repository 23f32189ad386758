//! Known steels: drawn smiths read by their own steels, and what is kept on disk.

mod drawn;
