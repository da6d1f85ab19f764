"""Advice in words: what to do with breath, thumb, finger or fingering, and why."""

from intonation.assessment.advice import Advice
from intonation.assessment.bands import band
from intonation.words.numbers import cents_word, rounded, share_of_hole

_FINGERS = {
    "1": "left first finger",
    "2": "left second finger",
    "3": "left third finger",
    "4": "right first finger",
    "5": "right second finger",
    "6": "right third finger",
    "7": "right little finger",
}

_WORTH_A_WORD_CENTS = 3.0

_REASONS = {
    "in tune": "Remember how this note felt.",
    "unsteady": "The note wavered too much to say what else it needs.",
    "within breath": "It lies within the 20-cent window that breath covers.",
    "soft already": "It is softer than its neighbours already: less would starve the tone.",
    "loud already": "It is louder than its neighbours already: more would cost tone.",
    "sinking": "The note sank while you held it: keep the breath moving to its end.",
    "too flat for breath": "More would cost tone. Warm up, and let no finger hover over a hole.",
    "too sharp for breath": "Less would starve the tone. Is every note sharp? Then pull the head.",
    "fine shading": "That hole moves the note gently, so it is easy to place.",
    "coarse shading": "It is the first open hole: a little of it does a lot.",
    "thumb first": "Check the thumb first: a slit too wide makes high notes sharp.",
    "alternative fits": "Breath alone would cost tone here. Try it: instruments differ.",
    "slit too wide": "High notes turn sharp when the thumb opens too far.",
    "slit too narrow": "High notes turn flat when the thumb leaves too thin a slit.",
}


def what_to_do(advice: Advice) -> str:
    """Return the advice as one instruction."""
    match advice.remedy:
        case "nothing":
            return _nothing_to_change(advice)
        case "steadiness":
            return "Steady the breath first: one even stream from beginning to end."
        case "breath":
            return _breath(advice)
        case "shading":
            return _shading(advice)
        case "fingering":
            return f"Try the fingering {advice.fingering}: {_effect(advice)}{_rest(advice)}."
        case "thumb":
            return _thumb(advice)


def why(advice: Advice) -> str:
    """Return the reason of an advice as one sentence."""
    return _REASONS[advice.reason]


def _nothing_to_change(advice: Advice) -> str:
    if advice.reason == "soft already":
        return "Leave the breath as it is. Is every note sharp? Then pull the head."
    if advice.reason == "loud already":
        return "Leave the breath as it is: warm up, and let no finger hover over a hole."
    word = "Excellent" if band(advice.wanted_cents) == "excellent" else "Well in tune"
    return f"{word}: nothing to change."


def _effect(advice: Advice) -> str:
    direction = "higher" if advice.predicted_cents > 0 else "lower"
    return f"about {cents_word(advice.predicted_cents)} {direction}"


def _breath(advice: Advice) -> str:
    change_db = advice.breath_db or 0.0
    more = "more" if change_db > 0 else "less"
    amount = _breath_amount(abs(change_db))
    return f"Blow {amount} {more}, about {rounded(abs(change_db), 1)} dB: {_effect(advice)}."


def _breath_amount(change_db: float) -> str:
    if change_db < 0.75:
        return "a touch"
    return "a little" if change_db < 1.5 else "clearly"


def _shading(advice: Advice) -> str:
    share = share_of_hole(advice.covered_fraction or 0.0)
    return (
        f"Cover {share} of hole {advice.hole} ({_FINGERS[advice.hole or '']}): {_effect(advice)}."
    )


def _thumb(advice: Advice) -> str:
    change = "wider" if advice.predicted_cents > 0 else "narrower"
    return f"Thumb slit a little {change}: {_effect(advice)}{_rest(advice)}."


def _rest(advice: Advice) -> str:
    left_cents = abs(advice.wanted_cents - advice.predicted_cents)
    return "; breath does the rest" if left_cents >= _WORTH_A_WORD_CENTS else ""
