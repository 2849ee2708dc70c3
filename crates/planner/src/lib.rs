//! unmire-planner
