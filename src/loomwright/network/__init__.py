"""From an installation to its circuit: states, solutions, bounds, the proof and the readings."""
