//! unmire-mechanics
