"""Boats, and rigs, whose names are a slip of the pen apart, and that may be one.

What is asked about of boats: names that differ in one letter (put in, left out, another, or changed
about with the next), or in two where they are of eight letters or more; and either one is rare
beside the other, as a slip is; or, as a whole season may be under a name that is wrong once, in its
settings, both names are of five letters or more and the two never towed at once. So Tern and Fern,
two boats of many hauls each, are not asked about. Nor are names that differ in their numbers: those
are written down to tell boats apart.
"""

from __future__ import annotations

import re
from itertools import combinations
from typing import TYPE_CHECKING

import polars as pl
from rapidfuzz.distance import OSA

from pipeline.rows import filled_in, refusal
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Container, Iterable

NEARLY = saying(
    "is nearly '{}', which other hauls are of; if it is the same boat, write it alike, as it "
    "counts apart"
)
NEARLY_A_RIG = saying(
    "is nearly '{}', which other rows name; if they are one rig, write it alike or map it with "
    "words, as it counts apart; if they are two, describe both in rig_versions"
)
REASONS = (NEARLY, NEARLY_A_RIG)

RARE = 0.1
"""Of fewer than a tenth of the other's hauls."""
SHORTEST_RIG = 4
"""Letters from which on a rig's name says more than which of several it is."""
LONG, LONGER = 5, 8
"""Letters from which on one slip is hardly another name, and from which on two may be slips."""
MOST_BOATS = 500
"""Of more names the column holds something else than boats."""
NUMBERS = re.compile(r"\d+|\b[ivx]+$")


def nearly_alike(hauls: pl.DataFrame) -> list[tuple[str, str]]:
    """The pairs of boats that may be one: the name of fewer hauls, then the other."""
    counted = hauls["vessel"].drop_nulls().value_counts().sort("count", "vessel").rows()
    if len(counted) > MOST_BOATS:
        return []
    return [
        (name, other)
        for (name, few), (other, many) in combinations(counted, 2)
        if _a_slip_apart(name, other)
        and (few < RARE * many or _may_be_one_by_time(name, other, hauls))
    ]


def told_of_pairs(hauls: pl.DataFrame, pairs: Iterable[tuple[str, str]]) -> pl.DataFrame:
    """A remark on the first haul of the first boat of each pair."""
    other = dict(pairs)
    first = (
        hauls.filter(pl.col("vessel").is_in(list(other)))
        .sort("row")
        .unique("vessel", keep="first", maintain_order=True)
    )
    usual = pl.col("vessel").replace(other).alias("usual")
    return refusal(first.with_columns(usual), "vessel", filled_in(NEARLY, "usual"))


def rigs_nearly_alike(rows: pl.DataFrame, described: Container[str]) -> pl.DataFrame:
    """A remark on the first row of each rig whose name is a slip from one that more rows have.

    Two that are both `described` are two, and so are those of which a letter that stands alone
    tells which is which, as a number does: discs b.
    """
    counted = rows["rig_version"].drop_nulls().value_counts().sort("count", "rig_version").rows()
    usual = {
        name: other
        for (name, _), (other, _) in combinations(counted, 2)
        if min(len(name), len(other)) >= SHORTEST_RIG
        and not (name in described and other in described)
        and _letters_alone(name) == _letters_alone(other)
        and _a_slip_apart(name, other)
    }
    first = (
        rows.filter(pl.col("rig_version").is_in(list(usual)))
        .sort("row")
        .unique("rig_version", keep="first", maintain_order=True)
    )
    told = first.with_columns(pl.col("rig_version").replace(usual).alias("usual"))
    return refusal(told, "rig_version", filled_in(NEARLY_A_RIG, "usual"))


def _letters_alone(name: str) -> list[str]:
    return re.findall(r"\b[^\W\d_]\b", name.lower().replace("_", " "))


def _a_slip_apart(name: str, other: str) -> bool:
    """Whether two names differ in a letter or two, and in no number."""
    numbers, its = (NUMBERS.findall(each.lower()) for each in (name, other))
    plain, plain_other = (re.sub(r"[\s_.-]+", "", each.lower()) for each in (name, other))
    slips = 2 if min(len(plain), len(plain_other)) >= LONGER else 1
    return numbers == its and 0 < OSA.distance(plain, plain_other, score_cutoff=slips) <= slips


def _may_be_one_by_time(name: str, other: str, hauls: pl.DataFrame) -> bool:
    """Whether two long names never towed at once, as two boats of a fleet would."""
    if min(len(name), len(other)) < LONG:
        return False
    tows = hauls.select(
        "vessel",
        pl.col("shot_at").alias("begins"),
        (pl.col("shot_at") + pl.duration(seconds=pl.col("tow_hours") * 3600)).alias("ends"),
    ).drop_nulls()
    own, its = (tows.filter(pl.col("vessel") == each) for each in (name, other))
    at_once = own.join_where(
        its, pl.col("begins") < pl.col("ends_right"), pl.col("begins_right") < pl.col("ends")
    )
    return at_once.is_empty()
