"""Crosstape: survey an old car's separate frame with a tape, a string, a level and a home-made bar."""

__version__ = "0.1.0"
