"""Which boats' names are asked about, as a slip of the pen may have made one boat two."""

from __future__ import annotations

import polars as pl
import pytest

from pipeline.checking.nearly_alike import MOST_BOATS, nearly_alike, rigs_nearly_alike

DAY = 24


def hauls(**tows: tuple[int, int]) -> pl.DataFrame:
    """So many tows of each boat, a day apart, from so many hours after the first on."""
    return pl.concat(
        pl.select(
            pl.lit(name.replace("_", " ")).alias("vessel"),
            (
                pl.datetime(2031, 3, 1)
                + pl.duration(hours=later)
                + pl.duration(days=pl.int_range(many))
            ).alias("shot_at"),
            pl.lit(4.0).alias("tow_hours"),
        )
        for name, (many, later) in tows.items()
    )


@pytest.mark.parametrize(
    ("tows", "asked"),
    [
        ({"Skua": (40, 0), "Skau": (3, 6)}, [("Skau", "Skua")]),
        ({"Skua": (40, 0), "Skau": (4, 6)}, []),
        ({"Tern": (40, 0), "Fern": (38, 2)}, []),
        ({"Tern": (40, 0), "Fern": (38, 40 * DAY)}, []),
        ({"Ragwort": (40, 0), "Ragwart": (38, 400 * DAY)}, [("Ragwart", "Ragwort")]),
        ({"Ragwort": (40, 0), "Ragwart": (38, 2)}, []),
        ({"Ragwort": (40, 0), "Ragwart": (38, 4)}, [("Ragwart", "Ragwort")]),
        ({"Kestrel": (40, 0), "Kastrol": (2, 6)}, []),
        ({"Old_Kestrel": (40, 0), "Old_Kastrol": (2, 6)}, [("Old Kastrol", "Old Kestrel")]),
        ({"Bright_Star_1": (40, 0), "Bright_Star_2": (2, 6)}, []),
        ({"Bright_Star_II": (40, 0), "Bright_Star_III": (2, 6)}, []),
        ({"Ragwort": (40, 0), "Rag_wort": (2, 6)}, []),
    ],
)
def test_names_are_asked_about_that_a_slip_may_have_made(
    tows: dict[str, tuple[int, int]], asked: list[tuple[str, str]]
) -> None:
    assert nearly_alike(hauls(**tows)) == asked


def test_so_many_names_are_of_no_boats() -> None:
    names = {f"boat of {'abcdefghij'[at % 10]}{at}": (1, 0) for at in range(MOST_BOATS)}
    slips = {"Skua": (40, 0), "Skau": (1, 6)}
    assert nearly_alike(hauls(**slips))
    assert nearly_alike(hauls(**slips, **names)) == []


def test_hauls_without_a_time_tell_of_no_two_boats_at_once() -> None:
    untimed = hauls(Ragwort=(40, 0), Ragwart=(38, 2)).with_columns(
        pl.lit(None, pl.Datetime).alias("shot_at")
    )
    assert nearly_alike(untimed) == [("Ragwart", "Ragwort")]


@pytest.mark.parametrize(
    ("rigs", "described", "asked"),
    [
        ({"Hoppers": 129, "Hopper": 25}, (), [("Hopper", "Hoppers")]),
        ({"Hoppers": 20, "Hopper": 25}, (), [("Hoppers", "Hopper")]),
        ({"Hoppers": 129, "Hopper": 25}, ("Hoppers",), [("Hopper", "Hoppers")]),
        ({"Hoppers": 129, "Hopper": 25}, ("Hoppers", "Hopper"), []),
        ({"discs": 9, "disc": 2, "dics": 3}, (), [("disc", "discs"), ("dics", "discs")]),
        ({"discs-6": 9, "discs-8": 9, "discs 6": 9}, (), []),
        ({"discs": 9, "discs b": 9, "discs-c": 9}, (), []),
        ({"Old gear": 9, "New gear": 9, "rig": 9, "rib": 9}, (), []),
    ],
)
def test_rigs_are_asked_about_that_a_slip_may_have_made_two(
    rigs: dict[str, int], described: tuple[str, ...], asked: list[tuple[str, str]]
) -> None:
    names = [name for name, rows in rigs.items() for _ in range(rows)]
    rows = pl.DataFrame({"rig_version": names}).with_row_index("row")
    told = rigs_nearly_alike(rows, described)
    assert [(row["value"], row["reason"].split("'")[1]) for row in told.to_dicts()] == asked
