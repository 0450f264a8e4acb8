"""Wet Wing: a simulation of an aircraft's fuel system as a pure function of an aircraft and a script."""

__version__ = "0.1.0"
