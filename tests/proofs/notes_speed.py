"""How long a file of notes takes to read, and whether memory stays flat.

`python -m tests.proofs.notes_speed` writes files of 100,000 and 400,000 notes, no two alike (the
notes of `tests/notes/tuning_notes.csv` with a number behind each), reads each with `rigseason note
--file` in a process of its own, and prints the seconds and the most memory that it and those it
began held.
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

from tests.notes.test_labelled_notes import labels

SIZES = (100_000, 400_000)
MB = 1024


def main() -> None:
    """Print seconds and memory for each size of file."""
    notes = [str(label["note"]) for label in labels("tuning_notes.csv")]
    with tempfile.TemporaryDirectory() as folder:
        for size in SIZES:
            path = Path(folder) / f"{size}.csv"
            with path.open("w", encoding="utf-8", newline="") as file:
                writer = csv.writer(file)
                writer.writerow(["damage_note"])
                numbered = enumerate(islice(cycle(notes), size))
                writer.writerows([f"{note} haul {number}"] for number, note in numbered)
            began = perf_counter()
            memory_kb = _read(path, Path(folder) / "read.csv")
            seconds = perf_counter() - began
            sys.stdout.write(
                f"{size:,} notes: {seconds:.1f} s on {os.cpu_count()} cores, at most "
                f"{memory_kb / MB:.0f} MB at once\n"
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
