"""What to look over on deck, and what to write down better next season."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.checking.day_or_month import DAY_OR_MONTH
from pipeline.checking.remarks import ON_LAND
from pipeline.checking.slips import FAR_CATCH, FAR_DEPTH, FAR_YEARS, PAST_THE_NEXT
from pipeline.intake.read_season import A_DAY_A_TRIP, A_HAUL_A_TRIP
from reports.language import say
from reports.net_drawing.words import part_word
from reports.rigs.ground_chain import out_on, wholes
from reports.rigs.strand import the_strand
from reports.sentences import listed
from reports.stand_ins import damage_is_stood_for
from schemas.words import ALL_GROUNDS, UNKNOWN_GROUND, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

MOST_NAMED = 2
"""So many things to look over, or to write down, are told on the first screen."""
MOSTLY_WRITTEN = 0.9
"""From this share of hauls on nothing is said of what was not written; own judgement."""
OFTEN, AT_LEAST = 0.1, 3
"""From this share, and number, of tears on a cause is worth looking for; own judgement."""

CHAFES = {
    "chafe": saying("chafe"),
    "ground_gear": saying("the gear's own rub"),
    "wear": saying("old twine"),
}
NO_CHECKS = saying(
    "the ground chain or wire and the traveller, pulled tight and measured: no length check is "
    "written"
)

SLIPS = {
    FAR_YEARS: saying("year {cells:,}"),
    DAY_OR_MONTH.rpartition("{}")[2]: saying("day or month {cells:,}"),
    PAST_THE_NEXT: saying("hours towed {cells:,}"),
    FAR_DEPTH: saying("depth {cells:,}"),
    FAR_CATCH.rpartition("{}")[2]: saying("weight of a catch {cells:,}"),
    ON_LAND: saying("position on land {cells:,}"),
}
"""How remarks end that most often mean a slip of the pen, and how they are told; positions
last, as they move no figure but on the map. Where one is swapped it is seen at once how, so that is
not told here."""

WANTED = {
    "mending_hours": saying(
        "the hours of mending with each tear: {missing:,} of {hauls:,} not written"
    ),
    "hours_lost": saying(
        "the fishing hours lost with each tear: {missing:,} of {hauls:,} not written"
    ),
    "catch": saying("the catch of each haul: {missing:,} of {hauls:,} not written"),
    "damage_events": saying(
        "whether the net was whole, after each haul (“nil” will do): {missing:,} of {hauls:,} do "
        "not tell"
    ),
}
NO_GROUND = saying(
    "the ground of each haul, as rigs are told apart by it: {missing:,} of {hauls:,} not written"
)
NO_TRIP = saying(
    "the trip of each haul: none is named, so a day counts as one, and ranges may be too narrow"
)
NO_TRIP_IN = saying(
    "the trip of each haul in {seasons} ({missing:,} of {hauls:,} hauls): none is named there, so "
    "a day counts as one, and ranges may be too narrow"
)
OF_A_TEAR = {"mending_hours", "hours_lost"}
"""Where any trouble counts as damage, there may have been no tear to write them of."""
WITHOUT = {
    "catches": saying("the catch of each haul, by species"),
    "prices": saying("prices, so that what pays can be reckoned"),
    "rig_versions": saying("what each rig is, in rig_versions"),
    "rig_parts": saying("what each rig is made of, in rig_parts"),
}


def to_look_over(findings: Findings) -> list[str]:
    """Likely slips in the log, then ground chain against traveller, and what chafes the net.

    Slips come first, as all that is told rests on them, and crowd out nothing.
    """
    return [*_slips(findings), *[*_chains(findings), *_chafes(findings)][:MOST_NAMED]]


def _slips(findings: Findings) -> list[str]:
    """How many cells are likely slips, kind by kind, and where each is named."""
    found = [
        say(words, cells=rows)
        for reason, words in SLIPS.items()
        if (rows := _rows_with(reason, findings["remarks"]))
    ]
    if not found:
        return []
    return [
        say(
            "likely slips in the log, used as they stand ({kinds}): “rigseason check” names each",
            kinds=", ".join(found),
        )
    ]


def _rows_with(reason: str, remarks: list[Row]) -> int:
    """The rows of a remark, by itself or behind words on where its value comes from."""
    return sum(row["rows"] for row in remarks if row["reason"].endswith(reason))


def _chains(findings: Findings) -> list[str]:
    """The rig of which most hours were fished among those whose chain is out, or has no check."""
    rigs = sorted(findings["rigs"], key=lambda rig: -rig["tow_hours"])
    with_a_traveller = [rig for rig in rigs if rig["stretch"] and rig["parts"]]
    if not with_a_traveller:
        return []
    out = [
        say(
            "{strand} of {rig_version} on {boats}, against the traveller",
            strand=the_strand(rig),
            rig_version=rig["rig_version"],
            boats=listed(boats),
        )
        for rig in with_a_traveller
        if (boats := out_on(rig))
    ]
    if out:
        return out[:1]
    return [] if any(wholes(rig) for rig in with_a_traveller) else [say(NO_CHECKS)]


def _chafes(findings: Findings) -> list[str]:
    """Where most was chafed or worn with the rig that had most of it, and of how many torn."""
    damage = findings["damage"]
    often = [
        row
        for row in damage["causes"]
        if row["rig"] is not None
        and row["ground"] == ALL_GROUNDS
        and row["cause"] in CHAFES
        and row["hauls"] >= AT_LEAST
        and row["share"] >= OFTEN
    ]
    most = max(often, key=lambda row: row["hauls"], default=None)
    if most is None:
        return []
    part, there, torn = _most_torn(damage, most)
    if not there:
        return []
    return [
        say(
            "the {part} with {rig} ({cause}: {there:,} of its {torn:,} tears)",
            part=part_word(part),
            rig=most["rig"],
            cause=say(CHAFES[most["cause"]]),
            there=there,
            torn=torn,
        )
    ]


def _most_torn(damage: Row, cause: Row) -> tuple[str, int, int]:
    """The part that most of a rig's tears by a cause name, how many do, and in how many it tore."""
    rows = set(cause["rows"])
    named = [
        (row["part"], len(rows & set(row["rows"])), len(set(row["rows"])))
        for row in damage["parts"]
        if row["rig"] == cause["rig"] and row["ground"] == cause["ground"]
    ]
    return max(named, key=lambda part: part[1], default=("", 0, 0))


def to_write_down(findings: Findings) -> list[str]:
    """Ground and trip, what was written of the fewest hauls, and tables that the season lacks."""
    stood_for = bool(damage_is_stood_for(findings))
    hauls = sum(row["hauls"] for row in findings["rig_by_ground"])
    nowhere = sum(
        row["hauls"] for row in findings["rig_by_ground"] if row["ground"] == UNKNOWN_GROUND
    )
    short = sorted((row for row in findings["records"] if _share(row) < MOSTLY_WRITTEN), key=_share)
    said = [
        say(WANTED[row["outcome"]], missing=_not_written(row), hauls=row["hauls"])
        for row in short
        if row["outcome"] in WANTED and not (stood_for and row["outcome"] in OF_A_TEAR)
    ]
    if any(_rows_with(reason, findings["remarks"]) for reason in (A_DAY_A_TRIP, A_HAUL_A_TRIP)):
        said.insert(0, _no_trip(findings["seasons"]))
    if hauls and 1 - nowhere / hauls < MOSTLY_WRITTEN:
        said.insert(0, say(NO_GROUND, missing=nowhere, hauls=hauls))
    said += [say(WITHOUT[name]) for name in findings["missing_tables"] if name in WITHOUT]
    return said[:MOST_NAMED]


def _no_trip(seasons: list[Row]) -> str:
    """That trips are not named; of several seasons in which, where any names its own."""
    without = [each for each in seasons if not each["names_trips"]]
    if len(without) == len(seasons):
        return say(NO_TRIP)
    return say(
        NO_TRIP_IN,
        seasons=listed([each["season"] for each in without]),
        missing=sum(each["used"] for each in without),
        hauls=sum(each["used"] for each in seasons),
    )


def _not_written(row: Row) -> int:
    """Of how many hauls it was not written: what was, and was set aside, is told elsewhere."""
    missing: int = row["hauls"] - row["recorded"] - row["set_aside"]
    return missing


def _share(row: Row) -> float:
    return 1 - _not_written(row) / row["hauls"] if row["hauls"] else 1.0
