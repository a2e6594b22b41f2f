"""What a vehicle is taken to have where its document states nothing: typical values of common practice."""

__all__ = ["DEFAULT_CCA_A", "DEFAULT_STARTER_A"]

DEFAULT_CCA_A = 550.0
"""Cold-cranking rating [A]."""

DEFAULT_STARTER_A = 130.0
"""Steady cranking current of a warm engine [A]; 100 to 150 A for four cylinders."""
