"""The ear drills in words: what is asked, what an answer was worth, and how fine the ear is."""

from collections.abc import Sequence

from intonation.language import name_in_words, say, say_many
from intonation.listening.adjustment import AdjustmentResult
from intonation.listening.estimate import EarEstimate, Likely
from intonation.listening.limens import Limen, Task, compared, limens_for
from intonation.listening.trials import Answer, Condition, Trial
from intonation.words.numbers import cents_word, rounded, sharp_or_flat

QUESTIONS: dict[str, str] = {
    "which way": say("Is the tone sharp or flat of where it should be?"),
    "which is in tune": say("Which one is in tune? Listen for the one that stands still."),
    "tune it": say("Turn the upper note until it is in tune."),
    "find the culprit": say("One note of the chord is off. Which one, and which way?"),
    "which note": say("One note of the tune was off. Which one?"),
    "difference tone": say("In which one does the low hum fit as the root you heard first?"),
    "remember": say("The second tone: the same, sharp or flat?"),
}
"""What each drill asks."""

HOW_FINE = say(
    "The threshold is the step at which three of four attentive answers are right; d′ = 1 is the "
    "spread of what you hear."
)

_WITH_TRAINING = say(
    "Untrained listeners reached musicians' thresholds within four to eight hours of listening "
    "(C. Micheyl et al., Hear. Res. 219 (2006) 36)."
)


def condition_name(condition: Condition, *, short: bool = False) -> str:
    """Return what was asked about: ``"major third, high register"``, ``"major third high"``."""
    register = name_in_words(condition.register)
    if not short:
        register = say("{register} register", register=register)
    between = " " if short else ", "
    interval = name_in_words(condition.interval or "")
    return f"{interval}{between}{register}" if interval else register


def answer_in_words(answer: Answer) -> str:
    """Return what to say after an answer: whether it was right, how far off, and how it beat."""
    trial = answer.trial
    verdict = (
        say("Right") if answer.is_right else say("It was {right}", right=name_in_words(trial.right))
    )
    sentence = f"{verdict}: {_off(answer)}." if trial.deviation_cents else f"{verdict}."
    return sentence + _beats(trial.beats_hz) + _difference_tone(trial.difference_tone_cents)


def _off(answer: Answer) -> str:
    """Return how far what was off was off, and in a comparison that it was not the right one."""
    trial = answer.trial
    off = sharp_or_flat(trial.deviation_cents, 1)
    if trial.version_starts_s:
        return say("another was {off}", off=off)
    if not answer.is_right and trial.right.endswith(("sharp", "flat")):  # it is said already
        return say("by {cents}", cents=cents_word(abs(trial.deviation_cents), 1))
    return off


def example_in_words(trial: Trial) -> str:
    """Return what is to be heard in a trial whose answer is told beforehand."""
    off = sharp_or_flat(trial.deviation_cents, 1)
    if trial.difference_tone_cents is not None:
        hum = sharp_or_flat(trial.difference_tone_cents)
        return say(
            "The root, then two high notes in tune: the low hum is the root again. Then "
            "the upper note is {off}: the hum is {hum}.",
            off=off,
            hum=hum,
        )
    if not trial.choices:
        return say("So it sounds in tune: it stands still.")
    answer = say("The answer is {right}", right=name_in_words(trial.right))
    return f"{answer}: {off}.{_beats(trial.beats_hz)}" if trial.deviation_cents else f"{answer}."


def due_in_words(due: Sequence[tuple[Condition, int]]) -> str:
    """Return when some things are to be listened to again; the days count from today."""
    days = dict.fromkeys(sorted(days for _, days in due))
    return "; ".join(
        f"{', '.join(condition_name(each, short=True) for each, at in due if at == day)} "
        f"{_in_days(day)}"
        for day in days
    )


def _in_days(days: int) -> str:
    return {0: say("today"), 1: say("tomorrow")}.get(days, say("in {days} days", days=days))


def estimate_in_words(condition: Condition, estimate: EarEstimate) -> str:
    """Return what the answers tell about one condition, in one sentence or two."""
    name = condition_name(condition)
    if estimate.standing == "too few answers":
        return say(
            "{name}: {answers}, too few to tell.", name=name, answers=_answers(estimate.answers)
        )
    if estimate.standing == "could not be measured":
        return say(
            "{name}: could not be measured; {answers} look like guesses. Rest, or begin "
            "with an interval that beats more clearly.",
            name=name,
            answers=_answers(estimate.answers),
        )
    threshold = _with_range(estimate.threshold_cents)
    spread = rounded(estimate.dprime_one_cents.value, 1)
    sentence = say(
        "{name}: threshold {threshold} (75 % right; d′ = 1 at {spread})",
        name=name,
        threshold=threshold,
        spread=spread,
    )
    return f"{sentence}, {_answers(estimate.answers)}.{_bias(estimate.bias_cents)}"


def framed(estimate: EarEstimate, *, task: Task, hz: float) -> tuple[str, ...]:
    """Return how a measured threshold lies to published ones, each with its source.

    Parameters
    ----------
    estimate
        What was measured.
    task
        Whether tones came one after the other or sounded against a drone.
    hz
        A frequency in the middle of the register, in hertz.
    """
    if estimate.standing != "measured":
        return ()
    threshold = estimate.threshold_cents
    lines = [_framed_by(threshold, limen) for limen in limens_for(task, hz=hz)]
    if all(compared(threshold, limen) == "above" for limen in limens_for(task, hz=hz)):
        lines.append(_WITH_TRAINING)
    return tuple(lines)


def tuned_in_words(condition: Condition, result: AdjustmentResult | None) -> str:
    """Return what tuning by ear has told about one condition."""
    name = condition_name(condition)
    if result is None:
        return say("{name}: too few notes tuned to tell.", name=name)
    constant = result.constant_cents
    mean = say(
        "{value} on average {range}", value=sharp_or_flat(constant.value, 1), range=_range(constant)
    )
    spread = say("spread {spread}", spread=_with_range(result.variable_cents))
    return say(
        "{name}: {mean}, {spread}, {settings} notes.{drag}",
        name=name,
        mean=mean,
        spread=spread,
        settings=result.settings,
        drag=_drag(result.drag_cents),
    )


def _framed_by(threshold_cents: Likely, limen: Limen) -> str:
    found = compared(threshold_cents, limen)
    relation = {
        "finer": say("Finer than"),
        "alike": say("Much like"),
        "above": say("Above that of"),
    }[found]
    width = rounded(limen.lowest_cents)
    if limen.highest_cents != limen.lowest_cents:
        width = say(
            "{width} to {highest_cents}", width=width, highest_cents=rounded(limen.highest_cents)
        )
    return say(
        "{relation} {listeners} ({width} cents; {source}).",
        relation=relation,
        listeners=name_in_words(limen.listeners),
        width=width,
        source=limen.source,
    )


def _bias(bias_cents: Likely | None) -> str:
    if bias_cents is None:
        return ""
    if bias_cents.low <= 0.0 <= bias_cents.high:
        return say(" No side is preferred.")
    near, far = sorted((abs(bias_cents.low), abs(bias_cents.high)))
    size = _with_range(Likely(abs(bias_cents.value), near, far))
    if bias_cents.value > 0:
        return say(" A tone {size} sharp sounds in tune to you.", size=size)
    return say(" A tone {size} flat sounds in tune to you.", size=size)


def _beats(beats_hz: float | None) -> str:
    if beats_hz is None or beats_hz < 0.05:
        return ""
    return say(" It beat {beats_hz} times a second.", beats_hz=rounded(beats_hz, 1))


def _difference_tone(cents: float | None) -> str:
    return (
        ""
        if cents is None
        else say(" The difference tone was {cents}.", cents=sharp_or_flat(cents))
    )


def _drag(drag_cents: float | None) -> str:
    if drag_cents is None or abs(drag_cents) < 1.0:
        return ""
    size = cents_word(drag_cents, 1)
    if drag_cents > 0:
        return say(" From either side you stop {size} short of the middle.", size=size)
    return say(" From either side you stop {size} beyond the middle.", size=size)


def _with_range(likely: Likely) -> str:
    return f"{cents_word(likely.value, 1)} {_range(likely)}"


def _range(likely: Likely) -> str:
    return say("({low} to {high})", low=rounded(likely.low, 1), high=rounded(likely.high, 1))


def _answers(count: int) -> str:
    return say_many("1 answer", "{count} answers", count=count)
