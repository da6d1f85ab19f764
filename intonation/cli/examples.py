"""What the help of every command shows it used for."""

from collections.abc import Iterator

from intonation.language import say

EXAMPLES: dict[str, tuple[tuple[str, str], ...]] = {
    "practise": (
        ("intonation", say("go on as you left it")),
        ('intonation practise --instrument "school alto"', say("with another instrument in hand")),
        ("intonation practise --recording take.wav", say("without a microphone")),
    ),
    "demo": (
        ("intonation demo", say("read what a player would be told")),
        ("intonation demo --watch", say("see the interface without a microphone")),
        ("intonation demo --check short", say("compare a verdict with the truth")),
    ),
    "measure": (
        (
            "intonation measure take.wav --instrument alto --advice",
            say("what to do about each note"),
        ),
        (
            "intonation measure take.wav --a4 415 --temperament vallotti",
            say("against another tuning"),
        ),
        ("intonation measure take.wav --csv > take.csv", say("a table for a spreadsheet")),
    ),
    "notes": (
        ("intonation notes --last 5", say("the latest notes")),
        ("intonation notes --means --since 2031-03-14", say("every note's mean since a day")),
        ("intonation notes --csv > notes.csv", say("everything, for a spreadsheet")),
    ),
    "today": (
        ("intonation today", say("20 minutes")),
        ("intonation today --minutes 10 --player wren --instrument alto", say("for somebody else")),
    ),
    "habits": (
        ("intonation habits", say("yours, on the instrument that was played last")),
        ("intonation habits --csv > habits.csv", say("a row for every note")),
    ),
    "diagnose": (
        ("intonation diagnose", say("every player on every instrument that was checked")),
        (
            'intonation diagnose --instrument alto --compare "13 March" "14 March"',
            say("what changed between two sittings"),
        ),
    ),
    "ear": (
        ("intonation ear", say("your results so far")),
        ("intonation ear --simulate --threshold 6", say("see a drill measure a known listener")),
    ),
    "tunings": (
        ("intonation tunings", say("all of them")),
        ("intonation tunings vallotti --a4 415", say("one, with its frequencies in hertz")),
        ("intonation tunings --file mine.toml", say("one of your own")),
        (
            "intonation tunings vallotti --a4 415 --midi vallotti.syx",
            say("for a keyboard that knows the MIDI Tuning Standard"),
        ),
    ),
    "exercises": (
        ("intonation exercises show au-clair-de-la-lune", say("one, as it is written")),
        ("intonation exercises check mine.toml", say("every mistake, with its line")),
        ("intonation exercises import song.mid --output song.toml", say("music of your own")),
    ),
    "render": (
        (
            "intonation render au-clair-de-la-lune --tempo 60 --output backing.wav",
            say("the backing of a melody, slower"),
        ),
        (
            "intonation render --notes C4,E4,G4 --tuning pure --output chord.wav",
            say("a pure chord"),
        ),
    ),
    "fingerings": (
        ("intonation fingerings D6 F#5", say("two notes of the alto")),
        ("intonation fingerings --instrument tenor --system german", say("a whole chart")),
    ),
    "trial": (
        ("intonation trial propose --instrument alto", say("causes and remedies")),
        (
            "intonation trial predict --tape 4=0.3 --pull 0.5",
            say("what that would do to each note"),
        ),
        ("intonation trial log --option 1", say("keep that it was done")),
        ("intonation trial compare 1", say("what it did, beside its prediction")),
    ),
    "sheet": (
        (
            'intonation sheet --instrument alto --output alto.html --note "G6 never speaks."',
            say("one page for the maker"),
        ),
    ),
    "consort": (('intonation consort "plum alto" tenor', say("two instruments of the record")),),
    "report": (
        ("intonation report session", say("the latest sitting")),
        ("intonation report lesson --player wren --since 2031-03-14", say("since the last lesson")),
        ("intonation report player --output wren.pdf", say("as PDF, with WeasyPrint")),
    ),
    "players": (
        ("intonation players", say("who has played what")),
        ("intonation players --instrument alto", say("its players, note by note")),
    ),
    "archive": (
        ("intonation archive export --player wren --output wren.zip", say("a pupil's notes")),
        ("intonation archive import wren.zip", say("into the teacher's record")),
    ),
    "completion": (
        (
            "intonation completion bash > ~/.local/share/bash-completion/completions/intonation",
            say("for bash"),
        ),
    ),
    "keys": (
        ("intonation keys take", say("those of one page")),
        ("intonation keys --file keys.toml", say("every mistake in a file, with its line")),
    ),
    "languages": (
        ("intonation languages write de.po", say("every sentence, ready to be translated")),
        ("intonation languages check de.po", say("every mistake, with its line")),
    ),
    "devices": (("intonation devices", say("their names, as other commands take them")),),
    "doctor": (
        ("intonation doctor", say("without a sound")),
        ("intonation doctor --sound", say("with a soft test signal")),
    ),
}


def examples_of(command: str) -> str:
    """Return the examples of a command as they stand at the end of its help."""
    return "\n".join(_lines(command))


def _lines(command: str) -> Iterator[str]:
    yield say("examples:")
    for typed, what_for in EXAMPLES[command]:
        yield f"  {typed}"
        yield f"      {what_for}"
