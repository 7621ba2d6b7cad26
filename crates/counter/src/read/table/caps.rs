//! How much a file may hold: enough for any lot, too little to bring the counter down.

/// The largest file, in bytes (20 MB).
pub const FILE_BYTES: usize = 20_000_000;
/// The largest workbook once unpacked, in bytes (200 MB).
pub const UNPACKED_BYTES: u64 = 200_000_000;
/// The most files packed into a workbook.
pub const PACKED_FILES: usize = 2_000;
/// The longest serial, cavity, tray, number or name, in characters.
pub const ID_LETTERS: usize = 64;
/// The longest note, in characters.
pub const NOTE_LETTERS: usize = 2_000;
/// The most rows.
pub const ROWS: usize = 1_000_000;
/// The most columns.
pub const COLUMNS: usize = 256;
/// The most cells: a file of nothing but separators is all cells.
pub const CELLS: usize = 5_000_000;
/// The most findings kept with their lines; the rest is counted.
pub const FINDINGS: usize = 1_000;
