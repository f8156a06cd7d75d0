"""Small rigs weigh what was worked out by hand in `rig_weights.md`."""

from __future__ import annotations

import ast
import operator
import re
from dataclasses import dataclass
from math import pi
from typing import TYPE_CHECKING

import polars as pl
import pytest
from polars.testing import assert_frame_equal

from pipeline.rigs.weight.remarks import rig_part_remarks
from pipeline.rigs.weight.rig_weights import rig_weights
from pipeline.rigs.weight.weights import part_weights
from pipeline.rows import REFUSAL_SCHEMA
from schemas.rigs import RIG_PARTS
from schemas.types import TYPES
from schemas.words import GROUND_GEARS
from tests.spec.text_tables import page_text, rows_of

if TYPE_CHECKING:
    from collections.abc import Callable

WEIGHTS, REMARKS = page_text("rig_weights.md").split("\n## Remarks\n")
REMARKS, TOGETHER = REMARKS.split("\n## What rows say of one another\n")
MEASURES = {
    r"([\d.]+) across": "diameter_mm",
    r"([\d.]+) wide": "width_mm",
    r"([\d.]+) bore": "bore_mm",
    r"([\d.]+) m": "length_m",
    r"([\d.]+) kg each": "each_kg",
    r"keeps (-?[\d.]+)": "weight_kept_in_water",
}
SCHEMA = {column.name: TYPES[column.kind] for column in RIG_PARTS.columns}
OPERATIONS: dict[type[ast.operator], Callable[[float, float], float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}


@dataclass(frozen=True)
class Rig:
    name: str
    ground_gear: str
    parts: str
    air_worked: str
    air_kg: str
    water_worked: str
    water_kg: str
    missing: str


RIGS = [Rig(*row) for row in rows_of(WEIGHTS)[1]]
each_rig = pytest.mark.parametrize("rig", RIGS, ids=lambda rig: rig.name)


def parts_table(written: str) -> pl.DataFrame:
    """`section: count part, material, measures` of each part, with a semicolon between them."""
    rows = [_part(text, line) for line, text in enumerate(written.split(";"), start=1)]
    return pl.DataFrame(rows, schema=SCHEMA).with_row_index("row", offset=1)


def _part(text: str, line: int) -> dict[str, object]:
    section, _, rest = text.strip().partition(": ")
    named, *words = [word.strip() for word in rest.split(",")]
    found = re.fullmatch(r"(?:(\d+) )?(.+)", named)
    assert found is not None
    count, part = found.groups()
    row: dict[str, object] = dict.fromkeys(SCHEMA)
    row |= {"rig_version": "a", "section": section, "line": str(line), "part": part}
    row["count"] = int(count) if count else None
    for word in words:
        if word.startswith("on the "):
            row["line"] = word.removeprefix("on the ")
            continue
        found = ((re.fullmatch(p, word), column) for p, column in MEASURES.items())
        match, column = next(((m, c) for m, c in found if m), (None, "material"))
        row[column] = float(match[1]) if match else word
    return row


def worked_out(sum_as_written: str) -> float:
    """The value of a sum in numbers, + − × / ( ) ², ³, ^ and π."""
    plain = sum_as_written
    for sign, python in {
        "−": "-",
        "×": "*",
        "²": "**2",
        "³": "**3",
        "^": "**",
        "π": f"{pi}",
    }.items():
        plain = plain.replace(sign, python)
    return _value(ast.parse(plain, mode="eval").body)


def _value(node: ast.expr) -> float:
    if isinstance(node, ast.Constant) and isinstance(node.value, int | float):
        return float(node.value)
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        return -_value(node.operand)
    assert isinstance(node, ast.BinOp), ast.dump(node)
    return OPERATIONS[type(node.op)](_value(node.left), _value(node.right))


def whole(written: str) -> dict[str, object]:
    versions = pl.DataFrame({"rig_version": ["a"], "ground_gear_m": [34.0]})
    weights = rig_weights(part_weights(parts_table(written)), versions)
    (row,) = weights.filter(pl.col("section") == "whole").to_dicts()
    return row


@each_rig
def test_the_sums_come_to_what_is_written_beside_them(rig: Rig) -> None:
    if not rig.air_kg:
        return
    assert worked_out(rig.air_worked) == pytest.approx(float(rig.air_kg), abs=0.051)
    assert worked_out(rig.water_worked) == pytest.approx(float(rig.water_kg), abs=0.051)


@each_rig
def test_the_rig_weighs_what_was_worked_out(rig: Rig) -> None:
    weighed = whole(rig.parts)
    if not rig.air_kg:
        assert (weighed["mass_air_kg"], weighed["weight_water_kg"]) == (None, None)
        return
    assert weighed["mass_air_kg"] == pytest.approx(float(rig.air_kg), abs=0.06, rel=5e-4)
    assert weighed["weight_water_kg"] == pytest.approx(float(rig.water_kg), abs=0.06, rel=1e-3)


@each_rig
def test_what_is_missing_is_said_and_makes_the_weight_at_least_that(rig: Rig) -> None:
    weighed = whole(rig.parts)
    assert weighed["missing"] == [said.strip() for said in rig.missing.split(";") if said.strip()]
    assert weighed["at_least"] == bool(rig.missing)


def test_there_are_rigs_of_all_kinds_of_ground_gear() -> None:
    assert len(RIGS) >= 25
    assert {rig.ground_gear for rig in RIGS} == set(GROUND_GEARS)


@pytest.mark.parametrize(("part", "column", "value", "reason"), rows_of(REMARKS)[1])
def test_what_is_said_of_a_part(part: str, column: str, value: str, reason: str) -> None:
    said = rig_part_remarks(parts_table(part)).rows()
    expected = [(1, column or None, value or None, reason)] if reason else []
    assert said == expected


@pytest.mark.parametrize(("parts", "row", "column", "value", "reason"), rows_of(TOGETHER)[1])
def test_what_rows_say_of_one_another(
    parts: str, row: str, column: str, value: str, reason: str
) -> None:
    said = rig_part_remarks(parts_table(parts)).rows()
    assert said == ([(int(row), column or None, value or None, reason)] if reason else [])


def test_like_parts_of_two_rigs_are_not_held_against_one_another() -> None:
    one, other = (parts_table(f"bosom: 1 disc, rubber, 152 across, {kg} kg each") for kg in (2, 4))
    both = pl.concat([one, other.with_columns(rig_version=pl.lit("b"), row=pl.lit(2, pl.UInt32))])
    assert rig_part_remarks(both).is_empty()


@pytest.mark.parametrize(
    ("parts", "masses", "how"),
    [
        # 380 and 38 kg have no mean, and no size; with a width there is 5.55 kg from the size.
        ("wing: 1 disc, rubber, 406 across, 380 kg each; bunt: 1 disc, rubber, 406 across, "
         "38 kg each; bosom: 1 disc, rubber, 406 across", [380, 38, None], None),
        ("wing: 1 disc, rubber, 152 across, 60 wide, 13 kg each; bunt: 1 disc, rubber, "
         "152 across, 60 wide, 1.3 kg each; bosom: 1 disc, rubber, 152 across, 60 wide",
         [13, 1.3, 1.252], "solid"),
        ("wing: 1 disc, rubber, 406 across, 30 kg each; bunt: 1 disc, rubber, 406 across, "
         "40 kg each; bosom: 1 disc, rubber, 406 across", [30, 40, 35], "weighed elsewhere"),
        ("wing: discs, rubber, 152 across, 10 m, 100 kg each; bunt: discs, rubber, 152 across, "
         "4 m, 40 kg each; bosom: discs, rubber, 152 across, 3 m", [100, 40, 62.60], "solid"),
    ],
    ids=["no size", "a size", "near enough", "runs of other lengths"],
)  # fmt: skip
def test_masses_that_disagree_are_not_lent(
    parts: str, masses: list[float | None], how: str | None
) -> None:
    weights = part_weights(parts_table(parts))
    *known, lent = weights["mass_air_kg"].to_list()
    assert known == masses[:2]
    assert lent == (masses[2] and pytest.approx(masses[2], rel=1e-3))
    assert weights["mass_from"][-1] == how


def test_a_rig_s_own_weighings_go_before_those_of_others() -> None:
    one, other = (
        parts_table(
            f"wing: 1 disc, rubber, 406 across, {kg} kg each; bosom: 1 disc, rubber, 406 across"
        )
        for kg in (30, 60)
    )
    weights = part_weights(pl.concat([one, other.with_columns(rig_version=pl.lit("b"))]))
    assert weights["mass_air_kg"].to_list() == [30, 30, 60, 60]


def test_a_rig_of_which_nothing_is_wrong_has_no_remarks_and_no_rows_no_weights() -> None:
    empty = pl.DataFrame(schema=SCHEMA).with_row_index("row")
    assert dict(rig_part_remarks(empty).schema) == REFUSAL_SCHEMA
    versions = pl.DataFrame(schema={"rig_version": pl.String, "ground_gear_m": pl.Float64})
    assert rig_weights(part_weights(empty), versions).is_empty()


def test_a_rig_is_weighed_by_section_and_by_the_metre() -> None:
    parts = parts_table("wing: chain, 13 across, 10 m; bunt: chain, 10 across, 4 m")
    bosom = parts_table("bosom: chain, 13 across, 3 m")
    versions = pl.DataFrame({"rig_version": ["a"], "ground_gear_m": [None]}).cast(
        {"ground_gear_m": pl.Float64}
    )
    weights = rig_weights(part_weights(pl.concat([parts, bosom])), versions)
    assert weights["section"].to_list() == ["wing", "bunt", "bosom", "whole"]
    assert weights["sides"].to_list() == [2, 2, 1, None]
    assert weights["mass_air_kg"].to_list() == pytest.approx([38.0, 8.8, 11.4, 105.0])
    assert weights["gear_m"].to_list() == [10, 4, 3, 31]
    per_m = [3.8 * 0.8693, 2.2 * 0.8693, 3.8 * 0.8693, 105 / 31 * 0.8693]
    assert weights["weight_water_kg_per_m"].to_list() == pytest.approx(per_m, rel=1e-4)
    assert weights["largest_diameter_mm"].to_list() == [13, 10, 13, 13]


def test_errors_that_are_shared_add_up_and_the_others_add_as_squares() -> None:
    # 13 mm chain: 2 × 38 + 11.4 = 87.4 kg ± 4 %; 10 mm chain: 2 × 8.8 = 17.6 kg ± 4 %.
    weighed = whole(
        "wing: chain, 13 across, 10 m; bunt: chain, 10 across, 4 m; bosom: chain, 13 across, 3 m"
    )
    expected = ((0.04 * 87.4) ** 2 + (0.04 * 17.6) ** 2) ** 0.5
    assert weighed["mass_sd_kg"] == pytest.approx(expected)


def test_one_side_of_a_rig_can_be_asked_for() -> None:
    parts = part_weights(parts_table("wing: chain, 13 across, 10 m; bosom: chain, 13 across, 3 m"))
    versions = pl.DataFrame({"rig_version": ["a"], "ground_gear_m": [13.0]})
    weights = rig_weights(parts, versions, {"wing": 1, "bosom": 1})
    assert weights["mass_air_kg"].to_list() == pytest.approx([38.0, 11.4, 49.4])
    assert weights["at_least"].to_list() == [False, False, False]


def test_a_part_that_was_not_weighed_goes_by_its_like_that_was() -> None:
    parts = parts_table(
        "wing: 2 bobbins, steel, 356 across, 21.5 kg each, keeps 0.42; "
        "bosom: 1 bobbin, steel, 356 across"
    )
    weights = part_weights(parts)
    assert weights["mass_from"].to_list() == ["weighed", "weighed elsewhere"]
    assert weights["share_from"].to_list() == ["weighed", "weighed elsewhere"]
    assert weights["weight_water_kg"].to_list() == pytest.approx([2 * 21.5 * 0.42, 21.5 * 0.42])


def test_a_chain_that_was_weighed_stands_by_the_metre_for_one_that_was_not() -> None:
    parts = parts_table("wing: chain, 13 across, 10 m, 39 kg each; bosom: chain, 13 across, 3 m")
    weights = part_weights(parts)
    assert weights["mass_air_kg"].to_list() == pytest.approx([39, 11.7])
    assert weights["mass_from"].to_list() == ["weighed", "weighed elsewhere"]


def test_chain_of_another_metal_is_worked_out_from_its_links() -> None:
    (row,) = part_weights(parts_table("bosom: chain, bronze, 13 across, 3 m")).to_dicts()
    assert row["mass_from"] == "chain geometry"
    # As DIN 766 in steel by geometry, 3.780 kg/m, times 8.70 over 7.85.
    assert row["mass_air_kg"] == pytest.approx(3 * 3.780 * 8.70 / 7.85, rel=1e-3)


@pytest.mark.parametrize(
    ("part", "kind", "material"),
    [
        ("rubber discs, 152 across", "disc", "rubber"),
        ("Tyre rubber spacers", "spacer", "tyre rubber"),
        ("wire rope", "wire", "steel"),
        ("grass rope", "rope", "coir"),
        ("chain", "chain", "steel"),
        ("bobbins", "bobbin", None),
        ("rockhopper discs, Solid  Rubber", "disc", "rubber"),
    ],
)
def test_the_words_of_the_trade_are_read(part: str, kind: str, material: str | None) -> None:
    (row,) = part_weights(parts_table(f"bosom: {part}")).to_dicts()
    assert (row["kind"], row["material"]) == (kind, material)


def test_the_order_of_the_parts_does_not_matter() -> None:
    parts = parts_table(next(rig.parts for rig in RIGS if rig.name == "rockhoppers with spacers"))
    versions = pl.DataFrame({"rig_version": ["a"], "ground_gear_m": [34.1]})
    for seed in range(3):
        shuffled = parts.sample(fraction=1, shuffle=True, seed=seed)
        assert_frame_equal(
            rig_weights(part_weights(shuffled), versions),
            rig_weights(part_weights(parts), versions),
        )
