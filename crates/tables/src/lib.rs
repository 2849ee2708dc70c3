//! unmire-tables
