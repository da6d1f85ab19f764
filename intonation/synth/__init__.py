"""The reference sound: exact oscillators, and a SoundFont player that is just as exact."""
