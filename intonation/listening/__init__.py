"""Ear training: what to sound, what an answer tells, and how fine the listener's ear is."""
