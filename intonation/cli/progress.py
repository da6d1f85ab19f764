"""How far a long work is, told on a terminal while it goes on."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

_WIPED = "\r      \r"


@contextmanager
def told_on_the_terminal() -> Iterator[Callable[[float], None]]:
    """Yield what takes the share that is done; where errors do not go to a terminal, it is silent.

    One number stands at the start of its line, and is wiped away at the end.
    """
    if not sys.stderr.isatty():
        yield lambda _: None
        return
    before = -1

    def tell(share: float) -> None:
        nonlocal before
        percent = int(100.0 * share)
        if percent != before:
            before = percent
            print(f"\r{percent:3d} %", end="", file=sys.stderr, flush=True)

    try:
        yield tell
    finally:
        print(_WIPED, end="", file=sys.stderr, flush=True)
