"""The practice record and the settings on disk."""
