"""``intonation exercises``: list, show, check and import exercises."""

import argparse
import sys
from pathlib import Path

from intonation.cli.own_files import exercise_asked_for
from intonation.errors import DataFileError
from intonation.exercise.exercise_file import check_exercise
from intonation.exercise.library import library
from intonation.language import say
from intonation.report.exercise_pages import exercise_lines, exercise_list_lines
from intonation.store.own_exercises import own_exercises
from intonation.store.own_files import read_own_text
from intonation.store.places import own_exercises_folder

_FOUND_MISTAKES = 2


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command and what it can do."""
    parser = subparsers.add_parser(
        "exercises",
        help=say("list, show, check and import exercises"),
        description=say("List the exercises that ship. Also: show one, check or import a file."),
    )
    actions = parser.add_subparsers(title=say("also"), metavar="ACTION", dest="action")
    show = actions.add_parser(
        "show",
        help=say("show what an exercise has you play and listen for"),
        description=say(
            "Show an exercise as it is written: what to listen for, its notes, its chords."
        ),
    )
    show.add_argument("name", metavar="NAME", help=say("an exercise, or the TOML file of one"))
    check = actions.add_parser(
        "check",
        help=say("name every mistake in an exercise file"),
        description=say(
            "Check exercise files, and name every mistake with its line and what to do."
        ),
    )
    check.add_argument(
        "files", nargs="+", type=Path, metavar="FILE.toml", help=say("exercise files")
    )
    bring = actions.add_parser(
        "import",
        help=say("make an exercise of a MIDI or MusicXML file"),
        description=say(
            "Make an exercise of music of your own: one part is yours, the rest backs it."
        ),
    )
    bring.add_argument(
        "music", type=Path, metavar="MUSIC", help=say("a .mid, .musicxml or .mxl file")
    )
    bring.add_argument("--melody", metavar="PART", help=say("the melody's part, by name or number"))
    bring.add_argument(
        "--output", type=Path, metavar="OUT.toml", help=say("write the exercise here")
    )


def run(arguments: argparse.Namespace) -> int:
    """Do what was asked."""
    if arguments.action == "show":
        print(*exercise_lines(exercise_asked_for(arguments.name)), sep="\n")
    elif arguments.action == "check":
        return _check(arguments.files)
    elif arguments.action == "import":
        _import(arguments.music, melody=arguments.melody, output=arguments.output)
    else:
        print(*exercise_list_lines(library()), sep="\n")
        _list_own()
    return 0


def _list_own() -> None:
    folder = own_exercises_folder()
    own = own_exercises(folder)
    if own.exercises:
        print("", say("Your own, in {folder}", folder=folder), sep="\n")
        print(*exercise_list_lines(own.exercises), sep="\n")
    for mistake in own.mistakes:
        print(mistake, file=sys.stderr)


def _check(paths: list[Path]) -> int:
    """Print every mistake of every file; return 2 if there is one."""
    found = 0
    for path in paths:
        exercise, mistakes = check_exercise(read_own_text(path), file_name=str(path))
        found += len(mistakes)
        for mistake in mistakes:
            print(mistake, file=sys.stderr)
        if exercise is not None:
            notes = sum(n.midi is not None for phrase in exercise.phrases for n in phrase.notes)
            print(
                say(
                    "{path} is in order: {phrases} phrases, {notes} notes.",
                    path=path,
                    phrases=len(exercise.phrases),
                    notes=notes,
                )
            )
    return _FOUND_MISTAKES if found else 0


def _import(music: Path, *, melody: str | None, output: Path | None) -> None:
    from intonation.exercise.arranging import arrange
    from intonation.exercise.writing import exercise_text
    from intonation.interchange.music_files import read_music

    read = read_music(music)
    exercise = arrange(read, name=(output or music).stem, melody=melody)
    text = exercise_text(exercise)
    if output is None:
        print(text, end="")
        return
    _write_new(output, text)
    parts = ", ".join(f"{number} {part.name}" for number, part in enumerate(read.parts, start=1))
    print(
        say(
            "{output} is written. Parts of {music}: {parts}.",
            output=output,
            music=music.name,
            parts=parts,
        )
    )


def _write_new(path: Path, text: str) -> None:
    """Write a file that does not exist yet; a player's work is never overwritten."""
    try:
        with path.open("x", encoding="utf-8") as file:
            file.write(text)
    except FileExistsError:
        raise DataFileError(
            say("{path} exists already and is left as it is.", path=path),
            say("Choose another name."),
        ) from None
    except OSError as fault:
        reason = fault.strerror or str(fault)
        raise DataFileError(
            say("{path} cannot be written ({reason}).", path=path, reason=reason),
            say("Choose another folder."),
        ) from None
