"""Ear, breath or instrument: who owns how much of a note, how surely, and what is next."""
