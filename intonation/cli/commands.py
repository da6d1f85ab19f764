"""The commands by name. A command's module is imported only when that command is meant."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Command:
    """One command.

    Parameters
    ----------
    name
        What is typed.
    module
        Module with ``add_parser(subparsers)`` and ``run(arguments) -> int``.
    summary
        One line for the list of commands, in English; the command's own module says it too.
    """

    name: str
    module: str
    summary: str


COMMANDS = (
    Command(
        "practise",
        "intonation.cli.practise_command",
        "open the interface, as the program does without a command",
    ),
    Command(
        "demo",
        "intonation.cli.demo_command",
        "let a simulated player practise, and read the advice",
    ),
    Command("measure", "intonation.cli.measure_command", "score the held notes of a recording"),
    Command("notes", "intonation.cli.notes_command", "list the held notes of your practice"),
    Command("today", "intonation.cli.today_command", "plan today's practice from your own record"),
    Command(
        "habits",
        "intonation.cli.habits_command",
        "show where each of your notes usually lies, and what that goes with",
    ),
    Command(
        "diagnose",
        "intonation.cli.diagnose_command",
        "say whose each note's deviation is: the instrument's, the breath's, the fingers'",
    ),
    Command(
        "ear",
        "intonation.cli.ear_command",
        "show how fine your ear is, interval by interval and day by day",
    ),
    Command(
        "tunings",
        "intonation.cli.tunings_command",
        "list the temperaments with their cents and sources",
    ),
    Command(
        "exercises",
        "intonation.cli.exercises_command",
        "list, show, check and import exercises",
    ),
    Command(
        "render",
        "intonation.cli.render_command",
        "write the reference of an exercise, or a chord, as a sound file",
    ),
    Command("fingerings", "intonation.cli.fingerings_command", "print a fingering chart"),
    Command(
        "trial",
        "intonation.cli.trial_command",
        "find out what is wrong with an instrument, try a remedy, and prove it",
    ),
    Command(
        "sheet", "intonation.cli.sheet_command", "write a page about an instrument for its maker"
    ),
    Command("consort", "intonation.cli.consort_command", "find the common pitch of instruments"),
    Command(
        "report",
        "intonation.cli.report_command",
        "write a page to print: a session, a player over time, an instrument, a lesson",
    ),
    Command(
        "players",
        "intonation.cli.players_command",
        "list players and their instruments, or compare players on one",
    ),
    Command(
        "archive",
        "intonation.cli.archive_command",
        "write one player's practice into a file, or merge such files into the record",
    ),
    Command(
        "completion",
        "intonation.cli.completion_command",
        "print what makes a shell complete commands and options",
    ),
    Command(
        "keys",
        "intonation.cli.keys_command",
        "list every key of the interface, and check a file of your own keys",
    ),
    Command(
        "languages",
        "intonation.cli.languages_command",
        "list the languages of the program, and write or check the file of one",
    ),
    Command("devices", "intonation.cli.devices_command", "list microphones and outputs"),
    Command(
        "doctor",
        "intonation.cli.doctor_command",
        "check libraries, files and sound, and say what is missing",
    ),
)


def command_in(arguments: list[str]) -> Command | None:
    """Return the command that is meant by what was typed, if any."""
    word = next((word for word in arguments if not word.startswith("-")), None)
    return next((command for command in COMMANDS if command.name == word), None)
