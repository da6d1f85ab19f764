"""The held-note row: the unit of every statistic, and its exchange as CSV text."""
