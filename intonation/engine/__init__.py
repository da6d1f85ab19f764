"""Joins sound to a practice session: processes, threads, wiring, watchdog."""
