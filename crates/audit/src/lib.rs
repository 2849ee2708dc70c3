//! unmire-audit
