//! Printed sheets, A4, as PDF.

mod balance_sheet;
mod head;
mod layout;
mod limit_sheet;
mod pairing_sheet;
mod pick_columns;
mod pick_list;
mod places;
mod recut_list;
mod section_sheet;
mod set_list;
mod table;
mod traveller;

pub use balance_sheet::balance_sheet;
pub use head::Head;
pub use limit_sheet::limit_sheet;
pub use pairing_sheet::pairing_sheet;
pub use pick_list::pick_list;
pub use recut_list::recut_list;
pub use section_sheet::section_sheet;
pub use set_list::set_list;
pub use traveller::{Step, Traveller, traveller};
