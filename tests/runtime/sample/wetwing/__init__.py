"""A stand-in for the simulation, which does what that never does on purpose: hang, raise, eat memory."""

__version__ = "0.0.1"
