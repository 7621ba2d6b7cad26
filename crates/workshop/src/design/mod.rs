//! Station card of design (to be written).
