"""Sound card and sound files."""
