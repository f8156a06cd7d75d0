"""What the sheet of a swap says, in its own words, of rigs of `swaps.md`."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import product
from typing import get_args

import polars as pl
import pytest

from pipeline.rigs.line.geometry import Lies
from pipeline.rigs.swap.swaps import swap
from reports.rigs.swap_chain import chain_sentences
from reports.rigs.swap_gap import LAY, LIES, gap_sentences
from reports.rigs.swap_sheet import swap_sheet
from reports.terminal import WIDE
from tests.spec.swapped_rigs import (
    NAMES,
    number,
    swapped,
    tables_of_the_invented_season,
    versions_of,
    weighed,
)
from tests.spec.test_rig_weights import parts_table

NOT_COUNTED = "rockhoppers, the wing's not counted"


def told(from_rig: str, to_rig: str) -> str:
    """The sheet with its lines joined, as nobody knows where one breaks."""
    return " ".join(swap_sheet(swapped(from_rig, to_rig)).split())


@pytest.mark.parametrize(("from_rig", "to_rig"), list(product(NAMES, NAMES[9:])))
def test_a_sheet_fits_a_terminal_and_ends_with_the_same_words(from_rig: str, to_rig: str) -> None:
    lines = swap_sheet(swapped(from_rig, to_rig)).splitlines()
    assert max(map(len, lines)) <= WIDE
    sheet = " ".join(" ".join(lines).split())
    assert sheet.count("± holds 19 times in 20") == 1
    assert "Doors, floats and towing speed may have to be set again" in sheet
    assert sheet.endswith("stands in its report: rigseason report SEASON --out DIR")


@pytest.mark.parametrize("other", ["bobbins", "chain 13"])
def test_a_rig_that_could_not_be_weighed_weighs_at_least_that_and_no_change_is_known(
    other: str,
) -> None:
    rows = swap_sheet(swapped(other, NOT_COUNTED)).splitlines()
    # In the wing there is at least the chain, 38 kg × 0.8693; the bunt is known: 2.1 kg a metre.
    wing, bunt, _, whole = rows[3:7]
    assert re.search(r"at least 33 +not known +not known$", wing)
    assert re.search(r" 23 +[+-][\d.]+ ± [\d.]+ +[+-]\d+$", bunt)
    assert re.search(r"at least 130 +not known +not known$", whole)
    assert "at least 665 kg." in rows[7]
    by_the_metre = rows[10:14]
    assert ["at least" in row for row in by_the_metre] == [True, False, False, True]


def test_where_nothing_changes_there_is_no_sign_and_no_spread() -> None:
    sheet = swap_sheet(swapped("bobbins", "bobbins"))
    assert re.search(r"whole +400 +400 +0 +0\n", sheet)


def test_both_can_be_unknown_and_a_section_not_recorded_at_all() -> None:
    sheet = swap_sheet(swapped("lengths alone", NOT_COUNTED))
    assert re.search(r"whole +not known +at least 130 +not known +not known\n", sheet)


@pytest.mark.parametrize(
    ("from_rig", "to_rig", "sentences"),
    [
        ("bobbins", "rockhoppers", [
            "Add 67.1 m of 13 × 36 mm chain, about 1,863 links (anything from ",
            "That is about 2.2 m on each metre of gear, and that is another gear: chain alone "
            "can't make up for it",
            "By section: wing, each side 22.6 m; bunt, each side 7.9 m; bosom 6.0 m.",
            "Or 94 m of 11 mm or 58 m of 14 mm.",
        ]),
        ("a chain on the fishing line", "chain 13", [
            "Add 11.7 m of 13 × 36 mm chain, about 325 links (anything from ",
            "That is about 0.4 m on each metre of gear.",
            "By section: wing, each side 5.8 m; bunt, each side nothing; bosom nothing.",
            "Or 16 m of 11 mm or 10 m of 14 mm.",
        ]),
        ("rockhoppers", "bobbins", [
            "bobbins carries no chain that could come off; the weight can't be made up with chain.",
            "The difference is as much as 67 m of 13 mm chain (anything from ",
        ]),
        ("chain 13", "two chains", [
            "Take off 31.0 m of 10 × 28 mm chain (anything from ",
            "By section: wing, each side 10.0 m; bunt, each side 4.0 m; bosom 3.0 m.",
            "two chains carries 31 m of chain beside the run that holds it together, 59 kg in sea "
            "water.",
        ]),
        ("chain 13", "bobbins on two chains", [
            "bobbins on two chains carries 20 m of chain beside the run that holds it together, "
            "66 kg in sea water; with no more than that to come off, the weight can't be made up "
            "with chain alone.",
            "The difference is as much as 110 m of 13 mm chain (anything from ",
        ]),
        ("bobbins", "bobbins", [
            "None: they weigh the same, within what is known of their weights.",
        ]),
        ("bobbins", NOT_COUNTED, [
            "Not reckoned, as one of the two could not be weighed wholly.",
        ]),
    ],
)  # fmt: skip
def test_what_is_said_of_chain(from_rig: str, to_rig: str, sentences: list[str]) -> None:
    said = chain_sentences(swapped(from_rig, to_rig))
    assert len(said) == len(sentences)
    for one, expected in zip(said, sentences, strict=True):
        assert one.startswith(expected)


def test_links_of_chain_that_comes_off_are_told_below_20_m_alone() -> None:
    written = (
        "wing: chain, 13 across, 10 m; bunt: chain, 13 across, 4 m; bosom: chain, 13 across, 3 m"
    )
    added = f"{written}; bosom: chain, 13 across, {{}} m".format
    parts = pl.concat(
        parts_table(text).with_columns(rig_version=pl.lit(name))
        for name, text in (
            ("bare", written),
            ("some", added(2.9)),
            ("more", f"{added(2.9)}; wing: chain, 13 across, 9 m"),
        )
    )
    tables = weighed(parts, versions_of([{"rig": name} for name in ("bare", "some", "more")]))
    assert chain_sentences(swap("bare", "some", *tables))[0].startswith(
        "Take off 2.9 m of 13 × 36 mm chain, about 81 links (anything from "
    )
    assert chain_sentences(swap("bare", "more", *tables))[0].startswith(
        "Take off 20.9 m of 13 × 36 mm chain (anything from "
    )


def test_an_amount_that_may_be_nothing_is_said_to_be() -> None:
    said = chain_sentences(swap("discs-6", "discs-8-trial", *tables_of_the_invented_season()))
    # 6.8 ± 7.8 kg.
    assert "(anything from none to 4.4 m)" in said[-1]


@pytest.mark.parametrize(
    ("from_rig", "to_rig", "sentence"),
    [
        ("bobbins", "rockhoppers", "From 22 mm (worked out) to 85 mm (worked out): +63 mm. A "
         "fishing line 0.28 m longer would keep it as it was (0.48 m of slack). "),
        ("chain 13", "chain 16", "From 71 mm (worked out) to 70 mm (worked out): -2 mm. 0.22 m"),
        ("chain 13", "lengths alone", "From 71 mm (worked out) to not known."),
        ("rockhoppers", "rockhoppers, line too short", "From 85 mm (worked out) to 57 mm (worked "
         "out): -28 mm. Before, the line lay aft of the gear; after, it lies forward of the gear."),
    ],
)  # fmt: skip
def test_what_is_said_of_the_gap(from_rig: str, to_rig: str, sentence: str) -> None:
    (said,) = gap_sentences(swapped(from_rig, to_rig).gap)
    assert said.startswith(sentence)


def test_a_gap_that_is_closed_is_said_to_be_and_what_would_open_it() -> None:
    """0.3 m of slack, and the gap closes at 0.36 × (1 − (76/150)²)^0.5 = 0.31."""
    gap = swapped("bobbins", "discs on chain, much slack").gap
    assert gap_sentences(gap)[0].endswith("0.31 m of slack would close it.")
    closed = replace(gap, to_mm=0.0, by_geometry_to_mm=0.0, slack_to_m=0.35)
    assert "would close it" not in gap_sentences(closed)[0]
    said = "It is closed, and with less than 0.31 m of slack it would open."
    assert gap_sentences(closed)[0].endswith(said)
    measured = replace(closed, to_mm=20.0)
    too_short = replace(closed, slack_to_m=-0.35)
    for unsure in (measured, too_short):
        assert "close" not in gap_sentences(unsure)[0]


def test_a_rig_without_toggles_is_told_apart_from_one_of_which_they_are_not_known() -> None:
    what_to_write = "A rig without toggles, its fishing line made fast to the gear itself, has"
    lashed = told("discs on chain", "rockhoppers, line lashed on")
    assert "toggles from 150 mm to 0 mm" in lashed
    assert what_to_write not in lashed
    assert "From 54 mm (worked out) to 0 mm (worked out): -54 mm." in lashed
    season = tables_of_the_invented_season()
    geometry = season[1].with_columns(toggle_mm=pl.lit(None, pl.Float64))
    unknown = " ".join(swap_sheet(swap("discs-6", "discs-8-trial", season[0], geometry)).split())
    assert "toggles from not known to not known" in unknown
    assert what_to_write in unknown


def test_nothing_is_said_of_keeping_a_gap_of_nothing() -> None:
    gap = swapped("bobbins", "rockhoppers").gap
    assert "would keep it" in gap_sentences(gap)[0]
    assert "would keep it" not in gap_sentences(replace(gap, kept_mm=0.0, from_mm=0.0))[0]


def test_wherever_the_line_lies_there_are_words_for_it() -> None:
    assert set(LAY) == set(LIES) == set(get_args(Lies))


def test_kilos_on_the_fishing_line_of_one_alone_are_told() -> None:
    assert "make 39 kg of its weight in water" in told("chain 13", "a chain on the fishing line")


def test_what_stands_after_the_sign_is_1_96_standard_deviations() -> None:
    change = swapped("bobbins", "rockhoppers").weights[-1]
    half = re.search(r"whole .* -222 ± (\d+)", swap_sheet(swapped("bobbins", "rockhoppers")))
    assert half is not None
    assert number(half[1]) == pytest.approx(1.96 * (change.weight_change_sd_kg or 0), abs=0.5)
