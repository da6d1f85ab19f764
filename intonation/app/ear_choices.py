"""What can be chosen before an ear drill."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from intonation.app import ear_words as words
from intonation.app.choices import Choice, neighbour
from intonation.listening.block import Feedback
from intonation.listening.drills.tune_it import TuneIt
from intonation.listening.drills.which_in_tune import WhichIsInTune
from intonation.listening.trials import Register

_MINUTES = (3, 4, 5, 6)
_FEEDBACK: tuple[Feedback, ...] = ("after each answer", "in summary")
_REGISTERS: tuple[Register | None, ...] = (None, "low", "high")


@dataclass(frozen=True, slots=True, kw_only=True)
class EarChoices:
    """What the listener has chosen.

    Parameters
    ----------
    drill
        Name of the drill.
    interval, register
        What to listen to; None for what is due.
    versions
        How many are compared in "which is in tune".
    minutes
        Length of the block.
    feedback
        When the listener is told.
    """

    drill: str = "which way"
    interval: str | None = None
    register: Register | None = None
    versions: int = 2
    minutes: int = 4
    feedback: Feedback = "after each answer"

    @property
    def is_tuning(self) -> bool:
        """Whether a note is to be tuned, rather than questions answered."""
        return self.drill == TuneIt.name


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
            label="Drill",
            shown=lambda choices: choices.drill,
            explained=lambda choices: words.DRILL_EXPLAINED[choices.drill],
            stepped=drill_stepped,
        ),
        Choice(
            name="interval",
            label="Interval",
            shown=lambda choices: choices.interval or words.WHAT_IS_DUE,
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
        label="Register",
        shown=lambda choices: choices.register or words.BOTH_REGISTERS,
        explained=lambda _: words.REGISTER_EXPLAINED,
        stepped=lambda choices, steps: replace(
            choices, register=neighbour(_REGISTERS, choices.register, steps)
        ),
    ),
    Choice(
        name="versions",
        label="Versions",
        shown=_versions_shown,
        explained=lambda _: words.VERSIONS_EXPLAINED,
        stepped=lambda choices, steps: replace(
            choices, versions=neighbour((2, 3), choices.versions, steps)
        ),
    ),
    Choice(
        name="minutes",
        label="Length",
        shown=lambda choices: words.minutes(choices.minutes),
        explained=lambda _: words.MINUTES_EXPLAINED,
        stepped=lambda choices, steps: replace(
            choices, minutes=neighbour(_MINUTES, choices.minutes, steps)
        ),
    ),
    Choice(
        name="feedback",
        label="You are told",
        shown=lambda choices: choices.feedback,
        explained=lambda choices: words.FEEDBACK_EXPLAINED[choices.feedback],
        stepped=lambda choices, steps: replace(
            choices, feedback=neighbour(_FEEDBACK, choices.feedback, steps)
        ),
    ),
)
