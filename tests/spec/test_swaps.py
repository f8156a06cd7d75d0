"""Swaps of rigs change what was worked out by hand in `swaps.md`."""

from __future__ import annotations

import json
from dataclasses import asdict
from itertools import product
from math import hypot
from typing import TYPE_CHECKING

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from polars.testing import assert_frame_equal

from pipeline.rigs.swap.carried_chain import carried_chain
from pipeline.rigs.swap.gap_changes import gap_change
from pipeline.rigs.swap.swaps import CAUTIONS, Swap, swap
from tests.spec.swapped_rigs import (
    INVENTED,
    NAMES,
    SPARE,
    SURE,
    SWAPS,
    near,
    number,
    size_of,
    swapped,
    tables_of_the_invented_season,
    tables_of_the_page,
    versions_of,
    weighed,
)
from tests.spec.test_rig_weights import parts_table, worked_out

if TYPE_CHECKING:
    from collections.abc import Callable

    from pipeline.rigs.swap.chain_to_keep import ChainSize
    from pipeline.rigs.swap.weight_changes import WeightChange

each_swap = pytest.mark.parametrize("row", SWAPS, ids=lambda row: f"{row['from']} to {row['to']}")
each_section = pytest.mark.parametrize("row", INVENTED, ids=lambda row: row["section"])


def for_any_two_rigs(test: Callable[[tuple[str, str]], None]) -> Callable[[], None]:
    """The first of them waits for the tables of the page, so there is no deadline."""
    two_rigs = st.tuples(st.sampled_from(NAMES), st.sampled_from(NAMES))
    return settings(deadline=None)(given(two_rigs)(test))


def sums_of(rows: list[dict[str, str]]) -> list[tuple[str, str]]:
    cells = (cell.rpartition("=") for row in rows for cell in row.values())
    return [(worked.strip(), value) for worked, equals, value in cells if equals]


@pytest.mark.parametrize(("worked", "value"), sums_of([*SWAPS, *SPARE, *INVENTED]))
def test_the_sums_come_to_what_is_written_after_them(worked: str, value: str) -> None:
    places = len(value.strip().partition(".")[2])
    expected = number(value)
    assert worked_out(worked) == pytest.approx(expected, abs=0.6 / 10**places)


@each_swap
def test_the_weights_change_as_was_worked_out(row: dict[str, str]) -> None:
    whole = swapped(row["from"], row["to"]).weights[-1]
    assert whole.section == "whole"
    assert whole.mass_change_kg == near(row["more in air"], 0.06)
    assert whole.weight_change_kg == near(row["more in water"], 0.06)


@each_swap
def test_the_chain_is_what_was_worked_out(row: dict[str, str]) -> None:
    told = swapped(row["from"], row["to"])
    assert told.chain.direction == row["chain"]
    assert told.chain.usual_mm == float(row["of mm"])
    if row["metres"]:
        if row["chain"] == "take off":
            assert told.chain.can_come_off == row["comes off"]
        whole = size_of(told, told.chain.usual_mm).amounts[-1]
        assert (whole.section, whole.direction) == ("whole", row["chain"])
        assert whole.metres == near(row["metres"], 0.011)
        assert whole.links == near(row["links"], 1)
    else:
        assert told.chain.sizes == ()


@each_swap
def test_the_gap_changes_as_was_worked_out(row: dict[str, str]) -> None:
    gap = swapped(row["from"], row["to"]).gap
    assert gap.from_mm == near(row["gap before"], 0.06)
    assert gap.to_mm == near(row["gap after"], 0.06)
    assert gap.slack_to_keep_m == near(row["slack to keep it"], 0.0006)
    assert gap.line_change_m == near(row["line longer by"], 0.0006)


@each_swap
def test_the_cautions_are_those_that_hold(row: dict[str, str]) -> None:
    expected = tuple(code.strip() for code in row["cautions"].split(";") if code.strip())
    assert swapped(row["from"], row["to"]).cautions == (*expected, "set again")


@pytest.mark.parametrize("row", SPARE, ids=lambda row: row["rig"])
def test_the_chain_that_could_come_off(row: dict[str, str]) -> None:
    *_, parts = tables_of_the_page()
    carried = carried_chain(row["rig"], parts)
    assert carried.spare_m == near(row["metres"], 0.001)
    assert carried.spare_kg == near(row["kg"], 0.06)
    assert carried.spare_mm == number(row["mm"])


def test_what_is_on_the_fishing_line_of_one_alone_is_told_in_kilos() -> None:
    listed = "a chain on the fishing line"
    for rigs in (("chain 13", listed), (listed, "chain 13")):
        assert swapped(*rigs).fishing_line_kg == pytest.approx(38.6, abs=0.05)
    assert swapped(listed, listed).fishing_line_kg is None
    assert swapped("chain 13", "bobbins").fishing_line_kg is None


@pytest.mark.parametrize("row", SURE, ids=lambda row: f"{row['from']} to {row['to']}")
def test_how_sure_the_change_is(row: dict[str, str]) -> None:
    whole = swapped(row["from"], row["to"]).weights[-1]
    assert worked_out(row["why"].rpartition(":")[2].strip()) == near(row["kg"], 0.06)
    assert whole.weight_change_sd_kg == near(row["kg"], 0.06)


def test_there_are_swaps_of_all_directions_and_most_cautions() -> None:
    assert len(SWAPS) >= 8
    assert {row["chain"] for row in SWAPS} == {"add", "take off", "nothing", "unknown"}
    seen = {code.strip() for row in SWAPS for code in row["cautions"].split(";")} - {""}
    # Two stand in tests of their own below, and one comes with any swap.
    assert set(CAUTIONS) - seen == {"errors taken as independent", "gap closes", "set again"}
    assert {row["comes off"] for row in SWAPS} == {"none", "some", "all", ""}


# The invented season


def invented_swap() -> Swap:
    return swap("bobbins-14", "rockhopper-16", *tables_of_the_invented_season())


def invented_section(section: str) -> WeightChange:
    return next(change for change in invented_swap().weights if change.section == section)


@each_section
def test_a_section_of_the_invented_season_changes_as_was_worked_out(row: dict[str, str]) -> None:
    change = invented_section(row["section"])
    assert change.weight_from_kg == near(row["bobbins-14 in water"], 0.011)
    assert change.weight_to_kg == near(row["rockhopper-16 in water"], 0.011)
    assert change.weight_change_kg == near(row["more"], 0.011)
    assert change.mass_from_kg == near(row["bobbins-14 in air"], 0.011)
    assert change.mass_to_kg == near(row["rockhopper-16 in air"], 0.011)
    assert change.known


@each_section
def test_a_section_of_the_invented_season_takes_the_chain_worked_out(row: dict[str, str]) -> None:
    amounts = {amount.section: amount for amount in size_of(invented_swap(), 13).amounts}
    assert amounts[row["section"]].metres == near(row["metres to add"], 0.011)
    assert amounts[row["section"]].direction == "add"


def test_the_invented_season_s_swap_in_the_words_of_the_page() -> None:
    told = invented_swap()
    whole = told.weights[-1]
    assert whole.weight_change_kg == pytest.approx(-208.3, abs=0.05)
    assert whole.weight_change_sd_kg == pytest.approx(47.2, abs=0.05)
    assert whole.mass_change_kg == pytest.approx(942, abs=0.5)
    amount = size_of(told, 13).amounts[-1]
    assert amount.mass_air_kg == pytest.approx(240, abs=0.5)
    assert amount.links == 1752
    assert amount.least_m == pytest.approx(35.1, abs=0.05)
    assert amount.most_m == pytest.approx(91.1, abs=0.05)
    assert (told.largest_diameter_from_mm, told.largest_diameter_to_mm) == (356, 406)
    assert (told.toggle_from_mm, told.toggle_to_mm) == (350, 240)
    assert (told.gap.from_how, told.gap.to_how) == ("measured", "worked out")
    assert told.cautions == (
        "heavier in air",
        "lighter in water",
        "chain weighs in air too",
        "gaps got in two ways",
        "gap cannot be kept",
        "set again",
    )


def test_weight_by_the_metre_is_that_of_the_rigs() -> None:
    whole = invented_section("whole")
    assert whole.weight_from_kg_per_m == pytest.approx(453.88 / 34.1, abs=0.001)
    assert whole.weight_to_kg_per_m == pytest.approx(245.54 / 34.1, abs=0.001)


# What holds for any swap


@for_any_two_rigs
def test_a_swap_back_is_the_swap_the_other_way(rigs: tuple[str, str]) -> None:
    there, back = swapped(*rigs), swapped(*reversed(rigs))
    assert len(there.weights) == len(back.weights)
    for one, other in zip(there.weights, back.weights, strict=True):
        assert (one.weight_from_kg, one.mass_from_kg) == (other.weight_to_kg, other.mass_to_kg)
        assert one.weight_change_kg == minus(other.weight_change_kg)
        assert one.mass_change_kg == minus(other.mass_change_kg)
        assert one.weight_change_sd_kg == pytest.approx(other.weight_change_sd_kg)
        assert one.from_at_least == other.to_at_least
    assert there.gap.change_mm == minus(back.gap.change_mm)
    turned = {"add": "take off", "take off": "add"}
    direction = there.chain.direction
    assert back.chain.direction == turned.get(direction, direction)
    for size_there, size_back in zip(there.chain.sizes, back.chain.sizes, strict=True):
        assert metres_of(size_there) == metres_of(size_back)


def metres_of(size: ChainSize) -> list[float]:
    return [amount.metres for amount in size.amounts]


def minus(value: float | None) -> float | None:
    return None if value is None else -value


@pytest.mark.parametrize("rig", NAMES)
@pytest.mark.parametrize("with_parts", [True, False])
def test_a_rig_in_place_of_itself_changes_nothing(rig: str, *, with_parts: bool) -> None:
    weights, geometry, parts = tables_of_the_page()
    told = swap(rig, rig, weights, geometry, parts if with_parts else None)
    for change in told.weights:
        assert not change.weight_change_kg
        assert not change.mass_change_kg
        assert not change.weight_change_sd_kg
    assert told.chain.direction in {"nothing", "unknown"}
    assert not told.gap.change_mm
    assert not told.gap.line_change_m
    assert set(told.cautions) <= {"not weighed wholly", "line too short", "set again"}


@for_any_two_rigs
def test_the_links_of_a_chain_are_its_metres_within_one_link(rigs: tuple[str, str]) -> None:
    for size in swapped(*rigs).chain.sizes:
        for amount in size.amounts:
            assert abs(amount.links * size.pitch_mm / 1000 - amount.metres) <= size.pitch_mm / 1000
            in_water = amount.metres * size.kg_per_m_in_water
            assert amount.mass_air_kg > in_water or amount.metres == 0


@for_any_two_rigs
def test_the_chain_of_the_sections_is_that_of_the_whole(rigs: tuple[str, str]) -> None:
    signs = {"add": 1, "take off": -1, "nothing": 0}
    for size in swapped(*rigs).chain.sizes:
        *sections, whole = size.amounts
        # A section that changes by less than 0.05 kg takes nothing: up to 0.07 m of 6 mm chain.
        added = sum(signs[part.direction] * part.metres * (part.sides or 0) for part in sections)
        assert added == pytest.approx(signs[whole.direction] * whole.metres, abs=0.5)


@for_any_two_rigs
def test_a_swap_can_be_written_as_json(rigs: tuple[str, str]) -> None:
    written = json.dumps(asdict(swapped(*rigs)), allow_nan=False)
    assert json.loads(written)["chain"]["direction"] in {"add", "take off", "nothing", "unknown"}


def test_without_the_parts_the_errors_are_independent_and_it_is_said() -> None:
    weights, geometry, parts = tables_of_the_page()
    alone = swap("chain 13", "discs on chain", weights, geometry).weights[-1]
    sds = weights.filter(
        pl.col("section") == "whole", pl.col("rig_version").is_in(["chain 13", "discs on chain"])
    )["weight_sd_kg"]
    assert alone.weight_change_sd_kg == pytest.approx(hypot(*sds))
    for of_parts, errors in ((None, "independent"), (parts, "shared")):
        told = swap("chain 13", "discs on chain", weights, geometry, of_parts)
        assert told.errors == errors
        assert ("errors taken as independent" in told.cautions) == (errors == "independent")


def test_pieces_weighed_twice_with_two_results_do_not_share_their_error() -> None:
    written = "wing: 10 shoes, steel, 300 across, {} kg each; bunt: 1 shoe, steel, 5 kg each; "
    written += "bosom: 1 shoe, steel, 5 kg each"
    parts = pl.concat(
        parts_table(written.format(kg)).with_columns(rig_version=pl.lit(name))
        for name, kg in (("light", 20), ("heavy", 22))
    )
    versions = versions_of([{"rig": "light"}, {"rig": "heavy"}])
    change = swap("light", "heavy", *weighed(parts, versions)).weights[0]
    # 200 and 220 kg, each weighed within 2 %, and 0.8693 ± 0.005 of the 20 kg between them.
    expected = ((0.02 * 200 * 0.8693) ** 2 + (0.02 * 220 * 0.8693) ** 2 + (0.005 * 20) ** 2) ** 0.5
    assert change.section == "wing"
    assert change.weight_change_sd_kg == pytest.approx(expected, rel=1e-4)


def test_a_gap_that_closes_is_said() -> None:
    weights, geometry, parts = tables_of_the_page()
    shut = geometry.with_columns(
        pl.when(pl.col("rig_version") == "rockhoppers")
        .then(0.0)
        .otherwise("gap_mm")
        .alias("gap_mm")
    )
    assert "gap closes" in swap("bobbins", "rockhoppers", weights, shut, parts).cautions
    assert "gap closes" not in swap("rockhoppers", "rockhoppers", weights, shut, parts).cautions


@pytest.mark.parametrize(("kept_mm", "cannot_be_kept"), [(0.0, False), (5.0, True)])
def test_a_closed_gap_is_kept_by_toggles_too_short_for_any(
    kept_mm: float, *, cannot_be_kept: bool
) -> None:
    # 150 mm toggles on a gear of 356 mm, whose lengths are not known.
    new = {"toggle_mm": 150.0, "gear_diameter_mm": 356.0, "turn_rad": 2.4}
    gap = gap_change({"gap_mm": kept_mm, "gap_from": "measured"}, new)
    assert gap.slack_to_keep_m is None
    assert gap.cannot_be_kept == cannot_be_kept


def test_the_chain_to_reckon_in_is_the_one_there_is_most_of() -> None:
    written = (
        "wing: chain, 10 across, 9 m; bunt: chain, 19 across, 2 m; bosom: chain, 13 across, 3 m"
    )
    parts = pl.concat(
        parts_table(written.replace("3 m", length)).with_columns(rig_version=pl.lit(name))
        for name, length in (("short", "3 m"), ("long", "9 m"))
    )
    versions = versions_of([{"rig": "short"}, {"rig": "long"}])
    tables = weighed(parts, versions)
    # 18 m of 10 mm are 40 kg, 4 m of 19 mm some 33 kg, 3 m of 13 mm 11 kg, and 9 m of it 34 kg.
    assert swap("long", "short", *tables).chain.usual_mm == 10
    thick = parts.with_columns(pl.col("diameter_mm").replace(10, 6))
    # 18 m of 6 mm are 14 kg; the table has no 19 mm, so the nearest, 18 or 20 mm.
    told = swap("long", "short", *weighed(thick, versions)).chain
    assert (told.usual_mm, told.carried) == (18, True)


def test_a_rig_of_which_nothing_is_recorded_is_refused() -> None:
    with pytest.raises(LookupError, match="nothing is recorded of the parts or the lengths of 'x'"):
        swapped("x", "bobbins")


def test_the_order_of_the_tables_does_not_matter() -> None:
    weights, geometry, parts = (table[::-1] for table in tables_of_the_page())
    assert_frame_equal(weights, tables_of_the_page()[0][::-1])
    for from_rig, to_rig in product(NAMES[:6], NAMES[:6]):
        turned = asdict(swap(from_rig, to_rig, weights, geometry, parts))
        straight = asdict(swapped(from_rig, to_rig))
        for one, other in zip(turned.pop("weights"), straight.pop("weights"), strict=True):
            assert one == pytest.approx(other)
        assert turned == straight


def test_no_sentence_calls_anything_sound() -> None:
    for said in CAUTIONS.values():
        assert said.endswith(".")
        assert "safe" not in said.lower()
    assert "local rules decide" in CAUTIONS["heavier in air"]
