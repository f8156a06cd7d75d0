"""What the methods say of the record itself: its rows, its outcomes, and how damage was told."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.checking.slips import NET_BESIDE_ANOTHER
from reports.counts import haul_count
from reports.fish_groups import groups_of_fish
from reports.language import say, say_many
from reports.once_at_most import of_reference
from reports.season_words import period, season_title
from reports.sentences import listed
from reports.stand_ins import damage_is_stood_for
from reports.weighed import weighed_words
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

RECORD_OF_ONE_BOAT = saying(
    "The record is that of {title}: {hauls} of one boat, {boat}, on {trips}, "
    "{tow_hours:,.0f} hours towed, with {versions}."
)
RECORD_OF_BOATS = saying(
    "The record is that of {title}: {hauls} of {boats} boats on {trips}, "
    "{tow_hours:,.0f} hours towed, with {versions}."
)
OUTCOME_WORDS = {
    "damage_events": saying(
        "Net damage is how many times a haul damaged the net; where a record says only yes or no, "
        "yes is once."
    ),
    "bottom_living_kg": saying(
        "Bottom-living fish is the weight of the species that rest on, crawl over or bury "
        "themselves in the seabed, {weighed}, of hauls that are not marked foul "
        "and whose catch is recorded."
    ),
}
ONCE_AT_MOST = saying(
    "Net damage is whether a haul damaged the net: of this record every haul has it once at most. "
    "Compared is how many hauls had damage per hour towed. Where many hauls have damage that draws "
    "ratios towards 1: of {reference}'s hauls {percent:.0f} % had, so that tears half as often "
    "would read as {reads:.2f} times, by the rates that its hauls met. So a rig is called no "
    "different only where the rates behind leave out every difference worth knowing as well, with "
    "the same confidence: each haul as damaged or not (binomial, complementary log-log link; "
    "trips' luck, gamma by law, allowed for). By that law are plans, too. Of two rigs in one tow "
    "the tows in which one net alone had damage must bear it instead."
)
WHAT_COUNTS = saying(
    "It would where a number tells of nine damaged hauls in ten, and hauls with damage more than "
    "once are half as many as Poisson's law makes of hauls alike, or more."
)
TOLD_BY = {
    "the record": saying("the columns of the record ({hauls})"),
    "the note": saying("the skipper's note ({hauls})"),
    "a person": saying("a person who read the note over ({hauls})"),
    "a blank note": saying("a blank note, which in this season means no damage ({hauls})"),
    "a silent note": saying(
        "a note that says nothing of the net, and so means what a blank one does ({hauls})"
    ),
}
HOW_SURE = {
    "sure": saying("{notes:,} sure"),
    "likely": saying("{notes:,} likely"),
    "guess": saying("{notes:,} guess"),
}


def record_sentences(findings: Findings) -> list[str]:
    """Whose record it is, how much it holds, and what became of its rows."""
    season, rows = findings["season"], findings["rows"]["hauls"]
    said = [_whose_record(findings)]
    if "(invented)" in season["title"]:
        said.append(say("It is an invented record."))
    said.append(_rows_used(rows))
    cells = sum(row["cells"] for row in findings["method"]["corrections"])
    if cells:
        said.append(
            say_many(
                "One cell was put right by name and with a reason before that.",
                "{number:,} cells were put right by name and with a reason before that.",
                cells,
            )
        )
    nets = sum(row["rows"] for row in findings["remarks"] if row["reason"] == NET_BESIDE_ANOTHER)
    if nets:
        said.append(
            say_many(
                "One haul was shot when another of its boat was, and is taken for a second net of "
                "one tow: hours towed are those of nets, and each net is a haul of its own.",
                "{number:,} hauls were shot when another of their boat was, and are taken for "
                "second nets of one tow: hours towed are those of nets, and each net is a haul of "
                "its own.",
                nets,
            )
        )
    return said


def _rows_used(rows: Row) -> str:
    """Whether all rows of hauls could be used, or how many were set aside."""
    if not rows["set_aside"]:
        return say_many(
            "The one row of hauls that was read could be used.",
            "All {number:,} rows of hauls that were read could be used.",
            rows["read"],
        )
    return say_many(
        "Of {read:,} rows of hauls that were read, {number:,} was set aside by checks that are the "
        "same for every row; it stands with its reason in set-aside.csv.",
        "Of {read:,} rows of hauls that were read, {number:,} were set aside by checks that are "
        "the same for every row; each stands with its reason in set-aside.csv.",
        rows["set_aside"],
        read=rows["read"],
    )


def _whose_record(findings: Findings) -> str:
    season, boats = findings["season"], findings["season"]["vessels"]
    days = f" ({period(season)})" if season["first_day"] else ""
    return say(
        RECORD_OF_ONE_BOAT if len(boats) == 1 else RECORD_OF_BOATS,
        title=f"{season_title(season)}{days}",
        hauls=haul_count(season["hauls"]),
        boat=boats[0] if boats else "",
        boats=len(boats),
        trips=say_many("one trip", "{number:,} trips", season["trips"]),
        tow_hours=season["tow_hours"],
        versions=say_many("one rig version", "{number} rig versions", len(findings["rigs"])),
    )


def outcome_sentences(findings: Findings) -> list[str]:
    """What the headline outcomes are, who told of damage, and how notes were read."""
    names = {outcome["name"] for outcome in findings["outcomes"]}
    said = [
        words
        for name in OUTCOME_WORDS
        if name in names and name in findings["season"]["headlines"]
        for words in _outcome_words(name, findings)
    ]
    if "damage_events" in names:
        said += _who_told(findings["notes"])
    return [*said, *_notes(findings["notes"], own_words=findings["method"]["own_note_words"])]


def _outcome_words(name: str, findings: Findings) -> list[str]:
    """What the outcome is: by the season's own table or column, where it says otherwise."""
    if name == "bottom_living_kg":
        return [
            say(OUTCOME_WORDS[name], weighed=weighed_words(findings)),
            *groups_of_fish(findings),
        ]
    of_damage = name == "damage_events"
    stood_for = damage_is_stood_for(findings) if of_damage else []
    found = of_reference(findings) if of_damage else None
    if found is not None and not stood_for:
        reference = findings["season"]["reference_rig"]
        percent, reads = 100 * found.share, found.halving_reads
        return [say(ONCE_AT_MOST, reference=reference, percent=percent, reads=reads)]
    return stood_for or [say(OUTCOME_WORDS[name], weighed=weighed_words(findings))]


def _who_told(notes: Row) -> list[str]:
    """Who told of damage, and of how many hauls nobody did."""
    told = [
        say(TOLD_BY[by], hauls=haul_count(hauls))
        for by, hauls in notes["told_by"].items()
        if by in TOLD_BY and hauls
    ]
    said = [say("Damage was told by {tellers}.", tellers=listed(told))] if told else []
    if notes["unknown_hauls"]:
        said.append(
            say_many(
                "Of {number:,} haul nobody knows whether the net was damaged; it is left out of "
                "the rates of damage.",
                "Of {number:,} hauls nobody knows whether the net was damaged; they are left out "
                "of the rates of damage.",
                notes["unknown_hauls"],
            )
        )
    if notes["counted_as_one"]:
        said.append(
            say_many(
                "Of {number:,} haul the log says more than once; it counts once, as so few do, or "
                "so many have no number, that the record does not count.",
                "Of {number:,} hauls the log says more than once; they count once, as so few do, "
                "or so many have no number, that the record does not count.",
                notes["counted_as_one"],
            )
        )
        said.append(say(WHAT_COUNTS))
    return said


def _notes(notes: Row, *, own_words: bool) -> list[str]:
    """How the program read notes, how sure it was, and who read them beside it."""
    if not notes["read_by_program"]:
        return []
    said = [
        say_many(
            "{number:,} note was read by the program, by rules and by what words weigh, from the "
            "note alone: the reader does not know the rig.",
            "{number:,} notes were read by the program, by rules and by what words weigh, from the "
            "note alone: the reader does not know the rig.",
            notes["read_by_program"],
        )
    ]
    sure = [
        say(words, notes=notes["sure"][how])
        for how, words in HOW_SURE.items()
        if notes["sure"].get(how)
    ]
    if sure:
        said.append(say("How sure it was of damage or none: {sure}.", sure=", ".join(sure)))
    if notes["not_understood"]:
        said.append(say("{notes:,} it did not understand.", notes=notes["not_understood"]))
    if own_words:
        said.append(say("The season has words of its own for notes (note_words.toml)."))
    persons = [
        say("{who} ({notes:,})", who=who, notes=many)
        for who, many in notes["read_by_persons"].items()
    ]
    if persons:
        said.append(say("Read by persons: {persons}.", persons=listed(persons)))
    return said
