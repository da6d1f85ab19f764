"""Labels and explanations of the page of today's practice."""

from intonation.language import say

TODAY = say("Today")

LOOKING = say("Looking through your record for what wants practice.")
HOW_IT_GOES = say("Space starts the marked step. End it when you like; nothing has to be done.")
ALL_DONE = say("That was all for today. Rest your hands and your ears.")
DONE = "✓"

ABOUT_TODAY_PAGES = {
    TODAY: say(
        "A plan made from your own record: the notes that are furthest off or come out differently "
        "each time, the ear drill that is due, and music that has those notes in it. Different "
        "things alternate, and what you practised comes back after 1, 3, 7 and 16 days, because "
        "that lasts longer than doing it all at once. Change it, leave steps out, or ignore it."
    ),
}
"""The spacing and the alternation have their sources in `intonation.listening.plan` and
`intonation.habits.practice_plan`."""


def minutes(count: int) -> str:
    """Return the length of a plan."""
    return say("{count} minutes", count=count)
