"""A suspected leak, in words."""

from intonation.language import say

LEAK_SUSPECTED = say(
    "The low notes are sharp and unsteady while the high ones are fine: a finger or pad may leak. "
    "Press lightly but fully, look at the prints on your fingertips, and try again."
)
