"""The reference sound."""
