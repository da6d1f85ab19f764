"""Names that are kept in files in English and spoken in the reader's language.

`intonation.language.name_in_words` translates them; here translators find them.
"""

_INTERVALS = (
    *("unison", "minor second", "major second", "minor third", "major third", "fourth"),
    *("augmented fourth", "fifth", "minor sixth", "major sixth", "minor seventh"),
    *("major seventh", "octave"),
)
_MEMBERS = ("root", "third", "sixth", "seventh", "bass", "outside the chord")
_INSTRUMENTS = (
    *("garklein", "sopranino", "soprano", "alto", "tenor", "bass", "great bass"),
    *("voice flute", "sixth flute", "fourth flute", "third flute"),
)

NAMES = tuple(dict.fromkeys((*_INTERVALS, *_MEMBERS, *_INSTRUMENTS)))
