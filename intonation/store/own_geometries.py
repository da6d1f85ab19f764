"""Which file of dimensions belongs to which instrument, remembered in a small file of its own."""

import tomllib
from pathlib import Path

from intonation.acoustics.geometry import Geometry
from intonation.acoustics.geometry_file import parse_geometry
from intonation.errors import SettingsError
from intonation.language import say
from intonation.store.own_files import read_own_text

_OPENING = "# Files with the dimensions of one's own instruments.\n\n"


class OwnGeometries:
    """Remembers a file for each instrument; the file itself stays where its maker keeps it.

    Parameters
    ----------
    path
        Where it is remembered; need not exist.
    """

    def __init__(self, path: Path) -> None:
        self._path = path

    def file_of(self, instrument: str) -> Path | None:
        """Return the file of an instrument's dimensions, None if none was chosen."""
        chosen = self._all().get(instrument)
        return None if chosen is None else Path(chosen)

    def geometry_of(self, instrument: str) -> Geometry | None:
        """Return an instrument's own dimensions, None if no file was chosen for it.

        Raises
        ------
        DataFileError
            If the file is gone or has a mistake in it.
        """
        file = self.file_of(instrument)
        return None if file is None else read_geometry(file)

    def remember(self, instrument: str, file: Path | None) -> None:
        """Remember another file for an instrument, or none.

        Raises
        ------
        SettingsError
            If it cannot be written.
        """
        import tomli_w

        kept = {name: chosen for name, chosen in self._all().items() if name != instrument}
        if file is not None:
            kept[instrument] = str(file)
        try:
            self._path.parent.mkdir(parents=True, exist_ok=True)
            written = self._path.with_name(f"{self._path.name}.new")
            written.write_text(_OPENING + tomli_w.dumps(kept), "utf-8")
            written.replace(self._path)
        except OSError as cause:
            raise SettingsError(
                say(
                    "{path} cannot be written ({strerror}), so it will be forgotten.",
                    path=self._path,
                    strerror=cause.strerror,
                ),
                say("Check who owns the folder, and the space left on the disk."),
            ) from cause

    def _all(self) -> dict[str, str]:
        """Return what is remembered; a file that cannot be used counts as empty."""
        try:
            table = tomllib.loads(self._path.read_text("utf-8"))
        except (OSError, ValueError):
            return {}
        return {name: chosen for name, chosen in table.items() if isinstance(chosen, str)}


def read_geometry(path: Path) -> Geometry:
    """Return the dimensions in a maker's file.

    Raises
    ------
    DataFileError
        If it cannot be read or has a mistake in it.
    """
    return parse_geometry(read_own_text(path.expanduser()), file_name=str(path))
