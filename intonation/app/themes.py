"""The two papers that the program is printed on: daylight and evening.

Sharp and flat have a warm and a blue ink of equal weight, which players with any of the common
colour-vision deficiencies can tell apart; the words and the sign stand beside them all the same.
"""

from textual.theme import Theme

DAYLIGHT = Theme(
    name="daylight",
    dark=False,
    primary="#3f3a34",
    secondary="#6f665a",
    accent="#7a4a1e",
    foreground="#2b2722",
    background="#f7f2e7",
    surface="#f7f2e7",
    panel="#efe8d8",
    warning="#8a4b00",
    error="#8a2b2b",
    success="#2b2722",
    variables={
        "ink-soft": "#6f665a",
        "rule": "#cdc3ae",
        "sharp": "#9c3f0c",
        "flat": "#1c4f86",
        "chosen": "#e9dfc8",
        "scrollbar": "#cdc3ae",
        "scrollbar-hover": "#a89d86",
        "scrollbar-active": "#6f665a",
        "scrollbar-background": "#f7f2e7",
        "scrollbar-background-hover": "#f7f2e7",
        "scrollbar-background-active": "#f7f2e7",
    },
)

EVENING = Theme(
    name="evening",
    dark=True,
    primary="#d8cdb8",
    secondary="#9d9280",
    accent="#d3a566",
    foreground="#e8dfcd",
    background="#1e1b17",
    surface="#1e1b17",
    panel="#141210",
    warning="#e0a458",
    error="#e08a80",
    success="#e8dfcd",
    variables={
        "ink-soft": "#a3977f",
        "rule": "#4a4338",
        "sharp": "#eb9b62",
        "flat": "#86b9ea",
        "chosen": "#352f27",
        "scrollbar": "#4a4338",
        "scrollbar-hover": "#6b6151",
        "scrollbar-active": "#9d9280",
        "scrollbar-background": "#1e1b17",
        "scrollbar-background-hover": "#1e1b17",
        "scrollbar-background-active": "#1e1b17",
    },
)

PAPERS = (DAYLIGHT, EVENING)
