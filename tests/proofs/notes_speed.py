"""How long a file of notes takes to read, and whether memory stays flat.

`python -m tests.proofs.notes_speed` reads files of notes with `rigseason note --file`, each in a
process of its own, and prints the seconds and the most memory that it and those it began held:
100,000 and 400,000 notes as an invented season of as many hauls has them, and 100,000 of which no
two are alike (those of `tests/notes/tuning_notes.csv` with a number behind each).
"""

from __future__ import annotations

import csv
import os
import subprocess
import sys
import tempfile
from itertools import cycle, islice
from pathlib import Path
from time import perf_counter

from synthetic_data import invent_season
from tests.notes.test_labelled_notes import labels

SIZE, LARGER = 100_000, 400_000
MB = 1024


def main() -> None:
    """Print seconds and memory for each file."""
    written = invent_season(4, SIZE, 5, spoilt=False).known_hauls["note"].to_list()
    labelled = [str(label["note"]) for label in labels("tuning_notes.csv")]
    numbered = [f"{note} haul {at}" for at, note in enumerate(islice(cycle(labelled), SIZE))]
    _time("as in a log", written[:SIZE])
    _time("as in a log", list(islice(cycle(written), LARGER)))
    _time("no two alike", numbered)


def _time(kind: str, notes: list[str]) -> None:
    """Print how long these notes take."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "notes.csv"
        with path.open("w", encoding="utf-8", newline="") as file:
            csv.writer(file).writerows([["damage_note"], *([note] for note in notes)])
        began = perf_counter()
        memory_kb = _read(path, Path(folder) / "read.csv")
        seconds = perf_counter() - began
    sys.stdout.write(
        f"{len(notes):,} notes, {kind} ({len(set(notes)):,} different): {seconds:.1f} s on "
        f"{os.cpu_count()} cores, at most {memory_kb / MB:.0f} MB at once\n"
    )


def _read(path: Path, out: Path) -> int:
    """Read the file of notes; the most memory held at once by all its processes, in kilobytes."""
    command = [sys.executable, "-m", "pipeline.cli", "note", "--file", str(path), "--out", str(out)]
    reading = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    most = 0
    while reading.poll() is None:
        most = max(most, sum(map(_resident_kb, _family(reading.pid))))
        try:
            reading.wait(0.2)
        except subprocess.TimeoutExpired:
            continue
    if reading.returncode:
        message = f"{' '.join(command)} gave back {reading.returncode}"
        raise RuntimeError(message)
    return most


def _family(process: int) -> list[int]:
    """The process and all that it has begun."""
    try:
        children = Path(f"/proc/{process}/task/{process}/children").read_text(encoding="ascii")
    except OSError:
        return []
    return [process, *(one for child in children.split() for one in _family(int(child)))]


def _resident_kb(process: int) -> int:
    """The memory that a process holds."""
    try:
        status = Path(f"/proc/{process}/status").read_text(encoding="ascii")
    except OSError:
        return 0
    line = next((line for line in status.splitlines() if line.startswith("VmRSS:")), "VmRSS: 0 kB")
    return int(line.split()[1])


if __name__ == "__main__":
    main()
