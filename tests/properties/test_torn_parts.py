"""What is found of torn parts does not hang on the order of hauls, and loses none of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schemas.words import CAUSES, NET_PARTS
from tests.spec.torn_nets import SCHEMA, found_in

if TYPE_CHECKING:
    from pipeline.damage.found import WhereAndWhy

few = settings(max_examples=15, deadline=None)
seeds = st.integers(0, 2**32 - 1)


def random_hauls(seed: int) -> pl.DataFrame:
    """Up to 120 hauls, some damaged, some of which nothing is known, with lists of any length."""
    chance = np.random.default_rng(seed)
    size = int(chance.integers(1, 120))

    def lists(words: tuple[str, ...]) -> list[str | None]:
        picked = [chance.choice(words, chance.integers(0, 4)) for _ in range(size)]
        return [";".join(some) or None for some in picked]

    return pl.DataFrame(
        {
            "row": chance.permutation(10 * size)[:size],
            "vessel": chance.choice(["Skua", "Tern"], size),
            "trip": chance.choice(["1", "2", "3", "4"], size),
            "haul": [str(number) for number in range(size)],
            "rig_version": chance.choice(["rope", "bobbins", "chain"], size),
            "ground": chance.choice(["mud", "rocky"], size),
            "tow_hours": chance.uniform(0.02, 9, size).round(3),
            "damage_events": [None if n < 0 else int(n) for n in chance.integers(-1, 3, size)],
            "parts": lists(NET_PARTS),
            "cause": lists(CAUSES),
            "side": chance.choice(["port", "starboard", "both", ""], size),
            "damage_note": ["torn" * int(n) for n in chance.integers(0, 9, size)],
        },
        schema_overrides=SCHEMA,
    ).with_columns(pl.col("side").replace("", None))


def check_counts_are_those_of_the_lists_taken_apart(
    found: WhereAndWhy, hauls: pl.DataFrame
) -> None:
    for named, rows in (("parts", found.parts), ("cause", found.causes)):
        taken_apart = (
            hauls.filter(pl.col("damage_events") > 0)
            .select("row", "rig_version", pl.col(named).str.split(";").list.unique())
            .explode(named)
            .drop_nulls(named)
        )
        in_all = sorted(
            row for each in rows if each.rig is None and each.ground == "all" for row in each.rows
        )
        by_rig = sorted(row for each in rows if each.rig is not None for row in each.rows)
        on_grounds = sorted(row for each in rows if each.ground != "all" for row in each.rows)
        assert in_all == by_rig == on_grounds == sorted(taken_apart["row"].to_list())
        assert all(each.hauls == len(each.rows) for each in rows)


def check_sides_are_kept_apart_and_never_split(found: WhereAndWhy) -> None:
    for part in found.parts:
        assert part.port + part.starboard - part.both + part.side_not_told == part.hauls


def check_told_and_not_told_make_all_damaged_hauls(found: WhereAndWhy) -> None:
    for cell in found.fished:
        torn = {
            row
            for part in found.parts
            if (part.rig, part.ground) == (cell.rig, cell.ground)
            for row in part.rows
        }
        assert len(torn) + len(cell.part_not_told) == cell.damaged
        assert not torn & set(cell.part_not_told)


def check_many_looks_are_allowed_for_by_holms_rule(found: WhereAndWhy) -> None:
    compared = [part for part in found.parts if part.against]
    in_order = sorted(compared, key=lambda part: part.against.chance if part.against else 0)
    least = 0.0
    for place, part in enumerate(in_order):
        assert part.against is not None
        least = max(least, min(1.0, (len(in_order) - place) * part.against.chance))
        assert part.chance_of_many == pytest.approx(least, rel=1e-12)
        assert (part.stands_out is not None) == (least < 0.05)


@few
@given(seed=seeds)
def test_no_tear_is_lost_or_split_and_the_order_of_hauls_does_not_matter(seed: int) -> None:
    hauls = random_hauls(seed)
    found = found_in(hauls)
    check_counts_are_those_of_the_lists_taken_apart(found, hauls)
    check_sides_are_kept_apart_and_never_split(found)
    check_told_and_not_told_make_all_damaged_hauls(found)
    check_many_looks_are_allowed_for_by_holms_rule(found)
    turned = hauls.sample(fraction=1, shuffle=True, with_replacement=False, seed=seed % 1000)
    assert found_in(turned) == found
