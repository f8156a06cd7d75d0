"""How well damage notes are read, on the notes that were held out and on those tuned on.

`python -m tests.proofs.notes_read` prints the scores that `tests/notes` holds bounds on.
"""

from __future__ import annotations

import sys

from pipeline.notes.told import SURE
from tests.notes.test_labelled_notes import BOUNDS, half


def main() -> None:
    """Print every score of every set of notes."""
    for which in (
        "held out last",
        "held out later",
        "deck logs",
        "logs that settle",
        "held out",
        "tuned on",
        "more tuned on",
    ):
        scores = ", ".join(f"{measure.__name__} {measure(which):.3f}" for measure in BOUNDS)
        told = [read for label, read in half(which) if label["damaged"] == "yes"]
        as_none = sum(read.damaged.value == "no" for read in told)
        sys.stdout.write(
            f"{which}, {len(half(which))} notes: {scores}; damage read as none in {as_none} of "
            f"{len(told)}\n"
        )
        for sure in SURE:
            agree = [
                (read.damaged.value or "unknown") == label["damaged"]
                for label, read in half(which)
                if read.damaged.sure == sure
            ]
            sys.stdout.write(
                f"  {sure}: damaged read as labelled in {sum(agree)} of {len(agree)}\n"
            )


if __name__ == "__main__":
    main()
