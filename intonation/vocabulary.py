"""Names that are kept in files in English and spoken in the reader's language.

`intonation.language.name_in_words` translates them; here translators find them.
"""

INTERVALS = (
    *("unison", "minor second", "major second", "minor third", "major third", "fourth"),
    *("augmented fourth", "fifth", "minor sixth", "major sixth", "minor seventh"),
    *("major seventh", "octave", "minor chord", "major chord"),
)
PLACES = (
    *("root", "third", "fourth", "fifth", "sixth", "seventh", "bass", "alone"),
    *("outside the chord", "root flat", "root sharp", "third flat", "third sharp"),
    *("fifth flat", "fifth sharp"),
)
INSTRUMENTS = (
    *("garklein", "sopranino", "soprano", "alto", "tenor", "bass", "great bass", "contrabass"),
    *("descant", "treble", "baroque", "german", "historic"),
)
EXERCISES = (
    *("long tones", "unison", "octave", "fifth", "third", "octave pairs", "chord placement"),
    *("scale", "cadence", "melody"),
)
DRILLS = (
    *("which way", "which is in tune", "tune it", "find the culprit", "which note"),
    *("difference tone", "remember", "low", "high", "both", "sharp", "flat", "the same", "same"),
    *("after each answer", "in summary", "what is due"),
)
VERDICTS = (
    *("in tune", "instrument", "player", "both", "at least partly the instrument"),
    *("at least partly the player", "not enough evidence", "open", "breath", "fingers", "ear"),
    *("changed", "unchanged", "cannot tell", "right", "partly right", "wrong"),
)
WORK = (
    *("pull the head joint", "line the bore", "tape over part of a hole", "wax in a hole"),
    *("clay at the window", "enlarge a hole", "undercut towards the window"),
    "undercut towards the foot",
)
SOUND = (
    *("microphone", "output", "recording", "simulated player", "simulated alto with two faults"),
    *("principal", "reed", "strings", "plucked", "read", "written"),
    *("sound", "room", "reference", "clocks", "settings", "practice record"),
)
STEPS = ("who plays", "pitch", "sound", "sound check", "ready")
KEYS = ("Space", "Enter", "Tab", "Backspace", "Delete", "Insert", "Home", "End")

NAMES = tuple(
    dict.fromkeys(
        (
            *(*INTERVALS, *PLACES, *INSTRUMENTS, *EXERCISES, *DRILLS, *VERDICTS, *WORK, *SOUND),
            *(*STEPS, *KEYS),
        )
    )
)
