"""The usual cautions for long tones and for a loud room."""

from intonation.language import say

LONG_TONES = say(
    "Long tones: breathe normally between notes and stop at once if you feel light-headed. "
    "Twenty to thirty seconds of playing, then a rest, is plenty."
)

LOUDNESS = say(
    "Keep the reference soft: just loud enough to hear the wave against your note. A high recorder "
    "close to a wall can pass 85 dB at the ear. Rest your ears, and follow local rules on noise."
)

HEADPHONES = say("Turn the loudness down before you put headphones on, then bring it up slowly.")

POSTURE = say("Put the recorder down when a hand, the neck or the back begins to ache.")
