"""The ear drills in words: what is asked, what an answer was worth, and how fine the ear is."""

from collections.abc import Sequence

from intonation.listening.adjustment import AdjustmentResult
from intonation.listening.estimate import EarEstimate, Likely
from intonation.listening.limens import Limen, Task, compared, limens_for
from intonation.listening.trials import Answer, Condition, Trial
from intonation.words.numbers import cents_word, rounded, sharp_or_flat

QUESTIONS: dict[str, str] = {
    "which way": "Is the tone sharp or flat of where it should be?",
    "which is in tune": "Which one is in tune? Listen for the one that stands still.",
    "tune it": "Turn the upper note until it is in tune.",
    "find the culprit": "One note of the chord is off. Which one, and which way?",
    "which note": "One note of the tune was off. Which one?",
    "difference tone": "In which one does the low hum fit as the root you heard first?",
    "remember": "The second tone: the same, sharp or flat?",
}
"""What each drill asks."""

HOW_FINE = (
    "The threshold is the step at which three of four attentive answers are right; d′ = 1 is the "
    "spread of what you hear."
)

_WITH_TRAINING = (
    "Untrained listeners reached musicians' thresholds within four to eight hours of listening "
    "(C. Micheyl et al., Hear. Res. 219 (2006) 36)."
)


def condition_name(condition: Condition, *, short: bool = False) -> str:
    """Return what was asked about: ``"major third, high register"``, ``"major third high"``."""
    register = condition.register if short else f"{condition.register} register"
    between = " " if short else ", "
    return f"{condition.interval}{between}{register}" if condition.interval else register


def answer_in_words(answer: Answer) -> str:
    """Return what to say after an answer: whether it was right, how far off, and how it beat."""
    trial = answer.trial
    verdict = "Right" if answer.is_right else f"It was {trial.right}"
    off = sharp_or_flat(trial.deviation_cents, 1)
    sentence = f"{verdict}: {off}." if trial.deviation_cents else f"{verdict}."
    return sentence + _beats(trial.beats_hz) + _difference_tone(trial.difference_tone_cents)


def example_in_words(trial: Trial) -> str:
    """Return what is to be heard in a trial whose answer is told beforehand."""
    off = sharp_or_flat(trial.deviation_cents, 1)
    if trial.difference_tone_cents is not None:
        hum = sharp_or_flat(trial.difference_tone_cents)
        return (
            "The root, then two high notes in tune: the low hum is the root again. Then the upper "
            f"note is {off}: the hum is {hum}."
        )
    if not trial.choices:
        return "So it sounds in tune: it stands still."
    answer = f"The answer is {trial.right}"
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
    return {0: "today", 1: "tomorrow"}.get(days, f"in {days} days")


def estimate_in_words(condition: Condition, estimate: EarEstimate) -> str:
    """Return what the answers tell about one condition, in one sentence or two."""
    name = condition_name(condition)
    if estimate.standing == "too few answers":
        return f"{name}: {_answers(estimate.answers)}, too few to tell."
    if estimate.standing == "could not be measured":
        return (
            f"{name}: could not be measured; {_answers(estimate.answers)} look like guesses. "
            "Rest, or begin with an interval that beats more clearly."
        )
    threshold = _with_range(estimate.threshold_cents)
    spread = rounded(estimate.dprime_one_cents.value, 1)
    sentence = f"{name}: threshold {threshold} (75 % right; d′ = 1 at {spread})"
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
        return f"{name}: too few notes tuned to tell."
    constant = result.constant_cents
    mean = f"{sharp_or_flat(constant.value, 1)} on average {_range(constant)}"
    spread = f"spread {_with_range(result.variable_cents)}"
    return f"{name}: {mean}, {spread}, {result.settings} notes.{_drag(result.drag_cents)}"


def _framed_by(threshold_cents: Likely, limen: Limen) -> str:
    found = compared(threshold_cents, limen)
    relation = {"finer": "Finer than", "alike": "Much like", "above": "Above that of"}[found]
    width = rounded(limen.lowest_cents)
    if limen.highest_cents != limen.lowest_cents:
        width = f"{width} to {rounded(limen.highest_cents)}"
    return f"{relation} {limen.listeners} ({width} cents; {limen.source})."


def _bias(bias_cents: Likely | None) -> str:
    if bias_cents is None:
        return ""
    if bias_cents.low <= 0.0 <= bias_cents.high:
        return " No side is preferred."
    side = "sharp" if bias_cents.value > 0 else "flat"
    near, far = sorted((abs(bias_cents.low), abs(bias_cents.high)))
    size = _with_range(Likely(abs(bias_cents.value), near, far))
    return f" A tone {size} {side} sounds in tune to you."


def _beats(beats_hz: float | None) -> str:
    if beats_hz is None or beats_hz < 0.05:
        return ""
    return f" It beat {rounded(beats_hz, 1)} times a second."


def _difference_tone(cents: float | None) -> str:
    return "" if cents is None else f" The difference tone was {sharp_or_flat(cents)}."


def _drag(drag_cents: float | None) -> str:
    if drag_cents is None or abs(drag_cents) < 1.0:
        return ""
    way = "short of" if drag_cents > 0 else "beyond"
    return f" From either side you stop {cents_word(drag_cents, 1)} {way} the middle."


def _with_range(likely: Likely) -> str:
    return f"{cents_word(likely.value, 1)} {_range(likely)}"


def _range(likely: Likely) -> str:
    return f"({rounded(likely.low, 1)} to {rounded(likely.high, 1)})"


def _answers(count: int) -> str:
    return "1 answer" if count == 1 else f"{count} answers"
