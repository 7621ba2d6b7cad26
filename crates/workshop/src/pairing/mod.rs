//! Station card of pairing (to be written).
