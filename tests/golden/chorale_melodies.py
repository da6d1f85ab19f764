"""Write chorale_melodies.json: the soprano of seven chorales, by another library's own reading.

Run by hand with music21 10.5.1 installed (BSD licence; its corpus is read, not copied: pitches and
lengths are facts). Each melody is a list of [semitones above its first note, quarter lengths];
rests are left out.
"""

import json
import warnings
from pathlib import Path

CHORALES = {
    "innsbruck": "bach/bwv244.10",
    "nun-danket": "bach/bwv386",
    "herzlich-tut-mich-verlangen": "bach/bwv244.54",
    "vom-himmel-hoch": "bach/bwv248.9-1",
    "jesu-meine-freude": "bach/bwv227.1",
    "ein-feste-burg": "bach/bwv80.8",
    "old-hundredth": "bach/bwv326",
}


def main() -> None:
    warnings.simplefilter("ignore")
    from music21 import corpus

    melodies = {}
    for name, source in CHORALES.items():
        score = corpus.parse(source)
        soprano = next(p for p in score.parts if "Sopran" in (p.partName or "Soprano"))
        notes = [n for n in soprano.stripTies().flatten().notes if not n.duration.isGrace]
        first = notes[0].pitch.midi
        melodies[name] = [[n.pitch.midi - first, float(n.quarterLength)] for n in notes]
    path = Path(__file__).with_suffix(".json")
    path.write_text(json.dumps(melodies, separators=(",", ":")).replace(']],"', ']],\n"') + "\n")


if __name__ == "__main__":
    main()
