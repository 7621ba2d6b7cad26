//! Station card of measuring (to be written).
