"""What the screens print, as styled text: no widget, no state."""
