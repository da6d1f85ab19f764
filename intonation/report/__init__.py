"""Results as tables, JSON and pages."""
