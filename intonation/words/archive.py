"""What an export or an import has come to, in words."""

from collections.abc import Mapping, Sequence

from intonation.language import say, say_many

_TABLES = (
    "held-notes",
    "sessions",
    "takes",
    "checks",
    "trials",
    "listening-answers",
    "tuned-notes",
)
"""Those that a player knows; the others belong to these."""

NOTHING_NEW = say("Everything in it was here already; nothing has changed.")


def exported(player: str, rows: Mapping[str, int], place: str) -> str:
    """Return what was written into an archive."""
    return say(
        "{place} holds {listed} of {player}.", place=place, listed=_listed(rows), player=player
    )


def imported(players: Sequence[str], added: Mapping[str, int], known: Mapping[str, int]) -> str:
    """Return what an import has added, and what was there already."""
    if not any(added.values()):
        return NOTHING_NEW
    listed = _listed(added)
    there = sum(known.get(name, 0) for name in _TABLES)
    left_out = (
        say(" {there} rows were here already and were left out.", there=there) if there else ""
    )
    if not players:
        return say("Added {listed}.{left_out}", listed=listed, left_out=left_out)
    return say(
        "Added for {players}: {listed}.{left_out}",
        players=", ".join(players),
        listed=listed,
        left_out=left_out,
    )


def _listed(rows: Mapping[str, int]) -> str:
    told = [_counted(name, rows[name]) for name in _TABLES if rows.get(name)]
    return ", ".join(told) or say("nothing")


def _counted(table: str, rows: int) -> str:
    return {
        "held-notes": say_many("{count} held note", "{count} held notes", count=rows),
        "sessions": say_many("{count} sitting", "{count} sittings", count=rows),
        "takes": say_many("{count} take", "{count} takes", count=rows),
        "checks": say_many("{count} instrument check", "{count} instrument checks", count=rows),
        "trials": say_many("{count} trial", "{count} trials", count=rows),
        "listening-answers": say_many(
            "{count} answer by ear", "{count} answers by ear", count=rows
        ),
        "tuned-notes": say_many(
            "{count} note tuned by ear", "{count} notes tuned by ear", count=rows
        ),
    }[table]
