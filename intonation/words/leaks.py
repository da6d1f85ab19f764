"""A suspected leak, in words."""

LEAK_SUSPECTED = (
    "The low notes are sharp and unsteady while the high ones are fine: a finger or pad may leak. "
    "Press lightly but fully, look at the prints on your fingertips, and try again."
)
