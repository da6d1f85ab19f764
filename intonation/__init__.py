"""Keep recorder players and their instruments in tune, by ear first."""

__version__ = "0.1.0"
