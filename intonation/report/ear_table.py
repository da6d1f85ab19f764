"""Results of the ear drills as tables for reading, a table for each drill, day by day."""

from collections.abc import Iterator, Sequence

from intonation.language import name_in_words, say
from intonation.listening.estimate import Likely
from intonation.listening.history import DayResult, DayTuning
from intonation.report.cells import number
from intonation.report.table import Column, table_lines
from intonation.words.hearing import condition_name

_COLUMNS = (
    Column(say("day"), numeric=False),
    Column(say("what"), numeric=False),
    Column(say("register"), numeric=False),
    Column(say("answers")),
    Column(say("threshold")),
)
_WITH_BIAS = (*_COLUMNS, Column(say("bias")))
_TUNED = (
    Column(say("day"), numeric=False),
    Column(say("what"), numeric=False),
    Column(say("notes")),
    Column(say("on average")),
    Column(say("spread")),
)


def ear_lines(results: Sequence[DayResult]) -> Iterator[str]:
    """Yield the results of every drill, one line for each day and condition; cents throughout."""
    for drill in dict.fromkeys(result.condition.drill for result in results):
        of_drill = [result for result in results if result.condition.drill == drill]
        has_bias = any(result.estimate.bias_cents for result in of_drill)
        columns = _WITH_BIAS if has_bias else _COLUMNS
        yield name_in_words(drill).capitalize()
        yield from table_lines(columns, (_cells(each)[: len(columns)] for each in of_drill))
        yield ""


def tuning_lines(tunings: Sequence[DayTuning]) -> Iterator[str]:
    """Yield how notes were tuned by ear, one line for each day and condition; cents throughout."""
    for drill in dict.fromkeys(tuning.condition.drill for tuning in tunings):
        of_drill = [tuning for tuning in tunings if tuning.condition.drill == drill]
        yield name_in_words(drill).capitalize()
        yield from table_lines(_TUNED, map(_tuned_cells, of_drill))
        yield ""


def _tuned_cells(tuning: DayTuning) -> tuple[str, ...]:
    found = tuning.result
    return (
        tuning.day.isoformat(),
        condition_name(tuning.condition, short=True),
        str(len(tuning.notes)),
        _with_range(found.constant_cents if found else None),
        _with_range(found.variable_cents if found else None),
    )


def _cells(result: DayResult) -> tuple[str, ...]:
    condition, found = result.condition, result.estimate
    is_measured = found.standing == "measured"
    return (
        result.day.isoformat(),
        name_in_words(condition.interval or "") or say("any note"),
        name_in_words(condition.register),
        str(found.answers),
        _with_range(found.threshold_cents if is_measured else None),
        _with_range(found.bias_cents if is_measured else None),
    )


def _with_range(likely: Likely | None) -> str:
    if likely is None:
        return number(None)
    return say(
        "{value} ({low} to {high})",
        value=number(likely.value),
        low=number(likely.low),
        high=number(likely.high),
    )
