"""Recorders: ranges, fingerings, breath and shading."""
