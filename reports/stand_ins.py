"""What was read for the columns that say what happened and where, if called otherwise."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.sharing.shared_findings import damage_is_stood_for as any_trouble_counts
from reports.language import say
from reports.sentences import capital, listed
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

WHAT = {"damaged": saying("whether the net was damaged"), "ground": saying("the ground")}


def damage_is_stood_for(findings: Findings) -> list[str]:
    """That damaged may be more than torn, where the season counts every haul so but some."""
    if not any_trouble_counts(findings):
        return []
    damaged = next(row for row in findings["method"]["stand_ins"] if row["column"] == "damaged")
    none = listed([word for word, means in damaged["words"].items() if means == "no"])
    return [
        say(
            "Damaged here is a haul with anything but {none} under {headers}; whether its net "
            "tore is not known.",
            none=none or say("a blank"),
            headers=" / ".join(damaged["headers"]),
        )
    ]


def stands_for(row: Row) -> str:
    """A sentence on one of them: what was read, and which of its words were made which."""
    what = capital(say(WHAT[row["column"]]))
    if row["value"] is not None:
        return say(
            "{what} is not in the record: the season says {value} of every haul.",
            what=what,
            value=row["value"],
        )
    made = [
        say("{word} is {meaning}", word=word, meaning=meaning)
        for word, meaning in row["words"].items()
    ]
    if row["otherwise"] is not None:
        made.append(say("anything else is {meaning}", meaning=row["otherwise"]))
    headers = " / ".join(row["headers"])
    if not made:
        return say("{what} is what the column {headers} says.", what=what, headers=headers)
    return say(
        "{what} is read from the column {headers}: {made}.",
        what=what,
        headers=headers,
        made=listed(made),
    )
