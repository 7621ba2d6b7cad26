//! Printed sheets, A4, as PDF.

mod balance_sheet;
mod fit_sheet;
mod head;
mod layout;
mod limit_sheet;
mod mould_sheet;
mod pairing_sheet;
mod pick_columns;
mod pick_list;
mod places;
mod recut_card;
mod recut_list;
mod rim_sheet;
mod section_sheet;
mod set_list;
mod spin_rows;
mod spin_sheet;
mod table;
mod traveller;

pub use balance_sheet::balance_sheet;
pub use fit_sheet::fit_sheet;
pub use head::Head;
pub use limit_sheet::limit_sheet;
pub use mould_sheet::{mould_sheet, study_sheet};
pub use pairing_sheet::pairing_sheet;
pub use pick_list::pick_list;
pub use recut_card::{cut_list, recut_card};
pub use recut_list::recut_list;
pub use rim_sheet::rim_sheet;
pub use section_sheet::section_sheet;
pub use set_list::set_list;
pub use spin_rows::{compare_rows, recording_rows, spin_log_rows, tray_rows};
pub use spin_sheet::{spin_sheet, spin_test_sheet};
pub use traveller::{Step, Traveller, traveller};
