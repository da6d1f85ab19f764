"""How far a note lies from its target, what to do about it, and what a take as a whole says."""
