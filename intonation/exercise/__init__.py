"""What to play: drones, intervals, scales, melodies, chords."""
