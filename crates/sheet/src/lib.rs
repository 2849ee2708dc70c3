//! unmire-sheet
