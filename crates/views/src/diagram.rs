//! The arrow drawing, and slow motion.

mod plan;
mod slow_motion;

pub(crate) use plan::ArrowPlan;
pub(crate) use slow_motion::SlowMotion;
