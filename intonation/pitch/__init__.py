"""Hertz, cents, note names, intervals, temperaments and tunings. Pure arithmetic."""
