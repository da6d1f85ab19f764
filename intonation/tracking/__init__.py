"""Samples in, pitch frames and held notes out."""
