"""Loomwright: one joined model of a vehicle and a remote-start kit, and everything that follows from it."""

__version__ = "0.1.0"
