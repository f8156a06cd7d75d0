"""The table of the README that sets the demonstration's answers beside the truth put into it.

`python tests/readme/demo_answers.py rigseason-demo` prints it.
"""

from __future__ import annotations

import json
import sys
import tomllib
from pathlib import Path

OUTCOMES = {"damage_events": "net damage", "bottom_living_kg": "bottom-living fish"}


def demo_answers(folder: Path) -> str:
    """Each rig against bobbins-14: raw, like for like with its interval, and the truth."""
    truth = tomllib.loads((folder / "season" / "truth.toml").read_text(encoding="utf-8"))
    findings = json.loads((folder / "report" / "findings.json").read_text(encoding="utf-8"))
    lines = [
        "| rig against bobbins-14 | of | raw | like for like (95 % interval) | truth |",
        "|---|---|---|---|---|",
    ]
    for outcome, title in OUTCOMES.items():
        for effect in findings["effects"]:
            if effect["outcome"] != outcome or effect["ground"] != "all":
                continue
            told = (
                "not side by side"
                if effect["ratio"] is None
                else f"{effect['ratio']:.2f} ({effect['low']:.2f}–{effect['high']:.2f})"
            )
            lines.append(
                f"| {effect['rig']} | {title} | {effect['raw_ratio']:.2f} | {told} "
                f"| {truth[outcome][effect['rig']]:.2f} |"
            )
    return "\n".join(lines)


if __name__ == "__main__":
    sys.stdout.write(demo_answers(Path(sys.argv[1])) + "\n")
