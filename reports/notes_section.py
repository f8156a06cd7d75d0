"""How the damage notes were read, by whom, and what those that nobody understands could change."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.language import number, say, say_many
from reports.parts import Row, Section
from reports.sentences import listed
from reports.stand_ins import damage_is_stood_for, stands_for
from reports.unknown_hauls import supposed_effects, supposed_table, supposed_words
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings

TOLD_BY = {
    "a person": saying("{hauls:,} from a person's reading of the note"),
    "the record": saying("{hauls:,} from the columns that say so"),
    "the note": saying("{hauls:,} from the note as the program read it"),
    "a blank note": saying("{hauls:,} from a blank note, which in this season means no damage"),
    "a silent note": saying(
        "{hauls:,} from a note that says nothing of the net, and so means what a blank one does"
    ),
    "nothing": saying("{hauls:,} not known: no note, or one that does not tell"),
}
SURELY = {
    "sure": saying("{notes:,} surely"),
    "likely": saying("{notes:,} likely"),
    "guess": saying("{notes:,} as a guess"),
}
READ_BY = saying("{written}. The program read {by_program:,} of them ({how_surely}).")
READ_BY_PERSONS_TOO = saying(
    "{written}. The program read {by_program:,} of them ({how_surely}); by persons {persons}."
)
HOW_SURELY = saying("{surely}; {silent}")
NONE_SURELY = saying("none; {silent}")
TO_PUT_RIGHT = saying(
    "'rigseason note SEASON' writes them out, least sure first; what a person puts right there "
    "goes before the program's reading. Every haul with its note, and what was made of it, is a "
    "row of haul_damage in results.duckdb."
)


def notes(findings: Findings) -> Section:
    """What the findings on damage rest on, and how they would move."""
    told = findings["notes"]
    words = [
        _told_by(told, stood_for=bool(damage_is_stood_for(findings))),
        *_what_says_so(findings),
    ]
    if told["written"]:
        words.append(_read_by(told))
    moved = supposed_effects(findings)
    return Section(
        "notes",
        say("How it is known what happened to the net"),
        [*words, *supposed_words(told, moved)],
        tables=[supposed_table(moved, findings["standing"]["looks"])] if moved else [],
    )


def _told_by(told: Row, *, stood_for: bool) -> str:
    each = [
        say(words, hauls=told["told_by"][key])
        for key, words in TOLD_BY.items()
        if key in told["told_by"]
    ]
    return say(COUNTED_AS if stood_for else KNOWN, each=listed(each))


KNOWN = saying("Whether the net was damaged is known, haul by haul: {each}.")
COUNTED_AS = saying("Whether a haul counts as damaged is known, haul by haul: {each}.")


def _what_says_so(findings: Findings) -> list[str]:
    """What was read for damage, where the record calls it something else."""
    rows = findings.get("method", {}).get("stand_ins", [])
    return [stands_for(row) for row in rows if row["column"] == "damaged"]


def _read_by(told: Row) -> str:
    """How many notes were read, by whom, how surely, and where a person can put it right."""
    persons = _by_persons(told)
    read = say(
        READ_BY_PERSONS_TOO if persons else READ_BY,
        written=say_many(
            "{number:,} haul has a note on the net",
            "{number:,} hauls have a note on the net",
            told["written"],
        ),
        by_program=told["read_by_program"],
        how_surely=_how_surely(told),
        persons=persons,
    )
    return " ".join([read, say(TO_PUT_RIGHT), *_changed_since(told["changed_since"])])


def _changed_since(changed: list[Row]) -> list[str]:
    """Which reviews still count though the log has another note of their haul now."""
    if not changed:
        return []
    hauls = listed([say(A_HAUL, **row) for row in changed[:MOST_NAMED]])
    more = len(changed) - MOST_NAMED
    return [
        say_many(
            "{number:,} note has been changed in the log since a person read it; what that person "
            "said counts all the same: {hauls}.",
            "{number:,} notes have been changed in the log since a person read them; what that "
            "person said counts all the same: {hauls}.",
            len(changed),
            hauls=hauls if more <= 0 else say("{hauls} and {more:,} more", hauls=hauls, more=more),
        ),
        say("Look these over again: 'rigseason note SEASON' puts them first."),
    ]


A_HAUL = saying("{vessel}, trip {trip}, haul {haul} (damage_review, row {source_row})")
MOST_NAMED = 3


def _how_surely(told: Row) -> str:
    """How many notes the program read how surely, and how many it did not understand."""
    surely = [
        say(words, notes=told["sure"][level])
        for level, words in SURELY.items()
        if level in told["sure"]
    ]
    if surely and not told["not_understood"]:
        return listed(surely)
    return say(
        HOW_SURELY if surely else NONE_SURELY,
        surely=listed(surely),
        silent=say_many(
            "{number:,} does not say whether the net was damaged",
            "{number:,} do not say whether the net was damaged",
            told["not_understood"],
        ),
    )


def _by_persons(told: Row) -> str:
    """Who read how many notes, and when the last; nothing where no person read any."""
    by = told["read_by_persons"]
    persons = listed([f"{who} {number(count, ',')}" for who, count in by.items()])
    if not persons or not told["last_review"]:
        return persons
    return say("{persons}, the last on {day}", persons=persons, day=told["last_review"])
