"""The interface in plain lines, for screen readers and terminals that cannot be drawn on."""
