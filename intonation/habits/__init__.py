"""What a player's record tells: where each note usually lies, and what to practise today."""
