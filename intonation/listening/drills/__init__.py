"""The drills: each makes trials of one kind, and says what can be asked."""
