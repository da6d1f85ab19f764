"""What an export or an import has come to, in words."""

from collections.abc import Mapping, Sequence

_NAMES = {
    "held-notes": ("held note", "held notes"),
    "sessions": ("sitting", "sittings"),
    "takes": ("take", "takes"),
    "checks": ("instrument check", "instrument checks"),
    "trials": ("trial", "trials"),
    "listening-answers": ("answer by ear", "answers by ear"),
    "tuned-notes": ("note tuned by ear", "notes tuned by ear"),
}
"""Tables that a player knows; the others belong to these."""

NOTHING_NEW = "Everything in it was here already; nothing has changed."


def exported(player: str, rows: Mapping[str, int], place: str) -> str:
    """Return what was written into an archive."""
    return f"{place} holds {_listed(rows)} of {player}."


def imported(players: Sequence[str], added: Mapping[str, int], known: Mapping[str, int]) -> str:
    """Return what an import has added, and what was there already."""
    if not any(added.values()):
        return NOTHING_NEW
    whose = f" of {', '.join(players)}" if players else ""
    there = sum(known.get(name, 0) for name in _NAMES)
    left_out = f" {there} rows were here already and were left out." if there else ""
    return f"Added {_listed(added)}{whose}.{left_out}"


def _listed(rows: Mapping[str, int]) -> str:
    told = [
        f"{rows[name]} {one if rows[name] == 1 else many}"
        for name, (one, many) in _NAMES.items()
        if rows.get(name)
    ]
    return ", ".join(told) or "nothing"
