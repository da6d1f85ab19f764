"""The few widgets of our own."""
