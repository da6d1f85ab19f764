"""What can be chosen before an ear drill."""

from collections.abc import Sequence
from dataclasses import replace

from intonation.app import ear_words as words
from intonation.app.choices import Choice, neighbour
from intonation.language import name_in_words, say
from intonation.listening.drills.which_in_tune import WhichIsInTune
from intonation.practice.ear_choices import (
    EAR_FEEDBACK,
    EAR_MINUTES,
    EAR_REGISTERS,
    EAR_VERSIONS,
    EarChoices,
)


def ear_choices(intervals: dict[str, Sequence[str]]) -> tuple[Choice[EarChoices], ...]:
    """Return the lines of the page.

    Parameters
    ----------
    intervals
        What each drill can be about, by the drill's name.
    """

    def drill_stepped(choices: EarChoices, steps: int) -> EarChoices:
        return replace(choices, drill=neighbour([*intervals], choices.drill, steps), interval=None)

    def interval_stepped(choices: EarChoices, steps: int) -> EarChoices:
        offered = (None, *intervals[choices.drill])
        return replace(choices, interval=neighbour(offered, choices.interval, steps))

    return (
        Choice(
            name="drill",
            label=say("Drill"),
            shown=lambda choices: name_in_words(choices.drill),
            explained=lambda choices: words.DRILL_EXPLAINED[choices.drill],
            stepped=drill_stepped,
        ),
        Choice(
            name="interval",
            label=say("Interval"),
            shown=lambda choices: name_in_words(choices.interval or "") or words.WHAT_IS_DUE,
            explained=lambda _: words.INTERVAL_EXPLAINED,
            stepped=interval_stepped,
        ),
        *_OTHERS,
    )


def _versions_shown(choices: EarChoices) -> str:
    return str(choices.versions) if choices.drill == WhichIsInTune.name else "–"


_OTHERS: tuple[Choice[EarChoices], ...] = (
    Choice(
        name="register",
        label=say("Register"),
        shown=lambda choices: name_in_words(choices.register),
        explained=lambda _: words.REGISTER_EXPLAINED,
        stepped=lambda choices, steps: replace(
            choices, register=neighbour(EAR_REGISTERS, choices.register, steps)
        ),
    ),
    Choice(
        name="versions",
        label=say("Versions"),
        shown=_versions_shown,
        explained=lambda _: words.VERSIONS_EXPLAINED,
        stepped=lambda choices, steps: replace(
            choices, versions=neighbour(EAR_VERSIONS, choices.versions, steps)
        ),
    ),
    Choice(
        name="minutes",
        label=say("Length"),
        shown=lambda choices: words.minutes(choices.minutes),
        explained=lambda _: words.MINUTES_EXPLAINED,
        stepped=lambda choices, steps: replace(
            choices, minutes=neighbour(EAR_MINUTES, choices.minutes, steps)
        ),
    ),
    Choice(
        name="feedback",
        label=say("You are told"),
        shown=lambda choices: name_in_words(choices.feedback),
        explained=lambda choices: words.FEEDBACK_EXPLAINED[choices.feedback],
        stepped=lambda choices, steps: replace(
            choices, feedback=neighbour(EAR_FEEDBACK, choices.feedback, steps)
        ),
    ),
)
