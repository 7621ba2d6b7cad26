//! Files of parts: bytes → raw table → checked parts; everything of a file or nothing.
//!
//! | step | file |
//! |---|---|
//! | bytes → text, the encoding said | [`encoding`] |
//! | text → rows of cells, the separator found | [`delimited`] |
//! | workbook → rows of cells, looked into before it is unpacked | [`sheet`] |
//! | header words → what the columns hold, in which unit | [`words`], [`columns`] |
//! | one cell → a number | [`number`] |
//! | one row → a part, or everything that is wrong with it | [`rows`], `draft` |
//! | the times, never trusted | [`times`] |
//! | the whole: duplicates, slips, all or nothing | [`lot`], `gathered` |
//! | parts → a table that reads back as the same lot | [`mod@write`] |
//!
//! Whether a reading can be believed is not decided here: the measuring station says it.

pub mod caps;
pub mod columns;
pub mod delimited;
mod draft;
pub mod encoding;
pub mod finding;
mod gathered;
pub mod lot;
pub mod number;
pub mod options;
pub mod raw;
pub mod rows;
pub mod sheet;
pub mod times;
pub mod words;
pub mod write;

pub use finding::{FileRefusal, Finding};
pub use lot::{LotFile, Reading, Row, read_lot};
pub use options::ReadOptions;
pub use write::{Table, Value, table_of_parts, to_csv, to_xlsx};
