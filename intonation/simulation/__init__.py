"""A simulated player who stands in for the human being."""
