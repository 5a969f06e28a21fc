"""The demo's letters: nobody gets them, they are files of the data folder, read out here."""

from __future__ import annotations

from pathlib import Path


class LetterBox:
    """Gives what was written since the last look, whole lines only."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.read: dict[Path, int] = {path: path.stat().st_size for path in folder.glob("*")}

    def new_lines(self) -> list[str]:
        return [line for path in sorted(self.folder.glob("*")) for line in self._of(path)]

    def _of(self, path: Path) -> list[str]:
        with path.open("rb") as file:
            file.seek(self.read.get(path, 0))
            whole, end, _begun = file.read().rpartition(b"\n")
        self.read[path] = self.read.get(path, 0) + len(whole) + len(end)
        return (whole + end).decode("utf-8", "replace").splitlines()
