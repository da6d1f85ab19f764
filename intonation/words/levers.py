"""Ear, breath and instrument in words: which of them keeps a player from a sounding reference."""

from intonation.diagnosis.three_way import LEVERS, ThreeWay
from intonation.language import name_in_words, say
from intonation.words.numbers import cents_word, rounded


def levers_in_words(found: ThreeWay) -> str:
    """Return what keeps a player from a sounding reference, and which part is the largest."""
    sizes = [
        say(
            "the {lever} by {mean} ({low} to {high})",
            lever=name_in_words(lever),
            mean=cents_word(size.mean),
            low=rounded(size.low),
            high=rounded(size.high),
        )
        for lever, size in zip(LEVERS, (found.ear, found.breath, found.instrument), strict=True)
    ]
    largest = max(LEVERS, key=lambda lever: found.largest[lever])
    chance = min(99, round(100 * found.largest[largest]))
    return say(
        "Against a sounding reference: {sizes}. The {largest} is probably what keeps "
        "you from it most ({chance} %, a model estimate).",
        sizes=", ".join(sizes),
        largest=name_in_words(largest),
        chance=chance,
    )


def missing_for_levers(*, ear: bool, matched: int, repeats: bool) -> str:
    """Return what is missing before ear, breath and instrument can be told apart."""
    wanted = [
        *(
            [say("a threshold of your ear (L on the first page, the drill `which way`)")]
            if ear
            else []
        ),
        *([say("{matched} more notes held against the drone", matched=matched)] if matched else []),
        *([say("notes played twice as always (the standard check)")] if repeats else []),
    ]
    return say(
        "Ear, breath or instrument, which keeps you from a sounding reference? To tell, "
        "this is missing: {wanted}.",
        wanted="; ".join(wanted) or say("more notes"),
    )
