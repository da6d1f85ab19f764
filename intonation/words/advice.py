"""Advice in words: what to do with breath, thumb, finger or fingering, and why."""

from intonation.assessment.advice import Advice
from intonation.assessment.bands import band
from intonation.language import say
from intonation.words.numbers import cents_word, rounded, share_of_hole

_FINGERS = {
    "1": say("left first finger"),
    "2": say("left second finger"),
    "3": say("left third finger"),
    "4": say("right first finger"),
    "5": say("right second finger"),
    "6": say("right third finger"),
    "7": say("right little finger"),
}

_WORTH_A_WORD_CENTS = 3.0

_REASONS = {
    "in tune": say("Remember how this note felt."),
    "unsteady": say("The note wavered too much to say what else it needs."),
    "within breath": say("It lies within the 20-cent window that breath covers."),
    "soft already": say("It is softer than its neighbours already: less would starve the tone."),
    "loud already": say("It is louder than its neighbours already: more would cost tone."),
    "sinking": say("The note sank while you held it: keep the breath moving to its end."),
    "too flat for breath": say(
        "More would cost tone. Warm up, and let no finger hover over a hole."
    ),
    "too sharp for breath": say(
        "Less would starve the tone. Is every note sharp? Then pull the head."
    ),
    "fine shading": say("That hole moves the note gently, so it is easy to place."),
    "coarse shading": say("It is the first open hole: a little of it does a lot."),
    "thumb first": say("Check the thumb first: a slit too wide makes high notes sharp."),
    "alternative fits": say("Breath alone would cost tone here. Try it: instruments differ."),
    "slit too wide": say("High notes turn sharp when the thumb opens too far."),
    "slit too narrow": say("High notes turn flat when the thumb leaves too thin a slit."),
}


def what_to_do(advice: Advice) -> str:
    """Return the advice as one instruction."""
    match advice.remedy:
        case "nothing":
            return _nothing_to_change(advice)
        case "steadiness":
            return say("Steady the breath first: one even stream from beginning to end.")
        case "breath":
            return _breath(advice)
        case "shading":
            return _shading(advice)
        case "fingering":
            return say(
                "Try the fingering {fingering}: {effect}{rest}.",
                fingering=advice.fingering,
                effect=_effect(advice),
                rest=_rest(advice),
            )
        case "thumb":
            return _thumb(advice)


def why(advice: Advice) -> str:
    """Return the reason of an advice as one sentence."""
    return _REASONS[advice.reason]


def _nothing_to_change(advice: Advice) -> str:
    if advice.reason == "soft already":
        return say("Leave the breath as it is. Is every note sharp? Then pull the head.")
    if advice.reason == "loud already":
        return say("Leave the breath as it is: warm up, and let no finger hover over a hole.")
    word = say("Excellent") if band(advice.wanted_cents) == "excellent" else say("Well in tune")
    return say("{word}: nothing to change.", word=word)


def _effect(advice: Advice) -> str:
    direction = say("higher") if advice.predicted_cents > 0 else say("lower")
    return say(
        "about {predicted_cents} {direction}",
        predicted_cents=cents_word(advice.predicted_cents),
        direction=direction,
    )


def _breath(advice: Advice) -> str:
    change_db = advice.breath_db or 0.0
    more = say("more") if change_db > 0 else say("less")
    amount = _breath_amount(abs(change_db))
    return say(
        "Blow {amount} {more}, about {change_db} dB: {effect}.",
        amount=amount,
        more=more,
        change_db=rounded(abs(change_db), 1),
        effect=_effect(advice),
    )


def _breath_amount(change_db: float) -> str:
    if change_db < 0.75:
        return say("a touch")
    return say("a little") if change_db < 1.5 else say("clearly")


def _shading(advice: Advice) -> str:
    share = share_of_hole(advice.covered_fraction or 0.0)
    return say(
        "Cover {share} of hole {hole} ({fingers}): {effect}.",
        share=share,
        hole=advice.hole,
        fingers=_FINGERS[advice.hole or ""],
        effect=_effect(advice),
    )


def _thumb(advice: Advice) -> str:
    change = say("wider") if advice.predicted_cents > 0 else say("narrower")
    return say(
        "Thumb slit a little {change}: {effect}{rest}.",
        change=change,
        effect=_effect(advice),
        rest=_rest(advice),
    )


def _rest(advice: Advice) -> str:
    left_cents = abs(advice.wanted_cents - advice.predicted_cents)
    return say("; breath does the rest") if left_cents >= _WORTH_A_WORD_CENTS else ""
