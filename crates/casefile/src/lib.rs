//! unmire-casefile
