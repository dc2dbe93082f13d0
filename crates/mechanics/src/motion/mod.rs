//! Slider-crank motion of every cylinder at any crank angle, and barring the engine.
